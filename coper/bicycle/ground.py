"""How a bicycle stands on its two wheels, and what the ground then shows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coper.errors import ShapeError
from coper.units import format_size, plain

Flat = tuple[float, float]
"""A point of the middle plane or a direction in it: x and z."""


@dataclass(frozen=True, slots=True)
class Ground:
    """The ground in the frame's axes.

    ::

        tilt above 0:               __-- x of the frame: its front stands high
                            bracket o
                                    | bracket_height
        ____________________________|____ ground, forward is to the right

    Attributes
    ----------
    tilt : float, degrees
        From the ground to the frame's x axis, above 0 where the front stands higher.
    bracket_height : float, mm
        The frame's origin above the ground.
    """

    tilt: float
    bracket_height: float

    @property
    def along(self) -> Flat:
        """The unit direction of the ground, forward."""
        lean = math.radians(self.tilt)
        return math.cos(lean), -math.sin(lean)

    @property
    def up(self) -> Flat:
        """The unit direction square to the ground, upward."""
        x, z = self.along
        return -z, x

    def height(self, point: Flat) -> float:
        """How far a point (x, z) of the frame is above the ground, mm."""
        return self.bracket_height + _dot(point, self.up)

    def ahead(self, point: Flat) -> float:
        """How far a point (x, z) is ahead of the bracket, along the ground, mm."""
        return _dot(point, self.along)

    def angle(self, angle: float) -> float:
        """On the ground, an angle from the horizontal at the back of the frame, degrees."""
        return angle - self.tilt


def _dot(one: Flat, other: Flat) -> float:
    return one[0] * other[0] + one[1] * other[1]


def stand(rear: Flat, rear_radius: float, front: Flat, front_radius: float) -> Ground:
    """The ground that touches two wheels from below.

    Derived: with ``n`` the ground's normal, both axles are their radius above it, so
    ``(front - rear) . n = front_radius - rear_radius``; the line from axle to axle rises above
    the ground by the angle whose sine is that over its length.

    Raises
    ------
    ShapeError
        Where the front wheel is not ahead of the rear one, or one lies within the other.
    """
    x, z = front[0] - rear[0], front[1] - rear[1]
    apart, rise = math.hypot(x, z), front_radius - rear_radius
    if x <= 0 or abs(rise) >= apart:
        raise ShapeError(f"the front axle is {format_size(x)} ahead of the rear one and "
                         f"{format_size(z)} above it: no ground touches both wheels",
                         "check where the two axles are")
    tilt = math.degrees(math.asin(rise / apart) - math.atan2(z, x))
    if abs(tilt) > MOST_TILT_DEG:
        raise ShapeError(f"on its wheels the frame would lean {plain(abs(tilt))}°",
                         "check the wheels and where the two axles are")
    return Ground(tilt, rear_radius - _dot(rear, Ground(tilt, 0.0).up))


MOST_TILT_DEG = 45.0
"""A frame that tips further than this out of its own axes was measured wrong."""


def trail(radius: float, head_angle: float, rake: float) -> float:
    """How far the front wheel touches behind the steering axis, along the ground, mm.

    ``R / tan H - rake / sin H`` with ``H`` on the ground; derived: the axis passes ``rake / sin H``
    ahead of the axle at its height and runs ``R / tan H`` further forward down to the ground.
    """
    lean = math.radians(head_angle)
    return (radius * math.cos(lean) - rake) / math.sin(lean)
