"""A regrind in words: the metal to take off, then why."""

from __future__ import annotations

from collections.abc import Iterator

from coper.joint.edge import even_clocks
from coper.joint.joint import Joint
from coper.joint.regrind.regrind import Cause, Regrind
from coper.joint.sides import clock_name
from coper.telling.cells import SHOWN_MM, gap_cells
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.joint import slide_words
from coper.units import format_angle, format_gap, format_mm

CLOCKS = 24
"""Rows of the table of metal."""


def readings_fact(found: Regrind) -> Fact:
    """The number of readings, and how good they are."""
    return Fact("readings",
                f"{found.readings.gap.size}, good to {format_mm(found.deviation)} each")


def metal_lines(joint: Joint, found: Regrind) -> Iterator[Line]:
    """The metal, what it does to the tube's length, and the likely causes; or that none goes."""
    if found.largest < SHOWN_MM:
        yield Fact("take off", "nothing: the end closes as it is")
        return
    yield Fact("take off", f"up to {format_gap(found.largest)} at clock "
               f"{clock_name(joint, found.largest_clock)}, along the tube",
               ("what a square cut leaves open on the outside stays open",)
               if found.edges.cut == "square" else ())
    yield Fact("seats", f"{format_gap(found.seats_deeper)} deeper after that")
    yield Fact("length", "the other end moves in by as much; the branch then sits "
               f"{slide_words(found.slide)}")
    yield _causes(joint, found)
    for one, other in found.alike:
        yield Caution(f"the readings hardly separate {one!r} from {other!r}: what to take off is "
                      "right, which of the two it is may not be; read at more clocks")
    yield _metal(joint, found)


def _causes(joint: Joint, found: Regrind) -> Grid:
    rows = tuple((_name(joint, found, cause), f"{cause.explains:.0%}", _size(cause))
                 for cause in found.causes)
    return Grid("The causes", ("cause", "explains", "size"), rows,
                "Likeliest first, each with the share of the readings that it explains.")


def _name(joint: Joint, found: Regrind, cause: Cause) -> str:
    if found.spot is None or not cause.cause.startswith("too little"):
        return cause.cause
    return f"too little taken at clock {clock_name(joint, found.spot)}"


def _size(cause: Cause) -> str:
    if cause.low is None or cause.high is None:
        return "cannot be known from these readings"
    amount, low, high = (_signed(value, cause.unit) for value in
                         (cause.amount, cause.low, cause.high))
    doubt = "" if cause.sure else "; may well be none"
    return f"{amount}, between {low} and {high}{doubt}"


def _signed(value: float, unit: str) -> str:
    words = format_angle(value) if unit == "deg" else format_mm(value)
    return words if words.startswith("-") else f"+{words}"


def _metal(joint: Joint, found: Regrind) -> Grid:
    clock = even_clocks(CLOCKS)
    rows = tuple((clock_name(joint, at), *gap_cells(remove))
                 for at, remove in zip(clock, found.at(clock), strict=True))
    return Grid("The metal", ("clock", "take off mm", "in"), rows,
                "What to take off, measured along the tube on its outside.")
