"""What a bender has to know of a bent tube: where each bend begins, how far, and which way.

::

    |<-- straight -->|<-- arc -->|<-- straight -->|<-- arc -->| …      the blank, before it is bent
    0                begins                       begins
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from coper.arrays import OneLine
from coper.errors import CoperError
from coper.frame.piece import Piece
from coper.joint.facing import clock_facing
from coper.shapes.bending import plane_turns
from coper.shapes.bent import Bent
from coper.shapes.course import Course
from coper.shapes.shape import as_branch
from coper.units import format_size

QUARTER_DEG = 90.0
"""What the shop's stretch is given for."""


@dataclass(frozen=True, slots=True)
class Bend:
    """One bend, in the order from the blank's start.

    Attributes
    ----------
    straight : float, mm
        Before it: from the bend before, or from the blank's end.
    angle : float, degrees
    turn : float or None, degrees
        From the plane of the bend before, right-handed about the tube: clockwise looking from the
        start; 180 bends the other way. ``None`` for the first one.
    clock : float or None, degrees
        The tube's own clock on the inside of the bend; ``None`` of a bent shape, which has none.
    radius : float, mm
        Of the centreline.
    begins : float, mm
        From the blank's end, along the centreline.
    mark : float, mm
        The same on the blank, as the shop's bender stretches it.
    """

    straight: float
    angle: float
    turn: float | None
    clock: float | None
    radius: float
    begins: float
    mark: float


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class BendList(OneLine):
    """All bends of one piece.

    Attributes
    ----------
    piece : Piece
    bends : tuple of Bend
    straight : float, mm
        After the last bend, to the blank's end.
    blank : float, mm
        Its length along the centreline.
    needed : float, mm
        The same less what the shop's bender stretches.
    """

    piece: Piece
    bends: tuple[Bend, ...]
    straight: float
    blank: float
    needed: float


def bend_lists(pieces: Iterable[Piece], stretch: float = 0.0) -> tuple[BendList, ...]:
    """The bends of every bent piece; ``stretch`` in mm is what 90 degrees come out longer.

    Raises
    ------
    CoperError
        Where that is more than there is between two bends.
    """
    return tuple(_bend_list(piece, stretch) for piece in pieces
                 if piece.tube.is_bent and not piece.tube.existing)


def _bend_list(piece: Piece, stretch: float) -> BendList:
    bends = tuple(_of_course(piece, piece.tube.course, stretch) if piece.tube.course
                  else _of_arc(piece))
    arcs = sum(math.radians(bend.angle) * bend.radius for bend in bends)
    needed = piece.blank - stretch * sum(bend.angle for bend in bends) / QUARTER_DEG
    marks = [0.0, *(bend.mark for bend in bends), needed]
    if any(before > after for before, after in pairwise(marks)):
        raise CoperError(
            f"{format_size(stretch)} for 90 degrees is more than {piece.label} has from bend "
            "to bend",
            "bend a piece of known length by 90 degrees, and give what it came out longer",
            "shop.stretch")
    return BendList(piece, bends, piece.blank - arcs - sum(bend.straight for bend in bends),
                    piece.blank, needed)


def _of_course(piece: Piece, course: Course, stretch: float) -> Iterator[Bend]:
    branch = as_branch(piece.tube.shape)
    first = ended = piece.blank_ends[0]
    longer = 0.0
    turns = (None, *plane_turns(course))
    for part, turn in zip(course.bends, turns, strict=True):
        angle = math.degrees(part.angle)
        begins = part.low - first
        clock = clock_facing(branch, *part.inward.tolist())
        yield Bend(part.low - ended, angle, turn, clock, part.radius, begins, begins - longer)
        longer += stretch * angle / QUARTER_DEG
        ended = part.high


def _of_arc(piece: Piece) -> Iterator[Bend]:
    """A bent shape is all bend, from end to end."""
    shape = piece.tube.shape
    if isinstance(shape, Bent):
        angle = math.degrees(piece.blank / shape.radius)
        yield Bend(0.0, angle, None, None, shape.radius, 0.0, 0.0)
