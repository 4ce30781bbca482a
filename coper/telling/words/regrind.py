"""A regrind in words: the metal to take off, then why."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coper.joint.edge import even_clocks
from coper.joint.fit.limits import Limit
from coper.joint.mountable import Mountable
from coper.joint.regrind.cause import Cause
from coper.joint.regrind.regrind import FITS_MM, Regrind
from coper.joint.sides import clock_name, clock_words
from coper.telling.cells import SHOWN_MM, gap_cells, gap_heads
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.joint import slide_words
from coper.units import format_angle, format_gap, format_short

CLOCKS = 24
"""Rows of the table of metal."""

SAME_DEG = 2.0
"""A row so near to where most goes stands for that too."""


def readings_fact(found: Regrind) -> Fact:
    """The number of readings, and how good they are."""
    return Fact("readings",
                f"{found.readings.gap.size}, good to {format_short(found.deviation)} each")


def limit_facts(found: Regrind, limit: Limit | None) -> Iterator[Line]:
    """The limit, whether the readings are within it, and whether the cut can be."""
    if limit is None:
        return
    largest = float(found.readings.gap.max())
    yield Fact("limit", limit.words())
    yield Fact("GOOD", "no reading is above the limit") if found.within(limit.mm) else Fact(
        "TOO OPEN", f"the largest reading is {format_short(largest - limit.mm)} above the limit")
    if found.own > limit.mm:
        yield Caution(f"the cut leaves {format_short(found.own)} by itself, more than the limit: "
                      "grinding cannot close it all round; another cut or saw is needed")


def metal_lines(joint: Mountable, found: Regrind, limit: Limit | None = None) -> Iterator[Line]:
    """The metal, what it does to the tube's length, and the likely causes; or that none goes."""
    if found.fits:
        yield Fact("take off", _nothing(found, limit))
    else:
        yield from _metal_facts(joint, found)
    if not found.touches:
        yield Caution("the end touches at none of these clocks: find the place between them that "
                      "holds it off, read there too, and dress that place first")
    if found.read_also:
        clocks = ", ".join(clock_words(at) for at in sorted(map(joint.counted, found.read_also)))
        before = "it is called good" if found.fits else "any metal goes"
        yield Caution(f"read also at clock {clocks}, where a gap goes unseen, and give all "
                      f"readings again before {before}")
    if found.by == "readings":
        yield Fact("why", "no error of the mounting explains the readings: "
                   "the metal follows the readings themselves")
    if found.fits:
        return
    if found.causes:
        yield _causes(joint, found)
    for one, other in found.alike:
        yield Caution(f"the readings hardly separate {one!r} from {other!r}: what to take off is "
                      "right, which of the two it is may not be; read at more clocks")
    yield metal_grid(joint, found)


def _nothing(found: Regrind, limit: Limit | None) -> str:
    if found.over < SHOWN_MM:
        return "nothing: the end closes as it is"
    if found.over <= FITS_MM or (limit is not None and found.within(limit.mm)):
        return "nothing: it fits, leave it"
    return "nothing: no grinding that these readings justify makes the largest gap smaller"


def _metal_facts(joint: Mountable, found: Regrind) -> Iterator[Fact]:
    deeper = format_gap(found.seats_deeper)
    stays = ("what the cut leaves open on the outside by itself stays open",)
    yield Fact("take off", f"up to {format_gap(found.largest)} at clock "
               f"{clock_name(joint, found.largest_clock)}, along the tube",
               stays if found.own >= SHOWN_MM else ())
    more = found.bevel_more(found.clock)
    if found.edges.bevels and np.nanmax(more) >= SHOWN_MM:
        at = float(found.clock[np.nanargmax(more)])
        yield Fact("bevel", "the inside of the wall goes back further than the outside: by up to "
                   f"{format_gap(float(np.nanmax(more)))} more at clock {clock_name(joint, at)}")
    yield Fact("gap", f"{format_short(found.before)} at the most now, "
               f"then {format_short(found.after)}")
    yield Fact("seats", f"{deeper} deeper after that")
    yield Fact("length", f"the other end comes {deeper} nearer to the main, then "
               f"{slide_words(found.slide)}")


def _causes(joint: Mountable, found: Regrind) -> Grid:
    rows = tuple((_name(joint, found, cause), f"{cause.explains:.0%}", _size(cause))
                 for cause in found.counted_causes(joint))
    return Grid("The causes", ("cause", "explains", "size"), rows,
                "Likeliest first, each with the share of the readings that it explains.")


def _name(joint: Mountable, found: Regrind, cause: Cause) -> str:
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
    words = format_angle(value) if unit == "deg" else format_short(value)
    return words if words.startswith("-") else f"+{words}"


def metal_grid(joint: Mountable, found: Regrind, count: int = CLOCKS) -> Grid:
    """What to take off at ``count`` clocks; where they are fewer, from the heel on.

    The place where most goes is among those few.
    """
    own = joint.counted(even_clocks(count))
    if count < CLOCKS:
        steps, most = even_clocks(count), (found.largest_clock - joint.heel_clock) % 360
        if found.largest and np.abs((steps - most + 180) % 360 - 180).min() > SAME_DEG:
            steps = np.sort(np.append(steps, most))
        own = (joint.heel_clock + steps) % 360
    rows = tuple((clock_name(joint, at), *gap_cells(remove))
                 for at, remove in zip(own.tolist(), found.at(own), strict=True))
    columns, note = ("clock", *gap_heads("take off")), "on its outside"
    if found.edges.bevels:
        rows = tuple((*row, *gap_cells(inside))
                     for row, inside in zip(rows, found.inside(own), strict=True))
        columns, note = (*columns, *gap_heads("inside")), (
            "on its outside, and at the inside of the wall: bevel it from the one to the other")
    return Grid("The metal", columns, rows, f"What to take off, measured along the tube {note}.")
