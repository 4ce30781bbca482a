"""What a bicycle measures as it stands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.bicycle.bicycle import Bicycle, Parts
from coper.bicycle.ground import Flat, Ground, trail
from coper.errors import CoperError
from coper.frame.tube import Tube
from coper.shapes.lines import Lines


@dataclass(frozen=True, slots=True)
class Measures:
    """A bicycle on the ground; ``None`` where its numbers do not give it.

    Attributes
    ----------
    head_angle, seat_angle : float or None, degrees
        From the ground at the back.
    bracket_height, trail, wheelbase : float or None, mm
    drop : float or None, mm
        The rear axle above the bracket, in the frame's axes.
    tilt : float or None, degrees
        Of the frame's x axis, above 0 where its front stands higher than the frame's numbers say.
    standover : float or None, mm
        The top tube's upper side at its middle, above the ground.
    """

    head_angle: float | None = None
    seat_angle: float | None = None
    bracket_height: float | None = None
    trail: float | None = None
    wheelbase: float | None = None
    drop: float | None = None
    tilt: float | None = None
    standover: float | None = None


def measure(bicycle: Bicycle, tubes: Iterable[Tube] = ()) -> Measures:
    """What ``bicycle`` measures; ``tubes`` give the standover."""
    parts, ground = bicycle.parts, bicycle.ground
    drop = None if parts.rear is None else parts.rear.axle[1]
    if ground is None:
        return Measures(drop=drop)
    return Measures(
        None if parts.head is None else ground.angle(parts.head.angle),
        None if parts.seat_angle is None else ground.angle(parts.seat_angle),
        ground.bracket_height,
        _trail(parts, ground),
        _wheelbase(parts, ground),
        drop,
        ground.tilt,
        _standover(bicycle, ground, tubes),
    )


def _trail(parts: Parts, ground: Ground) -> float | None:
    if parts.head is None or parts.fork is None or parts.fork.wheel is None:
        return None
    return trail(parts.fork.wheel.radius, ground.angle(parts.head.angle), parts.fork.rake)


def _wheelbase(parts: Parts, ground: Ground) -> float | None:
    if parts.rear is None or parts.front_axle is None:
        return None
    return ground.ahead(parts.front_axle) - ground.ahead(parts.rear.axle)


NEAR_AXIS_MM = 60.0
"""An end this near to the seat or the steering axis is on that tube: lugs and sleeves included."""

IN_MIDDLE_MM = 1.0
"""A tube whose two points are no further from the middle plane lies in it."""


def _standover(bicycle: Bicycle, ground: Ground, tubes: Iterable[Tube]) -> float | None:
    """The highest tube between the seat and the steering axis, at its middle."""
    axes = [bicycle.axes.get(name) for name in ("seat-axis", "head-axis")]
    lines = [np.array(axis) for axis in axes if axis is not None]
    if len(lines) < len(axes):
        return None
    heights = [_top(tube, ground) for tube in tubes
               if _spans(tube, *lines) or _spans(tube, *lines[::-1])]
    return max((height for height in heights if height is not None), default=None)


def _spans(tube: Tube, first: Floats, last: Floats) -> bool:
    """Whether a tube of the middle plane runs from the axis ``first`` to the axis ``last``.

    Each axis is (2, 3): a point in mm, and its unit direction.
    """
    ends = ((tube.start, first), (tube.end, last))
    return all(abs(point[1]) <= IN_MIDDLE_MM and
               np.linalg.norm(np.cross(point - at, along)) <= NEAR_AXIS_MM
               for point, (at, along) in ends)


def _top(tube: Tube, ground: Ground) -> float | None:
    """Where a plumb line through the tube's middle enters it from above, over the ground, mm."""
    middle = tube.middle
    x, z = ground.up
    plumb = Lines(middle, np.array((x, 0.0, z)))
    try:
        above = float(tube.as_main.first_entry(tube.pose.lines_inward(plumb)))
    except CoperError:  # a shape that nothing can seat on does not answer where a line enters it
        return None
    flat: Flat = (float(middle[0]), float(middle[2]))
    return None if np.isnan(above) else ground.height(flat) + above
