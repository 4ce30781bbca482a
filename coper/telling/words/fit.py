"""A fit-up in words: the gap, where the end touches, what to do about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.joint.edge import even_clocks
from coper.joint.fit.face import SAW
from coper.joint.fit.fit import Fit
from coper.joint.fit.limits import Limit
from coper.joint.fit.mount import Mounting
from coper.joint.fit.passes import Pass
from coper.joint.mountable import Mountable
from coper.joint.sides import clock_name
from coper.telling.cells import SHOWN_MM, gap_cells, gap_heads, short_cell
from coper.telling.grid import Grid
from coper.telling.lines import Fact, Line
from coper.telling.words.joint import slide_words
from coper.units import first_unit, format_angle, format_gap, format_length, format_short

CLOCKS = 16
"""Rows of the table."""


def cut_words(cut: str, saw: float | None, passes: Sequence[Pass] = ()) -> str:
    """How the end was cut; ``saw`` in mm, where one cuts, ``passes`` where it is moved."""
    if saw is None:
        return "saw, as the end's card sets it" if cut == SAW else cut
    offsets = " and ".join(format_short(one.offset) for one in passes)
    return f"saw or drum of {format_length(saw)}" + (f", offset {offsets}" if offsets else "")


def mounting_facts(errors: Mounting) -> Iterator[Fact]:
    """The errors of the mounting, if there are any."""
    said = [f"{name} {'+' if value >= 0 else ''}{words(value)}" for name, value, words in (
        ("angle", errors.angle, format_angle), ("clock", errors.clock, format_angle),
        ("offset", errors.offset, format_short)) if value]
    if said:
        yield Fact("mounted", f"off by {', '.join(said)}")


def verdict_facts(joint: Mountable, fit: Fit, limit: Limit | None, cure: str) -> Iterator[Fact]:
    """The largest gap and whether it is good; ``cure`` is what to do where it is not."""
    if fit.largest < SHOWN_MM:
        yield Fact("largest gap", "none: the end closes wherever it meets the main")
    else:
        yield Fact("largest gap", f"{format_gap(fit.largest)} at clock "
                   f"{clock_name(joint, fit.largest_clock)}")
    if limit is not None:
        yield Fact("limit", limit.words())
        yield Fact("GOOD", "no gap is above the limit") if fit.within(limit.mm) else Fact(
            "TOO OPEN", f"{format_short(fit.largest - limit.mm)} above the limit: {cure}")


def cure_words(joint: Mountable, fit: Fit, cut: str) -> str:
    """What to do about a gap that is too large."""
    if cut == "square":
        return "dress the inside edge back until the outside closes, or cut bevelled"
    touch = clock_name(joint, fit.contact_clock)
    dress = f"dress the end where it touches, at clock {touch}, and try again"
    return f"use another saw, or {dress}" if cut == "saw" else dress


def contact_facts(joint: Mountable, fit: Fit) -> Iterator[Line]:
    """Where the end touches first, and where it then sits."""
    yield Fact("touches", f"clock {clock_name(joint, fit.contact_clock)}, {_edge_words(fit)}")
    yield Fact("sits", slide_words(fit.slide))


def _edge_words(fit: Fit) -> str:
    """Which edge of the cut touches first."""
    wall = fit.seated.wall()
    if fit.contact_depth < wall / 4:
        return "the outside edge first"
    return "the inside edge first" if fit.contact_depth > 3 * wall / 4 else "inside the wall first"


def gap_table(joint: Mountable, fit: Fit) -> Grid:
    """The gap round the clock."""
    clock = even_clocks(CLOCKS)
    own = joint.counted(clock)
    outside, root = fit.at(own)
    rows = tuple((clock_name(joint, at), *gap_cells(gap), short_cell(clear))
                 for at, gap, clear in zip(own.tolist(), outside, root, strict=True))
    return Grid("The gap", ("clock", *gap_heads("outside"), f"root {first_unit()}"), rows,
                "Outside: what a feeler gauge measures; root: the clearance along the tube.")
