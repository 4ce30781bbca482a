"""What a person reads on the terminal after ``coper tracking``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from coper.bicycle.tracking.doubts import doubts, good
from coper.bicycle.tracking.rear_end import Faces, LeftRight
from coper.bicycle.tracking.tracking import Check, Tracking
from coper.cli.tables import SHOWN_MM
from coper.telling.words.tracking import advice
from coper.units import format_angle, format_length, format_mm
from coper.work.tracking import CAUTIONS, TrackingWork


def tracking_summary(work: TrackingWork, written: tuple[Path, ...]) -> Iterator[str]:
    """The lines of the summary: readings, what they mean, the verdict, what to do."""
    found = work.found
    yield from _frame(found)
    yield from _edge(found)
    yield from _string(found)
    yield from _off(found)
    yield from _width(found)
    yield from _skew(found)
    yield from _rim(found)
    yield from _verdict(work)
    yield from (f"  ? {line}" for line in doubts(found))
    yield from (f"  > {line}" for line in advice(found))
    yield from (f"  ! {line}" for line in CAUTIONS)
    yield from (f"wrote {path}" for path in written)


def _frame(found: Tracking) -> Iterator[str]:
    rear = found.rear
    yield (f"head tube {format_length(rear.head_diameter)}, seat tube "
           f"{format_length(rear.seat_diameter)}, hub {format_length(rear.hub)}")
    yield (f"  along edge   head tube to seat tube {format_length(rear.head_to_seat)}, seat tube "
           f"to dropout {format_length(rear.seat_to_dropout)}")


def _edge(found: Tracking) -> Iterator[str]:
    should = f"should be {format_length(found.expected_edge)} on both sides"
    yield (f"  edge         read to the dropouts' {found.laid.face} faces: "
           f"{_read(found.readings.edge)}{should}")
    yield from _by(found.edge)


def _string(found: Tracking) -> Iterator[str]:
    if found.expected_string is not None:
        yield (f"  string       {_read(found.readings.string)}should be "
               f"{format_length(found.expected_string)} on both sides")
    yield from _by(found.string)


def _read(pair: LeftRight | None) -> str:
    return "" if pair is None else (
        f"left {format_mm(pair.left)}, right {format_mm(pair.right)}; ")


def _by(faces: Faces | None) -> Iterator[str]:
    if faces is not None:
        yield (f"               so the rear end stands {_sided(faces.off)}, and the dropouts "
               f"{format_mm(faces.width)} apart")


def _off(found: Tracking) -> Iterator[str]:
    if found.faces is None:
        return
    yield (f"  off          the rear end stands {_sided(found.faces.off)}, good to "
           f"{format_mm(found.faces.doubt)}")


def _width(found: Tracking) -> Iterator[str]:
    width, hub, moves = found.readings.width, found.rear.hub, found.moves
    if width is not None:
        way = "too wide" if width > hub else "too narrow"
        out = "as the hub" if abs(width - hub) < SHOWN_MM else (
            f"{format_length(abs(width - hub))} {way}")
        yield f"  width        {format_length(width)} between the dropouts: {out}"
    if moves is not None and max(abs(moves.left), abs(moves.right)) >= SHOWN_MM:
        yield (f"  to be true   left dropout {_sided(moves.left)}, right dropout "
               f"{_sided(moves.right)}")


def _skew(found: Tracking) -> Iterator[str]:
    skew = found.skew
    if skew is None:
        return
    if abs(skew.longer) < SHOWN_MM:
        yield "  stays        equal: the axle stands square"
        return
    side, way = ("left", "left") if skew.longer > 0 else ("right", "right")
    yield (f"  stays        the {side} one {format_length(abs(skew.longer))} longer: the wheel's "
           f"front points {format_angle(abs(skew.angle))} to the {way}")


def _rim(found: Tracking) -> Iterator[str]:
    if (rim := found.rim) is None:
        return
    if found.skew is None:
        yield f"  at the rim   {_sided(rim.middle)} all round, stays not measured"
        return
    lone = ", off not measured" if found.off is None else ""
    yield (f"  at the rim   in front, by the bracket, {_sided(rim.front)}; at the rear "
           f"{_sided(rim.rear)}{lone}")


def _verdict(work: TrackingWork) -> Iterator[str]:
    found = work.found
    if not found.checks:
        return
    limit = found.limit
    said = ", ".join(filter(None, (limit.process, limit.source)))
    yield f"  limit        {format_mm(limit.mm)} ({said})"
    for check in found.checks:
        yield f"    {check.name:<10} {format_mm(abs(check.amount)):>10}   {_good(check)}"
    if not found.within:
        yield "  OUT          above the limit"
    elif good(found):
        yield "  GOOD         within the limit"
    else:
        yield "  NOT SURE     within the limit, but the readings cannot all be right"


def _good(check: Check) -> str:
    return "good" if check.ok else "out"


def _sided(value: float) -> str:
    """A distance with its side."""
    if abs(value) < SHOWN_MM:
        return "in the middle"
    return f"{format_length(abs(value))} to the {'left' if value > 0 else 'right'}"
