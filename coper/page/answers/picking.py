"""A point that was picked in the picture: where it is, and what of a tube it may be made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from coper.arrays import Point
from coper.errors import CoperError
from coper.frame.tube import ENDS
from coper.job.job import Job
from coper.page.answers.boxes import Box, filled
from coper.page.answers.change import Change, job_in
from coper.page.answers.fields import shown_value
from coper.page.answers.tube_change import CORNER, tube_table
from coper.telling.words.place import place_words
from coper.units import lengths_in

NEW: Final = "the new tube"


@dataclass(frozen=True, slots=True)
class Spot:
    """A point that has a name: where it is, in words too, and whether the job itself gives it."""

    name: str
    at: Point
    where: str
    own: bool


@dataclass(frozen=True, slots=True)
class Use:
    """What a point may be made of a tube.

    Attributes
    ----------
    what : str
        In words: ``the start of rail``.
    holds : bool
        Whether it is that already.
    fields : tuple of Box
        The fields of the tube that make it so.
    wrong : tuple of str
        Why it could not be, where that was asked for.
    """

    what: str
    holds: bool
    fields: tuple[Box, ...]
    wrong: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Picked:
    """The point that was picked, and what it may be made of the tube ``tube``, or of a new one."""

    spot: Spot
    tube: str
    uses: tuple[Use, ...]


def spots(text: str) -> dict[str, Spot]:
    """Every point of a job that has a name; none where it does not load."""
    try:
        job = job_in(text)
    except CoperError:
        return {}
    with lengths_in(job.units):
        return {name: _spot(job, name, at) for name, at in job.named_points.items()}


def _spot(job: Job, name: str, at: Point) -> Spot:
    return Spot(name, at, place_words(at), name in job.points)


def picked_for(text: str, name: str, tube: str, change: Change | None = None) -> Picked | None:
    """A point picked for a tube in hand; ``None`` where the job has no such point, or no such tube.

    Parameters
    ----------
    text
        All of the file.
    name, tube
        The point and the tube.
    change
        What of the tube's fields could not be written, if anything.
    """
    spot, table = spots(text).get(name), tube_table(text, tube)
    if spot is None or not table:
        return None
    return Picked(spot, tube, (*_ends(name, tube, table, change),
                               *_corners(name, tube, table, change)))


def picked_new(text: str, name: str, chosen: Mapping[str, str]) -> Picked | None:
    """A point picked for a tube that is not there yet, of whose fields some are ``chosen``."""
    spot = spots(text).get(name)
    if spot is None:
        return None
    fields = {which: Box(f"{which}.pick", which, name, chosen.get(f"{which}.pick", ""))
              for which in ENDS}
    return Picked(spot, "", tuple(Use(f"the {which} of {NEW}", box.typed == box.was, (box,))
                                  for which, box in fields.items()))


def _ends(
    name: str, tube: str, table: Mapping[str, object], change: Change | None
) -> Iterator[Use]:
    form = filled(change, tube)
    for which in ENDS:
        end = table.get(which)
        at = end.get("at") if isinstance(end, dict) else None
        box = Box(f"{which}.pick", which, name, at if isinstance(at, str) else "")
        refused = form.box(box.name, which) if form.typed.get(box.name) == name else box
        yield Use(f"the {which} of {tube}", at == name, (box,), refused.wrong)


def _corners(
    name: str, tube: str, table: Mapping[str, object], change: Change | None
) -> Iterator[Use]:
    """Each corner of a tube that has some, and one more: all of them are written together."""
    corners = table.get("corners")
    found = [shown_value(one) for one in corners] if isinstance(corners, list) else []
    form, bend = filled(change, tube), shown_value(table.get("bend"))
    for number, was in enumerate((*found, "") if found else ()):
        key = f"{CORNER}{number}"
        fields = (*(Box(f"{CORNER}{other}", "", name if other == number else stands, stands)
                    for other, stands in enumerate((*found, ""))), Box("bend", "", bend, bend))
        what = f"corner {number + 1} of {tube}" if was else f"one more corner of {tube}"
        refused = form.box(key, what) if form.typed.get(key) == name else fields[number]
        yield Use(what, was == name, fields, refused.wrong)
