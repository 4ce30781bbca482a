"""What a person reads on the terminal after ``coper fit``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np

from coper.cli.tables import SHOWN_MM, gap_cell
from coper.joint.cautions import SAFETY
from coper.joint.edge import even_clocks
from coper.joint.fit.fit import Fit
from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.sides import clock_name
from coper.telling.words.joint import slide_words, title
from coper.units import format_angle, format_gap, format_length, format_mm
from coper.work.fit import FitOrder, FitWork

TOLD = 16
"""Clocks of the table."""


def fit_summary(work: FitWork, written: tuple[Path, ...]) -> Iterator[str]:
    """The lines of the summary, the verdict first."""
    order, joint, fit = work.order, work.mounted, work.fit
    yield title(order.joint)
    yield f"  cut          {cut_words(order)}"
    yield from _errors(order)
    yield from verdict(joint, fit, order.limit, cure_words(work))
    yield f"  touches      clock {clock_name(joint, fit.contact_clock)}, {edge_words(fit)}"
    yield f"  sits         {slide_words(fit.slide)}"
    yield from _table(joint, fit)
    yield from (f"  ! {caution}" for caution in SAFETY)
    yield from (f"wrote {path}" for path in written)


def cut_words(order: FitOrder) -> str:
    """How the end was cut."""
    return order.cut if order.saw is None else f"saw or drum of {format_length(order.saw)}"


def _errors(order: FitOrder) -> Iterator[str]:
    errors = order.errors
    said = [f"{name} {sign(value)}{words(value)}" for name, value, words in (
        ("angle", errors.angle, format_angle), ("clock", errors.clock, format_angle),
        ("offset", errors.offset, format_mm)) if value]
    if said:
        yield f"  mounted      off by {', '.join(said)}"


def sign(value: float) -> str:
    """A plus where a number has none of its own."""
    return "+" if value >= 0 else ""


def cure_words(work: FitWork) -> str:
    """What to do about a gap that is too large."""
    if work.order.cut == "square":
        return "dress the inside edge back until the outside closes, or cut bevelled"
    touch = clock_name(work.mounted, work.fit.contact_clock)
    dress = f"dress the end where it touches, at clock {touch}, and try again"
    return f"take another saw, or {dress}" if work.order.cut == "saw" else dress


def verdict(joint: Joint, fit: Fit, limit: Limit | None, cure: str) -> Iterator[str]:
    """The largest gap, and whether it is good."""
    if fit.largest < SHOWN_MM:
        yield "  largest gap  none: the end closes wherever it meets the main"
    else:
        yield (f"  largest gap  {format_gap(fit.largest)} at clock "
               f"{clock_name(joint, fit.largest_clock)}")
    if limit is not None:
        yield f"  limit        {limit.words()}"
        yield "  GOOD         no gap is above the limit" if fit.within(limit.mm) else (
            f"  TOO OPEN     {format_mm(fit.largest - limit.mm)} above the limit: {cure}")


def edge_words(fit: Fit) -> str:
    """Which edge of the cut touches first."""
    wall = fit.seated.wall()
    if fit.contact_depth < wall / 4:
        return "the outside edge first"
    return "the inside edge first" if fit.contact_depth > 3 * wall / 4 else "inside the wall first"


def _table(joint: Joint, fit: Fit) -> Iterator[str]:
    clock = even_clocks(TOLD)
    outside, root = fit.at(clock)
    yield "  gap          outside: what a feeler gauge meets; root: clearance along the tube"
    yield "    clock             outside                 root"
    for at, gap, clear in zip(clock, outside, root, strict=True):
        yield f"    {clock_name(joint, at):<12} {gap_cell(gap):<22} {_mm(clear):>10}"


def _mm(value: float) -> str:
    return "open" if np.isnan(value) else format_mm(value)
