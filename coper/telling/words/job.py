"""A shaped job in words, tube by tube."""

from __future__ import annotations

import math
from collections.abc import Iterator

from coper.bench.assembly.assembly import Assembly
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.stance import Stance
from coper.job.limits import shop_limit
from coper.job.shaped import ShapedJob
from coper.joint.cope import EdgePoint
from coper.joint.sides import clock_words
from coper.shapes.course import Course
from coper.shapes.words import tube_words
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.assembly import assembly_lines
from coper.telling.words.clash import clash_words
from coper.telling.words.cut_list import cut_list_lines
from coper.telling.words.piece import (
    flat_words,
    heel_place,
    heel_words,
    taper_words,
    zero_words,
)
from coper.telling.words.standing import stands_words, unlike_words
from coper.units import format_angle, format_length, format_short


def job_lines(shaped: ShapedJob, order: Assembly) -> Iterator[Line]:
    """Every tube in the file's order, the cut list, then the ``order`` of work."""
    job = shaped.job
    if job.title:
        yield job.title
    if limit := shop_limit(job.shop):
        yield f"gap limit {limit.words()}"
    yield ("lengths along a tube are measured from its start point; its clock grows clockwise, "
           "looking from start to end")
    yield ("an angle is that to the main's end point, an offset is signed as coper joint takes it; "
           "own clocks are those of the tube that is shaped")
    for piece in shaped.pieces:
        yield ""
        yield from piece_lines(piece)
    doubts = (*map(clash_words, shaped.clashes), *unlike_words(job.tubes, shaped.pieces))
    if doubts:
        yield ""
        yield from map(Caution, doubts)
    yield from cut_list_lines(shaped.cut_list)
    yield from assembly_lines(order)


def piece_lines(piece: Piece) -> Iterator[Line]:
    """One tube: its length and blank, how it lies, and both its ends."""
    tube = piece.tube
    side = "" if tube.side == "centre" else f", {tube.side}"
    stands = ", stands already: not cut" if tube.existing else ""
    yield f"{tube.name}{side}: {tube_words(tube.shape)}{stands}"
    way = ", along its centreline" if tube.is_bent else ""
    yield Fact("length", f"{format_length(tube.length)} from point to point{way}")
    if tube.course is not None:
        yield Fact("bends", _bent_words(tube.course))
    if not tube.existing:
        yield blank_fact(piece)
    yield Fact("clock 0", zero_words(tube))
    if lies := stands_words(tube):
        yield Fact("which way", lies)
    if not tube.existing:
        yield from map(end_fact, piece.ends)
    if piece.heels:
        yield Fact("heels", heel_words(piece.heels))
    if taper := taper_words(tube):
        yield Fact("taper", taper)
    yield from map(Caution, piece.cautions)


def _bent_words(course: Course) -> str:
    """How many bends, and how far each goes."""
    return ", ".join(f"{format_angle(math.degrees(bend.angle))} to {format_short(bend.radius)}"
                     for bend in course.bends)


def blank_fact(piece: Piece) -> Fact:
    """How long it is cut from stock."""
    return Fact("blank", f"{format_length(piece.blank)}{_left_on(piece)}")


def _left_on(piece: Piece) -> str:
    """What of the blank is left on for dressing."""
    if not piece.allowance:
        return ""
    return (f" to cut: {format_short(piece.shaped)}, and {format_short(piece.allowance)} more "
            "at each end")


def end_fact(end: TubeEnd) -> Fact:
    """How one end is cut, and where its two extremes are."""
    cap = f", closed by a cap of {format_short(end.cap)}" if end.cap else ""
    if not end.stances:
        return Fact(end.which, f"plain, cut straight across at {format_short(end.reach)}{cap}")
    how = (f"{end.cut}, on {', '.join(map(_seat_words, end.stances))}" if end.flat is None
           else f"{flat_words(end.flat)}{cap}")
    return Fact(end.which, how,
                (f"long point {_point_words(end.long_point)}, "
                 f"short point {_point_words(end.short_point)}",))


def _seat_words(seat: Stance) -> str:
    side = "" if seat.side == "centre" else f" ({seat.side})"
    return (f"{seat.name}{side} at {format_angle(seat.angle)}, offset "
            f"{format_short(seat.offset)}, {heel_place(seat)}")


def _point_words(point: EdgePoint) -> str:
    return f"{format_short(point.along)} at clock {clock_words(point.clock)}"
