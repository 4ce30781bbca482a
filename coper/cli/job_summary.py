"""What a person reads on the terminal after ``coper job``."""

from __future__ import annotations

from collections.abc import Iterator

from coper.cli.cut_list_summary import cut_list_summary
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.stance import Stance
from coper.job.limits import shop_limit
from coper.joint.cope import EdgePoint
from coper.joint.sides import clock_words
from coper.tolerances import SQUARE_DEG
from coper.units import format_angle, format_length, format_mm
from coper.work.job import JobWork


def job_summary(work: JobWork) -> Iterator[str]:
    """The lines of the summary, tube by tube in the file's order."""
    if work.job.title:
        yield work.job.title
    if limit := shop_limit(work.job.shop):
        yield f"gap limit {limit.words()}"
    yield "lengths along a tube count from its start point; clocks are its own"
    for piece in work.pieces:
        yield ""
        yield from _piece(piece)
    yield from cut_list_summary(work.cut_list)
    yield ""
    yield from (f"! {caution}" for caution in work.cautions)


def _piece(piece: Piece) -> Iterator[str]:
    tube = piece.tube
    side = "" if tube.side == "centre" else f", {tube.side}"
    yield f"{tube.name}{side}: {tube.shape.words()}"
    way = ", along its centreline" if tube.shape.kind == "bent" else ""
    yield f"  length   {format_length(tube.length)} from point to point{way}"
    yield f"  blank    {format_length(piece.blank)}"
    for end in piece.ends:
        yield from _end(end)
    if piece.heels:
        yield f"  heels    {piece.heels.words}"
    if piece.taper:
        yield f"  taper    {piece.taper}"
    yield from (f"  ! {caution}" for caution in piece.cautions)


def _end(end: TubeEnd) -> Iterator[str]:
    label = f"  {end.which:<7}  "
    if not end.seats:
        yield f"{label}plain, across the axis at {format_mm(end.reach)}"
        return
    yield f"{label}{end.cut}, on {', '.join(_seat(seat) for seat in end.seats)}"
    yield f"{'':11}long point {_point(end.long_point)}, short point {_point(end.short_point)}"


def _seat(seat: Stance) -> str:
    side = "" if seat.side == "centre" else f" ({seat.side})"
    square = abs(seat.angle - 90) <= SQUARE_DEG
    return (f"{seat.name}{side} at {format_angle(seat.angle)}, offset {format_mm(seat.offset)}, "
            f"{'its end point' if square else 'heel'} at clock {clock_words(seat.heel_clock)}")


def _point(point: EdgePoint) -> str:
    return f"{format_mm(point.along)} at clock {clock_words(point.clock)}"
