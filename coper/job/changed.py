"""A job with a change of its bicycle: for a look, or written into its file to stay.

The bracket, the head tube and the seat axis stay where they are in the frame's axes. What of the
table [bicycle] was measured with the old fork, wheels or rear end would move them when it is read
again, and is replaced by what fixes them without.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from coper.arrays import OneLine
from coper.bicycle.before_after import MOVED_MM
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.change import Change, changed
from coper.bicycle.measured import LEVEL, Measured
from coper.bicycle.measures import measure
from coper.bicycle.wheel import Wheel
from coper.errors import CoperError
from coper.job.edit import Edit, edited, with_edits
from coper.job.job import Job
from coper.job.read import job_of, job_tables, parse_job
from coper.job.schema import TomlTable
from coper.job.source import BYTE_ORDER_MARK
from coper.job.toml_value import TomlValue, length_value
from coper.tolerances import EVEN_MM

TABLE: Final = "bicycle"

GIVEN: Final = {"fork_length": "", "rake": "", "front_wheel": "rake", "rear_wheel": "chain_stay"}
"""Keys of a change that are keys of the table, each with the one that it stands behind if new."""

REDUNDANT: Final = ("front_centre", "wheelbase", "height", "axle_back")
"""Lengths that follow from others, and were measured with the old fork, wheels or rear end."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Kept(OneLine):
    """A change as it is written.

    Attributes
    ----------
    before, after : Job
        As read from the old text and from the new one.
    old : table
        The keys of the old text's bicycle, as they are written.
    edits : tuple of Edit
        What of them is different.
    """

    before: Job
    after: Job
    old: TomlTable
    edits: tuple[Edit, ...]


def changed_job(job: Job, change: Change) -> Job:
    """The job as it would be read from a file that has the change; itself where there is none.

    Raises
    ------
    CoperError
        Where the change cannot be made; ``where`` is its name, or what of the job it breaks.
    """
    if not change.asked:
        return job
    bicycle, table = _changed(job, change), job_tables(job.text)
    tables = with_edits(table, TABLE, _edits(job, bicycle, change))
    try:
        after = job_of(tables)
    except CoperError as error:
        raise error.at("with this change") from error
    return replace(_checked(after, bicycle), file=job.file, text=job.text, change=change)


def kept_job(job: Job, change: Change) -> Kept:
    """The job with the change written into its text.

    Raises
    ------
    CoperError
        As :func:`changed_job`, or where the text's bicycle cannot be edited.
    """
    bicycle, old = _changed(job, change), _table(job_tables(job.text))
    edits = tuple(edit for edit in _edits(job, bicycle, change)
                  if edit.value is None or edit.value != old.get(edit.key))
    bare = job.text.removeprefix(BYTE_ORDER_MARK)
    mark = job.text[:len(job.text) - len(bare)]
    text = mark + edited(bare, TABLE, edits)
    try:
        after = parse_job(text)
    except CoperError as error:
        raise error.at("with this change") from error
    return Kept(job, _checked(after, bicycle), old, edits)


def _table(tables: TomlTable) -> TomlTable:
    table = tables[TABLE]
    return table if isinstance(table, dict) else {}


def _changed(job: Job, change: Change) -> Bicycle:
    if job.bicycle is None:
        raise CoperError("missing, and the change is of it",
                         "add it, such as [bicycle] with drop and chain_stay", TABLE)
    return changed(job.bicycle, change)


def _checked(after: Job, wanted: Bicycle) -> Job:
    """The job itself; refused where its bicycle is another than the one that was wanted."""
    found = {} if after.bicycle is None else after.bicycle.points
    if found.keys() == wanted.points.keys() and all(
            abs(one - other) <= MOVED_MM for name, point in wanted.points.items()
            for one, other in zip(point, found[name], strict=True)):
        return after
    raise CoperError("no keys that coper knows leave the frame as it stands with this change",
                     "give drop, chain_stay and head_bottom, and try again", TABLE)


def _edits(job: Job, after: Bicycle, change: Change) -> Iterator[Edit]:
    """What of the table becomes different."""
    before, measured = job.bicycle or Bicycle(), job.measured
    settled = [*_head_edits(job, after), *_rear_edits(job, after, change)]
    yield from settled
    for key, behind in GIVEN.items():
        value = getattr(change, key)
        if value is not None:
            yield Edit(key, _value(value, job.units), behind)
    done = {edit.key for edit in settled}
    for key in measured.any_of(*REDUNDANT):
        if key not in done and (_decides(measured, key) or _stale(key, before, after)):
            yield Edit(key, None)


def _head_edits(job: Job, after: Bicycle) -> Iterator[Edit]:
    """The head tube's place in the frame's axes, where the wheels gave it."""
    place, head = job.measured.place, after.parts.head
    if place in LEVEL and head is not None:
        yield Edit("head_bottom", [_derived(at, job.units) for at in head.bottom], place)


def _rear_edits(job: Job, after: Bicycle, change: Change) -> Iterator[Edit]:
    """The rear axle's place in the frame's axes, where it moves or the bracket's height gave it."""
    old, new = (job.bicycle or Bicycle()).parts.rear, after.parts.rear
    if old is None or new is None:
        return
    if abs(old.axle[1] - new.axle[1]) > EVEN_MM or not job.measured.has("drop"):
        drop = (_derived(new.axle[1], job.units) if change.drop is None
                else length_value(change.drop, job.units))
        yield Edit("drop", drop, "height")
    if change.chain_stay is not None:
        yield Edit("chain_stay", length_value(change.chain_stay, job.units), "axle_back")
    elif abs(old.axle[0] - new.axle[0]) > EVEN_MM and not job.measured.has("chain_stay"):
        yield Edit("axle_back", _derived(-new.axle[0], job.units))


def _derived(mm: float, unit: str) -> float | int | str:
    """A length that was worked out, to a tenth of the accuracy that coper promises."""
    return length_value(mm, unit, EVEN_MM)


def _value(given: float | Wheel, unit: str) -> TomlValue:
    if not isinstance(given, Wheel):
        return length_value(given, unit)
    return given.size or {"radius": length_value(given.radius, unit),
                          "tyre": length_value(given.tyre, unit)}


def _decides(measured: Measured, key: str) -> bool:
    """Whether the key placed the head tube or the rear axle over the old wheels."""
    if key == "height":
        return not measured.has("drop")
    return key == measured.place


def _stale(key: str, before: Bicycle, after: Bicycle) -> bool:
    """Whether a length that only agreed with the others does so no longer."""
    old, new = (_follows(key, one) for one in (before, after))
    return old is None or new is None or abs(old - new) > MOVED_MM


def _follows(key: str, bicycle: Bicycle) -> float | None:
    """What the others give for a redundant length, mm."""
    parts = bicycle.parts
    match key:
        case "front_centre":
            return None if parts.front_axle is None else math.hypot(*parts.front_axle)
        case "axle_back":
            return None if parts.rear is None else -parts.rear.axle[0]
        case "height":
            return None if bicycle.ground is None else bicycle.ground.bracket_height
    return measure(bicycle).wheelbase
