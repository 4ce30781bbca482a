"""The station Measure: the numbers of a bicycle, what they give, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from coper.bicycle.before_after import BeforeAfter
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.measured import KEYS
from coper.bicycle.wheel import Wheel
from coper.drawing.svg import svg_element
from coper.errors import CoperError
from coper.job.edit import Edit
from coper.job.job import Job
from coper.job.schema import TomlTable
from coper.page.answers.boxes import NOT_WRITTEN, Box
from coper.page.answers.change import (
    Change,
    as_far,
    every_fault,
    faults_of,
    job_in,
    key_of,
    table_of,
    tables_in,
    title_and_units,
)
from coper.page.answers.fields import GROUPS, NAMES, Field, changes, said_length, shown_value
from coper.page.answers.newcomer import Need, examples, needs
from coper.sheets.bicycle_picture import bicycle_picture
from coper.telling.words.bicycle import measure_words, wheel_words
from coper.telling.words.plausible import job_doubts
from coper.units import format_angle, lengths_in
from coper.verbs.bicycle import bicycle

TABLE: Final = "bicycle"

LIVE: Final = 5
"""Measures that stand beside the picture: head and seat angle, bracket height, trail, wheelbase."""

PLACES: Final = {"head_bottom": "the place of the head tube"}
"""What a key that others stand in for is wanted for."""

WAITS: Final = "not kept yet: it waits for "
"""Of a field that another one has to be filled in for."""


@dataclass(frozen=True, slots=True)
class Measuring:
    """The station as it is shown.

    Attributes
    ----------
    title, units : str
    groups : tuple of (name, fields)
    picture : str
        An element of SVG; empty where nothing is known yet.
    numbers : tuple of (name, words)
        How the bicycle stands.
    wrong : tuple of str
        What is wrong with no field of it.
    asked : tuple of str
        What is asked about no field of it.
    needs : tuple of Need
        What numbers are still wanting, and for what.
    examples : tuple of str
        The numbers that are still those of the example that the job began as.
    """

    title: str
    units: str
    groups: tuple[tuple[str, tuple[Box, ...]], ...] = ()
    picture: str = ""
    numbers: tuple[tuple[str, str], ...] = ()
    wrong: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    needs: tuple[Need, ...] = ()
    examples: tuple[str, ...] = ()

    @property
    def refused(self) -> bool:
        """Whether a field holds what is not written."""
        return any(not field.kept for _, fields in self.groups for field in fields)


def changed(text: str, typed: Mapping[str, str], first: str = "") -> Change:
    """The text with what was typed, as far as the file still loads with it.

    What cannot be used stays out of the text and in its field. Numbers that need each other are
    tried together, then without those that are at fault, then one by one.

    Parameters
    ----------
    text
        All of the file.
    typed
        What stands in the fields, by key.
    first
        The key that was changed last: it is tried before the others.
    """
    wanted, unread = _wanted(text, typed, first)
    left = {key: typed[key] for key in unread}
    made, kept, faults = as_far(text, TABLE, wanted)
    left |= {edit.key: typed[edit.key] for edit in wanted if edit not in kept}
    return Change(made, left, (*unread.values(), *faults))


def _wanted(
    text: str, typed: Mapping[str, str], first: str
) -> tuple[list[Edit], dict[str, CoperError]]:
    """The edits that were asked for, and what could not be read at all by its key."""
    table, unread, edits = table_of(text, TABLE), dict[str, CoperError](), list[Edit]()
    for key in sorted(typed, key=lambda key: key != first):
        try:
            edits += changes(table, {key: typed[key]})
        except CoperError as error:
            unread[key] = error.at(f"{TABLE}.{key}")
    return edits, unread


def measuring(
    text: str, change: Change | None = None, tried: Bicycle | None = None
) -> Measuring:
    """The station of a job.

    Parameters
    ----------
    text
        All of the file.
    change
        What of the fields could not be written, if anything.
    tried
        The bicycle with what is tried on it.
    """
    typed = {} if change is None else change.typed
    faults = () if change is None else change.faults
    try:
        job = job_in(text)
    except CoperError as error:
        return _broken(text, typed, (*faults_of(error), *faults))
    if job.bicycle is None:
        return Measuring(job.title, job.units)
    with lengths_in(job.units):
        page = bicycle_picture(job.bicycle, job.measured, tried)
        said = {key: _said(getattr(job.measured, key), key) for key in KEYS}
        groups, wrong, asked = _groups(table_of(text, TABLE), typed, said, faults, job_doubts(job))
        numbers, more = _stands(job)
    return Measuring(job.title, job.units, groups, "" if page is None else svg_element(page),
                     numbers, (*wrong, *more), asked, needs=needs(job.measured),
                     examples=examples(text))


def _stands(job: Job) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """How the bicycle stands, and why that cannot be said where a tube cannot be."""
    try:
        found = bicycle(job).result
    except CoperError as error:
        return (), every_fault(error)
    stands = found.before if isinstance(found, BeforeAfter) else found
    return tuple(measure_words(stands.measures))[:LIVE], ()


def _broken(
    text: str, typed: Mapping[str, str], faults: Sequence[CoperError]
) -> Measuring:
    """The station of a file that does not load, which an editor has left so."""
    table, (title, units) = tables_in(text).get(TABLE), title_and_units(text)
    if not isinstance(table, dict):
        return Measuring(title, units, wrong=tuple(map(str, faults)))
    groups, wrong, _ = _groups(table, typed, {}, faults, ())
    return Measuring(title, units, groups, wrong=wrong)


def _groups(
    table: TomlTable, typed: Mapping[str, str], said: Mapping[str, str],
    faults: Sequence[CoperError], doubts: Sequence[str],
) -> tuple[tuple[tuple[str, tuple[Box, ...]], ...], tuple[str, ...], tuple[str, ...]]:
    """Every field, what is wrong with none of them, and what is asked of none of them."""
    wrong: dict[str, list[str]] = {}
    for fault in faults:
        key = key_of(fault, TABLE, KEYS)
        words = str(CoperError(fault.fault, fault.cure)) if key else str(fault)
        wrong.setdefault(key, []).append(words)
    asked: dict[str, list[str]] = {}
    for doubt in doubts:
        place, _, words = doubt.partition(", ")
        key = place.removeprefix(f"{TABLE}.")
        asked.setdefault(key if key in KEYS else "", []).append(words if key in KEYS else doubt)

    awaited = " and ".join(PLACES.get(key, NAMES[key]) for key in wrong
                           if key not in ("", *typed))

    def shown(field: Field) -> Box:
        key = field.key
        was = shown_value(table.get(key))
        stands, why, more = typed.get(key, was), wrong.get(key, []), asked.get(key, [])
        if not stands and key not in typed:  # it is wanted for another, and nothing is wrong in it
            why, more = [], [*why, *more]
        elif stands != was and not why and awaited:
            more = [WAITS + awaited, *more]
        elif stands != was and not why:
            why = [NOT_WRITTEN]
        return Box(key, field.name, stands, was, field.how, tuple(why),
                   said=said.get(key, "") if stands == was else "", asked=tuple(more))

    groups = tuple((name, tuple(map(shown, fields))) for name, fields in GROUPS)
    return groups, tuple(wrong.get("", ())), tuple(asked.get("", ()))


def _said(value: object, key: str) -> str:
    """A value in mm and inches, as the grammar understood it."""
    match value:
        case Wheel():
            return wheel_words(value)
        case float() if key.endswith("angle"):
            return format_angle(value)
        case float():
            return said_length(value)
        case (float(x), float(z)):
            return f"{said_length(x)} ahead; {said_length(z)} above"
    return ""
