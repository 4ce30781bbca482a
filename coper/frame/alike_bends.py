"""Whether two pieces are bent alike: as far, as tight, at the same places and the same way."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from coper.frame.piece import Piece
from coper.shapes.course import Stretch
from coper.tolerances import ALIKE_MM

ALIKE_DEG = 0.05
"""A protractor on a bent tube reads no finer."""


def bent_alike(piece: Piece, first: Piece, end_for_end: bool) -> bool:
    """Whether both have the same bends at the same places, whichever way each of them goes."""
    own, its = _bends(piece, end_for_end), _bends(first)
    return len(own) == len(its) and all(
        abs(_begins(piece, one, end_for_end) - _begins(first, other)) <= ALIKE_MM
        and abs(one.radius - other.radius) <= ALIKE_MM
        and abs(math.degrees(one.angle - other.angle)) <= ALIKE_DEG
        for one, other in zip(own, its, strict=True))


def bend_turns(piece: Piece, first: Piece, way: int, end_for_end: bool) -> tuple[float, ...]:
    """The turn in degrees that lays the first bend on the other's; none of a straight tube."""
    own, its = _bends(piece, end_for_end), _bends(first)
    return (_inside(own[0]) - way * _inside(its[0]),) if own and its else ()


def bends_lie_on(piece: Piece, first: Piece, turn: float, way: int, end_for_end: bool) -> bool:
    """Whether every bend goes to where the other's, turned by ``turn`` degrees, does."""
    return all(
        abs((_inside(one) - turn - way * _inside(other) + 180) % 360 - 180) <= ALIKE_DEG
        for one, other in zip(_bends(piece, end_for_end), _bends(first), strict=True))


def _bends(piece: Piece, end_for_end: bool = False) -> Sequence[Stretch]:
    bends = piece.tube.course.bends if piece.tube.course else ()
    return bends[::-1] if end_for_end else bends


def _begins(piece: Piece, bend: Stretch, end_for_end: bool = False) -> float:
    """From the piece's end to the bend, mm."""
    return piece.end.reach - bend.high if end_for_end else bend.low - piece.start.reach


def _inside(bend: Stretch) -> float:
    """Where in the section the bend's inside is, degrees from clock 0 towards clock 90."""
    return math.degrees(np.arctan2(bend.inward[1], bend.inward[0]))
