r"""A tube as it came out: what its length and its angle do to the end that is free.

::

    main
     |          as designed
     o--------------------------o  the free end's point
     | \ wider                    \
     |   \------------------------ o  as made: it moves by this

The tube is put home at one end and stands there as it was cut; the other end comes to where that
takes it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import ShapeError
from coper.frame.end import TubeEnd
from coper.frame.end_joint import end_joint
from coper.frame.piece import Piece
from coper.frame.stance import axis_near, passing
from coper.frame.tube import Which
from coper.units import format_angle, format_size

MOST_OFF_MM = 100.0
"""A tube that came out further off was measured elsewhere than from tip to tip, or is another."""

MOST_TURN_DEG = 30.0
"""An angle that came out further off was read from the other side, or is of another end."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class MadeTube(OneLine):
    """A tube as it came out.

    Attributes
    ----------
    piece : Piece
        As designed.
    seated : ``start`` or ``end``
        The end that stands where it was meant to.
    longer : float or None, mm
        Measured over all, less the design's; ``None`` where it was not measured.
    wider : float or None, degrees
        The angle measured at the seated end, less the design's.
    move : (3,) float, mm
        How far the other end's point moves, in the frame's axes.
    """

    piece: Piece
    seated: Which
    longer: float | None
    wider: float | None
    move: Floats

    @property
    def free(self) -> Which:
        """The end that moves."""
        return other_end(self.seated)

    @property
    def free_end(self) -> TubeEnd:
        """The same, as it is shaped."""
        return self.piece.end_at(self.free)

    @property
    def by(self) -> float:
        """How far it moves, mm."""
        return float(np.linalg.norm(self.move))


def other_end(which: Which) -> Which:
    """The end that is not ``which``."""
    return "end" if which == "start" else "start"


def seated_end(piece: Piece) -> Which:
    """The end that is put home first: the coped one, of two or none the start."""
    return "end" if not piece.start.stances and piece.end.stances else "start"


def design_angle(piece: Piece, which: Which) -> float:
    """The angle in degrees to the main that takes most of an end.

    Raises
    ------
    ShapeError
        Where the end seats on no main.
    """
    end = piece.end_at(which)
    if not end.stances or end.flat is not None:
        raise ShapeError(f"its {which} seats on no main, so it has no angle",
                         "leave the angle out, or name the other end", "angle")
    return end.stances[end_joint(piece.tube, end).main].angle


def made_tube(
    piece: Piece, length: float | None = None, angle: float | None = None,
    seated: Which | None = None,
) -> MadeTube:
    """The tube that measures ``length`` mm over all, and ``angle`` degrees at its ``seated`` end.

    Raises
    ------
    ShapeError
        Where it cannot be that tube, or an angle is of an end that seats on nothing.
    """
    home = seated or seated_end(piece)
    longer = None if length is None else length - piece.shaped
    if longer is not None and abs(longer) > MOST_OFF_MM:
        raise ShapeError(f"{format_size(round(length or 0.0, 2))} is no length of it: it is "
                         f"{format_size(round(piece.shaped, 2))} over all",
                         "measure from tip to tip along the tube", "length")
    wider = None if angle is None else angle - design_angle(piece, home)
    if wider is not None and abs(wider) > MOST_TURN_DEG:
        raise ShapeError(f"{format_angle(angle or 0.0)} is no angle of it: it is "
                         f"{format_angle(design_angle(piece, home))}",
                         "measure from the side of the main's end point", "angle")
    return MadeTube(piece, home, longer, wider, _move(piece, home, longer or 0.0, wider or 0.0))


def _move(piece: Piece, seated: Which, longer: float, wider: float) -> Floats:
    """How far the point of the other end moves (3,), mm.

    Derived: the tube turns by ``wider`` about the place where its axis passes the main's nearest,
    round the line square to both, from the main to the tube; then it grows along the way out of
    its free end.
    """
    tube = piece.tube
    home, far = tube.point(seated), tube.point(other_end(seated))
    out = -tube.way_in(other_end(seated))
    if not wider:
        return longer * out
    end = piece.end_at(seated)
    away = tube.way_in(seated)
    main = end.mains[end_joint(tube, end).main]
    square = np.cross(axis_near(main, home, away)[1], away)
    square /= np.linalg.norm(square)
    pivot, _ = passing(main, home, away)
    moved: Floats = (pivot + turned_about(square, far - pivot, wider)
                     + longer * turned_about(square, out, wider) - far)
    return moved


def turned_about(axis: Floats, vector: Floats, angle: float) -> Floats:
    """``vector`` (3,) turned by ``angle`` degrees, right-handed about the unit ``axis`` (3,).

    Rodrigues' formula: ``v cos a + (k x v) sin a + k (k . v)(1 - cos a)``.
    """
    turn = math.radians(angle)
    held: Floats = (vector * math.cos(turn) + np.cross(axis, vector) * math.sin(turn)
                    + axis * (axis @ vector) * (1 - math.cos(turn)))
    return held
