"""The two ends of the tube in hand: where each is, what it may seat on, how else it may be cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.errors import CoperError
from coper.frame.tube import Which
from coper.job.job import Job
from coper.job.seats import seat_offers
from coper.page.answers.boxes import Box, Choices, Filled
from coper.page.answers.change import job_in, table_of, tables_in
from coper.page.answers.fields import shown_value
from coper.page.answers.tube_change import ON
from coper.telling.words.seat import offer_words
from coper.units import format_number, lengths_in

REMEMBERED: Final = 32

AS_TYPED: Final = "as typed above"
"""The choice of a point that has no name."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A tube that an end may seat on: its tick, and what the cope would be."""

    tick: Box
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EndShown:
    """An end as it is shown.

    Attributes
    ----------
    which : str
    at : Box
        Its point in words.
    pick : Box or None
        The same by its name; none where the job has no point with a name.
    seats : tuple of Seat
    ways : tuple of Box
        How else it may be cut.
    point : str
        The point of the job that it is at; empty where that has no name, or is the bicycle's.
    """

    which: Which
    at: Box
    pick: Box | None
    seats: tuple[Seat, ...]
    ways: tuple[Box, ...]
    point: str


def end_shown(
    text: str, job: Job | None, name: str, which: Which, table: Mapping[str, object], form: Filled
) -> EndShown:
    """An end of a tube.

    Parameters
    ----------
    text
        All of the file.
    job
        What it describes; ``None`` where it does not load.
    name, which
        The tube and its end.
    table
        What the file says of the tube.
    form
        What stands in its fields.
    """
    end = table.get(which)
    own = end if isinstance(end, dict) else {}
    at = own.get("at")
    picked = at if isinstance(at, str) else ""
    existing = table.get("existing") is True
    choices = point_choices(text, picked)
    return EndShown(
        which,
        form.box(f"{which}.at", "its point", shown_value(at),
                 "a name, or three numbers: ahead, to the left, up"),
        form.box(f"{which}.pick", "or pick one", picked, choices=choices)
        if len(choices) > 1 else None,
        () if existing or job is None else tuple(_seats(text, name, which, own, form)),
        () if existing else tuple(_ways(text, name, which, table, own, form)),
        picked if picked in table_of(text, "points") else "")


def _seats(
    text: str, name: str, which: Which, own: Mapping[str, object], form: Filled
) -> Iterator[Seat]:
    on = own.get("on")
    names = on if isinstance(on, list) else []
    first = f"{which}.{ON}"
    typed = tuple(key.removeprefix(first) for key in form.typed if key.startswith(first))
    for main, words in _offers(text, name, which, typed):
        yield Seat(form.tick(f"{which}.{ON}{main}", main, main in names), words)


@lru_cache(maxsize=REMEMBERED)
def _offers(
    text: str, name: str, which: Which, also: tuple[str, ...]
) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The tubes near an end and those ``also``, each with what the cope would be."""
    job = job_in(text)
    try:
        with lengths_in(job.units):
            return tuple((offer.main.name, tuple(offer_words(offer)))
                         for offer in seat_offers(job, name, which, also))
    except CoperError:  # said of the whole job
        return ()


def _ways(
    text: str, name: str, which: Which, table: Mapping[str, object], own: Mapping[str, object],
    form: Filled,
) -> Iterator[Box]:
    """How else it may be cut than on a tube."""
    def box(key: str, label: str, how: str = "", choices: Choices = (), was: str = "") -> Box:
        return form.box(f"{which}.{key}", label, was or shown_value(own.get(key)), how, choices)

    yield box("cut", "on a tube, the wall is cut", choices=(("bevelled", "bevelled"),
                                                            ("square", "square")),
              was=shown_value(own.get("cut")) or "bevelled")
    yield box("mitre", "mitred with", "the end of another tube at the same point",
              _partners(text, name, own.get("mitre")))
    if table.get("mirror") is True:
        yield form.tick(f"{which}.twin", "mitred with its own twin", own.get("twin"))
    yield box("face", "cut along a face", "the way the cut looks, as 1, 1, 0")
    yield box("back", "cut off short", "how far short of its point, straight across")
    yield box("cap", "closed by a cap", "its thickness")


def _partners(text: str, name: str, was: object) -> Choices:
    tubes = tables_in(text).get("tubes")
    names = [one for one in tubes if one != name] if isinstance(tubes, dict) else []
    if isinstance(was, str) and was not in names:
        names.append(was)
    return (("", "nothing"), *((one, one) for one in names))


def point_choices(text: str, picked: str = "") -> Choices:
    """Every point of a job that has a name, and where it is."""
    try:
        job = job_in(text)
    except CoperError:
        points = tables_in(text).get("points")
        names = list(points) if isinstance(points, dict) else []
        found = [(name, name) for name in names]
    else:
        given = job.points | job.named_points  # its own first
        with lengths_in(job.units):
            found = [(name, f"{name}: {', '.join(format_number(round(part, 1)) for part in at)}")
                     for name, at in given.items()]
    if picked and all(picked != name for name, _ in found):
        found.append((picked, picked))
    return (("", AS_TYPED), *found)
