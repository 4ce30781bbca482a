r"""An axle that stands askew, because one stay is longer than the other.

::

        front of the rim            the longer left stay puts the left end of the axle further
         /                          back: seen from above, the wheel's front points to the left
        / ) skew
       /
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from coper.bicycle.tracking.rear_end import LeftRight


@dataclass(frozen=True, slots=True)
class Skew:
    """Stays of unequal length, both measured fore and aft from places that match.

    Attributes
    ----------
    longer : float, mm
        Left stay less right stay.
    apart : float, mm
        Between the two ends that they hold.
    """

    longer: float
    apart: float

    @property
    def angle(self) -> float:
        """How far the wheel's front points to the left, degrees: ``atan(longer / apart)``."""
        return math.degrees(math.atan2(self.longer, self.apart))

    def swing(self, radius: float) -> float:
        """How far the rim's front stands to the left of the axle's middle, mm; its rear, right."""
        return radius * self.longer / math.hypot(self.longer, self.apart)


def stay_skew(stays: LeftRight, apart: float) -> Skew:
    """The skew of stays of these lengths, mm."""
    return Skew(stays.left - stays.right, apart)
