"""Places on a straight axis of the frame: so far along it, at a height, or clear of a wheel."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from coper.arrays import Point
from coper.bicycle.standing import StandingWheel
from coper.errors import CoperError
from coper.shapes.bent import Bent
from coper.shapes.read import Shape
from coper.shapes.shape import BranchShape, half_width
from coper.tolerances import PARALLEL_DEG
from coper.units import first_unit, format_number, format_size

LEVEL = math.radians(PARALLEL_DEG)
"""A direction that rises by less a mm runs level."""


@dataclass(frozen=True, slots=True)
class StraightAxis:
    """An axis from ``start`` in the unit direction ``way``; a tube's ends after ``length`` mm.

    ``length`` is ``None`` for an axis of the bicycle, which goes on.
    """

    start: Point
    way: Point
    length: float | None = None

    def at(self, by: float) -> Point:
        """The point ``by`` mm from the start."""
        (x, y, z), (dx, dy, dz) = self.start, self.way
        return x + by * dx, y + by * dy, z + by * dz


@lru_cache(maxsize=64)  # a job has few shapes, and each is asked about for every tube of it
def half_where_it_begins(shape: Shape) -> float:
    """From a tube's axis to the furthest of its outside, where it begins, mm; of a plate 0."""
    if isinstance(shape, Bent):
        return shape.diameter / 2
    return half_width(shape, 0.0) if isinstance(shape, BranchShape) else 0.0


def axis_between(start: Point, end: Point) -> StraightAxis | None:
    """A tube's axis, or ``None`` where its two points are one."""
    length = math.dist(start, end)
    if length == 0:
        return None
    x, y, z = ((b - a) / length for a, b in zip(start, end, strict=True))
    return StraightAxis(start, (x, y, z), length)


def at_height(axis: StraightAxis, height: float) -> float:
    """How far along, mm, the axis is at z = ``height`` mm.

    Raises
    ------
    CoperError
        Where it runs level.
    """
    start, rise = axis.start[2], axis.way[2]
    if abs(rise) < LEVEL:
        raise CoperError(f"the axis runs level at z = {format_number(round(start, 2))}",
                         "say how far along it, with by", "height")
    return (height - start) / rise


def clear_of(axis: StraightAxis, wheel: StandingWheel, gap: float) -> float:
    """How far along, mm, the axis stands ``gap`` mm off the tread, seen from the side.

    A tube that runs across the frame there, such as a bridge, meets the wheel's plane in the same
    place of the side view: its axis is that far from the tread.

    Raises
    ------
    CoperError
        Where no place on the tube is so near, or two are.
    """
    reach, (dx, _, dz) = wheel.wheel.radius + gap, axis.way
    x, z = axis.start[0] - wheel.at[0], axis.start[2] - wheel.at[2]
    flat, middle = dx * dx + dz * dz, -(x * dx + z * dz)
    if flat < LEVEL**2:
        raise CoperError("the axis runs across the frame: all of it is as far from the wheel",
                         "say how far along it, with by", "clear_of")
    nearest = math.hypot(x + middle / flat * dx, z + middle / flat * dz)
    if nearest > reach:
        raise CoperError(f"the axis stays {format_size(round(nearest - wheel.wheel.radius, 2))} "
                         f"off the {wheel.end} wheel", "make the gap larger, or use by", "gap")
    half = math.sqrt((reach - nearest) * (reach + nearest) / flat)
    return _on_tube(axis, wheel, (middle / flat - half, middle / flat + half))


def _on_tube(axis: StraightAxis, wheel: StandingWheel, places: tuple[float, float]) -> float:
    """The one of two places, mm, that is on the tube."""
    length = math.inf if axis.length is None else axis.length
    on = [place for place in places if 0 <= place <= length]
    if len(on) == 1:
        return on[0]
    both = " and ".join(format_number(round(place, 2)) for place in places)
    both += f" {first_unit()}"
    if on:
        raise CoperError(f"two places are so far from the {wheel.end} wheel: {both} along",
                         "say which one, with by", "clear_of")
    raise CoperError(f"the places so far from the {wheel.end} wheel, {both} along, are not on "
                     "it", "make the tube longer, or the gap another", "gap")
