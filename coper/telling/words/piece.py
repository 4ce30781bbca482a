"""A tube and its two ends in words."""

from __future__ import annotations

from coper.frame.flat_cut import FlatCut
from coper.frame.piece import Heels
from coper.frame.stance import Stance
from coper.frame.tube import Tube
from coper.joint.sides import clock_words
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.tolerances import SQUARE_DEG
from coper.units import format_angle, format_number, format_size, plain

ALIKE_DEG = 0.05
"""Clocks are shown to a tenth of a degree: two heels nearer than half of it are in line."""


def zero_words(tube: Tube) -> str:
    """Where the tube's clock 0 is; of one with corners, before its first bend."""
    return f"{_zero_side(tube)}{'' if tube.course is None else ', before the first bend'}"


def _zero_side(tube: Tube) -> str:
    side = "the top" if tube.beside_y else "the left side"
    turn = (tube.turn + 180) % 360 - 180
    if abs(turn) < ALIKE_DEG:
        return side
    if 180 - abs(turn) < ALIKE_DEG:
        return "the underside" if tube.beside_y else "the right side"
    way = "clockwise" if turn > 0 else "anticlockwise"
    return f"{plain(round(abs(turn), 1))}° {way} of {side}, looking from start to end"


def flat_words(flat: FlatCut) -> str:
    """How a flat end is cut."""
    with_what = {"mitre": f"mitred with {flat.partner}", "twin": f"mitred with {flat.partner}",
                 "face": "cut along its face"}[flat.how]
    return f"{with_what}, {format_angle(flat.from_square)} from square"


def heel_place(seat: Stance) -> str:
    """The shaped tube's clock of the heel, or where it has none the main's end that is there."""
    clock = clock_words(seat.heel_clock)
    if abs(seat.angle - 90) <= SQUARE_DEG:
        return f"own clock {clock} on the side of {seat.name}'s end point"
    return f"heel at own clock {clock}"


def heel_words(heels: Heels) -> str:
    """Where the end's heel stands, seen from the start's."""
    between = heels.between
    start, end = ("main + line" if square else "heel" for square in heels.square)
    both = f"the {start}s of both ends" if start == end else (
        f"the start's {start} and the end's {end}")
    if min(between, 360 - between) < ALIKE_DEG:
        return f"{both} are in line"
    if abs(between - 180) < ALIKE_DEG:
        return f"{both} are on opposite sides"
    way = "clockwise" if between < 180 else "anticlockwise"
    turn = plain(round(min(between, 360 - between), 1))
    other = "" if start == end else f" {start}"
    return (f"the end's {end} stands {turn}° {way} from the start's{other}, "
            "looking from start to end")


def taper_words(tube: Tube) -> str | None:
    """Which end of a taper is which; ``None`` where both are alike."""
    match tube.shape:
        case Tapered(start, end) as shape:
            thick = "start" if start > end else "end"
            here, there = (2 * float(shape.radius(along)) for along in (0.0, tube.length))
            return (f"the thick end is the {thick}: {format_size(round(here, 2))} at the start "
                    f"point, {format_size(round(there, 2))} at the end point{_first_words(shape)}")
        case TaperedOval(major, minor, end) as shape:
            return (f"the oval end, {format_number(major)} by {format_size(minor)}, is the start; "
                    f"towards the end it becomes round, {format_size(end)}{_first_words(shape)}")
    return None


def _first_words(shape: Tapered | TaperedOval) -> str:
    """Where its first size stands, unless that is the start point."""
    if not shape.first_at:
        return ""
    return f"; its first size stands {format_size(round(shape.first_at, 2))} from the start point"
