r"""A rear axle whose two ends stand elsewhere than they were drawn.

::

    seen from above, left end further back:      seen from behind, left end higher:
      front of the wheel points to the left        top of the wheel leans to the right

``+`` is to the left, to the front and up, as in the frame's axes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from coper.arrays import OneLine, Point
from coper.bicycle.clearance.slot import Slot
from coper.bicycle.tracking.rear_end import LeftRight
from coper.bicycle.tracking.skew import Skew, stay_skew
from coper.tolerances import EVEN_MM


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Askew(OneLine):
    """The axle's two ends, moved.

    Attributes
    ----------
    left, right : (x, y, z), mm
        How far each end has moved.
    apart : float, mm
        Between the dropouts as drawn.
    radius : float or None, mm
        Of the rim, where a wheel is known.
    slot : Slot or None
        Of both dropouts.
    """

    left: Point
    right: Point
    apart: float
    radius: float | None = None
    slot: Slot | None = None

    @property
    def middle(self) -> Point:
        """How far the axle's middle has moved, mm."""
        x, y, z = ((a + b) / 2 for a, b in zip(self.left, self.right, strict=True))
        return x, y, z

    @property
    def width(self) -> float:
        """Between the dropouts now, mm."""
        return self.apart + self.left[1] - self.right[1]

    @property
    def skew(self) -> Skew:
        """Seen from above: as stays whose left one is longer by what the left end is behind."""
        return stay_skew(LeftRight(-self.left[0], -self.right[0]), self.apart)

    @property
    def front(self) -> float | None:
        """How far the rim's front stands to the left of the frame's middle, mm."""
        return None if self.radius is None else self.skew.swing(self.radius) + self.middle[1]

    @property
    def rear(self) -> float | None:
        """How far the rim's rear stands to the left of the frame's middle, mm."""
        return None if self.radius is None else -self.skew.swing(self.radius) + self.middle[1]

    @property
    def higher(self) -> float:
        """How much higher the left end stands than the right one, mm."""
        return self.left[2] - self.right[2]

    @property
    def lean(self) -> float:
        """How far the wheel's top leans to the left, degrees."""
        return -math.degrees(math.atan2(self.higher, self.apart))

    @property
    def top(self) -> float | None:
        """How far the rim's top stands to the left of the frame's middle, mm."""
        if self.radius is None:
            return None
        return self.radius * math.sin(math.radians(self.lean)) + self.middle[1]

    @property
    def slide(self) -> float | None:
        """How far the axle's left end slides to the rear in its slot to be square again, mm.

        Derived: the slot leads back by ``-x`` of its direction for every mm along it. ``None``
        without a slot, or where it stands upright.
        """
        if self.slot is None:
            return None
        back = -self.slot.rearward[0]
        return None if back < EVEN_MM else (self.left[0] - self.right[0]) / back

    @property
    def fits(self) -> bool:
        """Whether the left end alone can slide so far in its slot."""
        slide, slot = self.slide, self.slot
        return slide is not None and slot is not None and -slot.at <= slide <= slot.travel - slot.at

    @property
    def shared(self) -> bool:
        """Whether both ends can, each half as far and the right one the other way."""
        slide, slot = self.slide, self.slot
        return slide is not None and slot is not None and (
            abs(slide) / 2 <= min(slot.at, slot.travel - slot.at))
