r"""A string from one dropout round the head tube and back to the other, read at the seat tube.

::

    outer face o___
               |    ``---___  gap
               |       (   )``---___ ( )     the gap is square to the middle plane,
               |        ___---```            beside the middle of the seat tube
    outer face o---```

The string runs over the dropouts' outer faces. It is a straight line from each face to where it
touches the head tube; each side's gap so tells where its own face stands. To first order (a head
tube thin against its distance) the two gaps differ by ``2 off (1 - d / L)``, d from dropout to seat
tube and L to the head tube.
"""

from __future__ import annotations

import math

from coper.bicycle.tracking.rear_end import READING_MM, Faces, LeftRight, RearEnd
from coper.errors import CoperError

BENT_STRING = "read again; where the string lies on the seat tube, use a straight edge instead"
"""How to mend a gap of 0 or below."""


def tangent_slope(stand: float, ahead: float, radius: float) -> float:
    """How much a line falls towards the middle plane for each mm forward.

    The line starts ``stand`` mm from the middle plane and touches, on the same side, a circle of
    ``radius`` mm whose middle lies ``ahead`` mm further on in that plane. Derived: with the normal
    ``(sin t, cos t)`` of the line, ``stand cos t - ahead sin t = radius``, and the slope is
    ``tan t``.
    """
    return math.tan(math.acos(radius / math.hypot(stand, ahead)) - math.atan2(ahead, stand))


def string_gap(rear: RearEnd, outer: float) -> float:
    """The gap beside the seat tube, mm, with the outer face ``outer`` mm from the middle plane."""
    slope = tangent_slope(outer, rear.reach, rear.head_radius)
    return outer - slope * rear.seat_to_dropout - rear.seat_radius


def string_stand(rear: RearEnd, gap: float) -> float:
    """How far the outer face stands from the middle plane, mm, by the gap beside the seat tube."""
    beside = gap + rear.seat_radius
    slope = tangent_slope(beside, rear.head_to_seat, rear.head_radius)
    return beside + slope * rear.seat_to_dropout


def string_uncertainty(rear: RearEnd) -> float:
    """How far a face may be wrong by the reading of its gap, mm: ``READING_MM / (1 - d / L)``."""
    return READING_MM * rear.reach / rear.head_to_seat


def expected_gap(rear: RearEnd) -> float | None:
    """What both gaps should be, mm.

    ``None`` where the dropout's thickness is not known, or where the string would lie on the seat
    tube.
    """
    if rear.thickness is None:
        return None
    gap = string_gap(rear, rear.hub / 2 + rear.thickness)
    return gap if gap > 0 else None


def string_faces(rear: RearEnd, readings: LeftRight) -> Faces:
    """Where the inner faces stand, from the gaps of both sides.

    Raises
    ------
    CoperError
        Where a gap is 0 or below, so that the string is bent, or the thickness is not known.
    """
    if rear.thickness is None:
        raise CoperError("missing, and the string runs over the dropouts' outer faces",
                         "give the thickness of a dropout's plate, such as 5", "dropout thickness")
    for side, gap in (("left", readings.left), ("right", readings.right)):
        if not gap > 0:
            raise CoperError(f"no gap on the {side}, so the string is bent round the seat tube",
                             BENT_STRING, "string")
    left, right = (string_stand(rear, gap) - rear.thickness
                   for gap in (readings.left, readings.right))
    return Faces(LeftRight(left, right), string_uncertainty(rear))
