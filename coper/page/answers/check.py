"""The station Check, clearance: the room round wheels, cranks and heels, and where it is least."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.bicycle.clearance.clearance import Clearances
from coper.bicycle.clearance.drive import Drive
from coper.errors import CoperError
from coper.job.job import Job
from coper.page.answers.boxes import Box
from coper.page.answers.change import Change, every_fault, faults_of, job_in
from coper.page.answers.drive import GROUPS, SETTINGS, Wanted, said, wanted
from coper.page.answers.frame_view import Marked
from coper.page.answers.near import near_places
from coper.page.answers.settings import set_to, shown
from coper.page.answers.words import Block, blocks
from coper.telling.lines import Line
from coper.telling.words.clearance import wrong_facts
from coper.telling.words.layout import layout_grids
from coper.units import lengths_in
from coper.verbs.answer import Answer
from coper.verbs.clearance import clearance
from coper.verbs.layout import layout
from coper.verbs.options import size

NO_WHEELS: Final = (
    "This frame has no wheels, cranks or heels to keep clear of. What there is to check: that no "
    "two tubes run through each other, which the picture marks, and that it lies straight, by the "
    "diagonals on the table.")

REMEMBERED: Final = 8


@dataclass(frozen=True, slots=True)
class GroupShown:
    """Fields that are measured together, and what they are for."""

    name: str
    gives: str
    fields: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class Checking:
    """The station as it is shown.

    Attributes
    ----------
    title, units : str
    groups : tuple of GroupShown
        No fields where there is nothing to keep clear of.
    marked : tuple of Marked
        The nearest places, for the picture.
    fouls : tuple of str
        What is wrong with the bicycle.
    good : bool
        Whether it was checked and nothing is.
    blocks : tuple of Block
        What the verb says.
    wanted : tuple of Wanted
        What is not checked for want of numbers.
    wrong : tuple of str
        Why there is no answer.
    limit, limit_wrong : str
        The smallest gap that is still good, as it was typed, and why it cannot be used.
    sentence : str
        What there is to check of a frame that is no bicycle.
    """

    title: str
    units: str
    groups: tuple[GroupShown, ...] = ()
    marked: tuple[Marked, ...] = ()
    fouls: tuple[str, ...] = ()
    good: bool = False
    blocks: tuple[Block, ...] = ()
    wanted: tuple[Wanted, ...] = ()
    wrong: tuple[str, ...] = ()
    limit: str = ""
    limit_wrong: str = ""
    sentence: str = ""


@lru_cache(maxsize=REMEMBERED)
def _cleared(text: str, limit: float | None) -> Answer[Clearances]:
    return clearance(job_in(text), limit)


def changed(text: str, typed: Mapping[str, str]) -> Change:
    """The text with what was typed, as far as it still loads with it."""
    return set_to(text, typed, SETTINGS)


def checking(text: str, limit: str = "", change: Change | None = None) -> Checking:
    """The station of a job.

    Parameters
    ----------
    text
        All of the file.
    limit
        The smallest gap that is still good, as it was typed; empty for none.
    change
        What of the fields could not be written, if anything.
    """
    try:
        job = job_in(text)
    except CoperError as error:
        fields, wrong = shown(text, SETTINGS, change, faults_of(error), {})
        return Checking("", "mm", _groups(fields), wrong=wrong, limit=limit)
    if job.bicycle is None and job.drive == Drive():
        return _no_wheels(job)
    mm, limit_wrong = _limit(job, limit)
    with lengths_in(job.units):
        fields, wrong = shown(text, SETTINGS, change, (), said(job))
    groups, wants = _groups(fields), tuple(wanted(text))
    try:
        answer = _cleared(text, mm)
    except CoperError as error:
        return Checking(job.title, job.units, groups, wanted=wants, limit=limit,
                        limit_wrong=limit_wrong, wrong=(*wrong, *every_fault(error)))
    with lengths_in(job.units):
        marked = tuple(near_places(answer.result, job.bicycle, mm))
        fouls = tuple(f"{one.name}: {one.words}" for one in wrong_facts(answer.result, mm))
    return Checking(job.title, job.units, groups, marked, fouls, answer.ok,
                    blocks(answer.lines()), wants, wrong, limit, limit_wrong)


def marked(text: str, limit: str = "") -> tuple[Marked, ...]:
    """The nearest places alone, for a picture that is turned; none where there is no answer."""
    try:
        return checking(text, limit).marked
    except CoperError:
        return ()


def _groups(fields: Mapping[str, Box]) -> tuple[GroupShown, ...]:
    return tuple(GroupShown(group.name, group.gives,
                            tuple(fields[each.field] for each in group.settings))
                 for group in GROUPS)


def _limit(job: Job, typed: str) -> tuple[float | None, str]:
    """The limit in mm, and why there is none where something was typed."""
    if not typed.strip():
        return None, ""
    try:
        with lengths_in(job.units):
            return size(typed), ""
    except CoperError as error:
        return None, str(error)


def _no_wheels(job: Job) -> Checking:
    """A frame that is no bicycle: its diagonals, where it can be laid out."""
    try:
        found = layout(job).result
    except CoperError as error:
        return Checking(job.title, job.units, sentence=NO_WHEELS, wrong=every_fault(error))
    with lengths_in(job.units):
        grids: list[Line] = [grid for grid in layout_grids(found) if grid.head == "Diagonals"]
    return Checking(job.title, job.units, sentence=NO_WHEELS, blocks=blocks(grids))
