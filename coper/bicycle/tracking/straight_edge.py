r"""A straight edge laid along head tube and seat tube, read at the dropout on each side.

::

    inner face:  the edge passes between       outer face:  blocks on both tubes hold the edge
    the dropouts                               outside the dropout
         ||                                    ================================== edge
         ||  } reading                            } reading   []             []   blocks
    ==================== edge                    ||          (  )           (  )
             (  )    (  )                        ||
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from coper.bicycle.tracking.rear_end import READING_MM, Faces, LeftRight, RearEnd
from coper.errors import CoperError, ShapeError
from coper.units import format_number, format_size, shown_up

DropoutFace = Literal["inner", "outer"]


@dataclass(frozen=True, slots=True)
class StraightEdge:
    """What is laid on the tubes.

    Attributes
    ----------
    spacer : float, mm
        Thickness of the two equal blocks between tubes and edge; 0 for none.
    thickness : float, mm
        Of the edge, where a reading to the inner face is taken from its far side; 0 where it is
        taken from the side that lies on the tubes.
    """

    spacer: float = 0.0
    thickness: float = 0.0

    def __post_init__(self) -> None:
        for value, where in ((self.spacer, "spacer"), (self.thickness, "edge thickness")):
            if not (math.isfinite(value) and value >= 0):
                raise ShapeError(f"{format_size(value)} cannot be a thickness",
                                 "give how thick it is, or 0", where)


@dataclass(frozen=True, slots=True)
class LaidEdge:
    """The edge where it passes the dropout.

    Attributes
    ----------
    edge : StraightEdge
    on_tubes : float, mm
        From the middle plane to the side that lies on the tubes, abreast of the dropout.
    face : ``inner`` or ``outer``
        The face of the dropout that is read to.
    shift : float, mm
        From the dropout's inner face to the face that is read to.
    """

    edge: StraightEdge
    on_tubes: float
    face: DropoutFace
    shift: float = 0.0

    @property
    def stand(self) -> float:
        """From the middle plane to the side that is read from, abreast of the dropout, mm."""
        return self.on_tubes + (self.edge.thickness if self.face == "inner" else 0.0)

    def reading(self, inner: float) -> float:
        """What is read where the inner face stands ``inner`` mm from the middle plane."""
        face = inner + self.shift
        return face - self.stand if self.face == "inner" else self.stand - face

    def faces(self, readings: LeftRight) -> Faces:
        """Where the inner faces stand by the readings of both sides."""
        way = 1 if self.face == "inner" else -1
        left, right = (self.stand + way * one - self.shift
                       for one in (readings.left, readings.right))
        return Faces(LeftRight(left, right), READING_MM)


def edge_rise(rear: RearEnd) -> float:
    """How much further from the middle plane the edge stands for each mm forward.

    Derived: the edge is the common outer tangent ``n . p = c`` of two circles on the middle plane,
    so ``nx x + r`` is ``c`` at both tubes, ``nx = (r_seat - r_head) / head_to_seat``, and the edge
    rises by ``-nx / ny``: a head tube thicker than the seat tube makes it run inward to the rear.
    Equal blocks under it add to both radii and change nothing.
    """
    nx = (rear.seat_radius - rear.head_radius) / rear.head_to_seat
    return -nx / math.sqrt(1 - nx * nx)


def edge_stand(rear: RearEnd, spacer: float) -> float:
    """From the middle plane to the edge's side on the tubes, abreast of the dropout, mm.

    Derived: with the normal of :func:`edge_rise`, ``c = nx seat_to_dropout + r_seat + spacer``, and
    at the dropout, x = 0, ``y = c / ny``; ``1 / ny`` is ``sqrt(1 + rise^2)``.
    """
    rise = edge_rise(rear)
    return (rear.seat_radius + spacer) * math.hypot(1, rise) - rise * rear.seat_to_dropout


def lay(rear: RearEnd, edge: StraightEdge) -> LaidEdge:
    """The edge at the dropout, and the face that it is read to.

    Raises
    ------
    CoperError
        Where it would run into the dropout, or the dropout's thickness is needed and not known, or
        a far side is given for an edge that stands outside the dropouts.
    """
    stand, inner = edge_stand(rear, edge.spacer), rear.hub / 2
    if stand + edge.thickness <= inner:
        return LaidEdge(edge, stand, "inner")
    if rear.thickness is None:
        raise CoperError("missing, and the straight edge stands as far out as the dropout",
                         "give the thickness of a dropout's plate, such as 5", "dropout thickness")
    outer = inner + rear.thickness
    if stand < outer:
        raise CoperError(
            f"the straight edge would run into the dropout: it stands "
            f"{format_size(round(stand, 2))} from the middle, the dropout from "
            f"{format_number(inner)} to {format_size(outer)}",
            "leave the blocks out, or use blocks of "
            f"{format_size(shown_up(edge.spacer + outer - stand, 0))} or more", "spacer")
    if edge.thickness:
        raise CoperError("outside the dropouts the reading starts from the side of the edge that "
                         "faces them, so its thickness does not count",
                         "leave it out, and read from that side", "edge thickness")
    return LaidEdge(edge, stand, "outer", rear.thickness)
