"""What a person reads on the terminal after ``coper regrind``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from coper.cli.tables import SHOWN_MM, gap_cell
from coper.joint.cautions import SAFETY
from coper.joint.edge import even_clocks
from coper.joint.joint import Joint
from coper.joint.regrind.regrind import Cause, Regrind
from coper.joint.sides import clock_name
from coper.telling.words.joint import title
from coper.units import format_angle, format_gap, format_length, format_mm
from coper.work.regrind import RegrindWork

TOLD = 24
"""Clocks of the table."""


def regrind_summary(work: RegrindWork, written: tuple[Path, ...]) -> Iterator[str]:
    """The lines of the summary, the metal first, then why."""
    joint, found = work.order.joint, work.found
    yield title(joint)
    yield f"  readings     {found.readings.gap.size}, good to {format_mm(found.deviation)} each"
    if found.largest < SHOWN_MM:
        yield "  take off     nothing: the end closes as it is"
    else:
        yield from _metal(joint, found)
        yield from _length(found)
        yield from _causes(joint, found)
        yield from _table(joint, found)
    yield from (f"  ! {caution}" for caution in SAFETY)
    yield from (f"wrote {path}" for path in written)


def _metal(joint: Joint, found: Regrind) -> Iterator[str]:
    yield (f"  take off     up to {format_gap(found.largest)} at clock "
           f"{clock_name(joint, found.largest_clock)}, along the tube")
    if found.edges.cut == "square":
        yield "               what a square cut leaves open on the outside stays open"


def _length(found: Regrind) -> Iterator[str]:
    way = "further out than" if found.slide > 0 else "further in than"
    yield f"  seats        {format_gap(found.seats_deeper)} deeper after that"
    yield ("  length       the other end comes as much nearer to the main, then "
           f"{format_length(abs(found.slide))} {way} the design puts it")


def _causes(joint: Joint, found: Regrind) -> Iterator[str]:
    yield "  causes       likeliest first; the share of the readings that each explains"
    for cause in found.causes:
        yield f"    {_name(joint, found, cause):<42} {cause.explains:>5.0%}  {_size(cause)}"
    for one, other in found.alike:
        yield (f"  ! the readings hardly tell {one!r} from {other!r}: what to take off holds, "
               "which of the two it is may not; read at more clocks")


def _name(joint: Joint, found: Regrind, cause: Cause) -> str:
    if found.spot is None or not cause.cause.startswith("too little"):
        return cause.cause
    return f"too little taken at clock {clock_name(joint, found.spot)}"


def _size(cause: Cause) -> str:
    if cause.low is None or cause.high is None:
        return "cannot be told from these readings"
    amount, low, high = (_signed(value, cause.unit) for value in
                         (cause.amount, cause.low, cause.high))
    doubt = "" if cause.sure else "; may well be none"
    return f"{amount}, between {low} and {high}{doubt}"


def _signed(value: float, unit: str) -> str:
    told = format_angle(value) if unit == "deg" else format_mm(value)
    return told if told.startswith("-") else f"+{told}"


def _table(joint: Joint, found: Regrind) -> Iterator[str]:
    clock = even_clocks(TOLD)
    yield "  metal        to take off, along the tube, on the outside"
    for at, remove in zip(clock, found.at(clock), strict=True):
        yield f"    {clock_name(joint, at):<12} {gap_cell(remove)}"
