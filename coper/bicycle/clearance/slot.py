"""The dropout's slot: where the axle may stand."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coper.arrays import Point
from coper.bicycle.ground import Flat

AS_DRAWN = "drawn"
SLOT_FRONT = "front of slot"
SLOT_REAR = "rear of slot"


@dataclass(frozen=True, slots=True)
class Slot:
    """A straight slot in the middle plane, from its front end to the rear.

    ::

        rear end                    front end
            o---------x----------------o        angle: above the horizontal, going to the rear
                      axle as drawn, ``at`` mm from the front end

    Attributes
    ----------
    travel : float, mm
        How far the axle can move in it.
    angle : float, degrees
    at : float, mm
    """

    travel: float
    angle: float
    at: float

    @property
    def rearward(self) -> Flat:
        """Its unit direction (x, z), from the front end to the rear."""
        angle = math.radians(self.angle)
        return -math.cos(angle), math.sin(angle)

    def axle(self, drawn: Point, at: float) -> Point:
        """The axle ``at`` mm from the front end, where it is ``drawn`` in its own place."""
        (x, z), step = self.rearward, at - self.at
        return drawn[0] + step * x, drawn[1], drawn[2] + step * z

    def places(self, drawn: Point) -> dict[str, Point]:
        """The axle at both ends and where it is drawn, by the name of the place."""
        return {SLOT_FRONT: self.axle(drawn, 0.0), AS_DRAWN: drawn,
                SLOT_REAR: self.axle(drawn, self.travel)}
