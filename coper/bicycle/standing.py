"""Wheels in their places, and whether they have room beside each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from coper.arrays import Point
from coper.bicycle.wheel import Wheel
from coper.errors import ShapeError
from coper.units import format_size


@dataclass(frozen=True, slots=True)
class StandingWheel:
    """A wheel in its place, and its centre (x, y, z), mm.

    It is ``rear`` or ``front`` in the middle plane, ``rear-left`` or ``rear-right`` beside it.
    """

    name: str
    wheel: Wheel
    at: Point

    @property
    def end(self) -> str:
        """At which end of the bicycle it is: ``rear`` or ``front``."""
        return self.name.partition("-")[0]


def check_apart(wheels: Sequence[StandingWheel]) -> None:
    """Refuse two wheels that run into each other.

    Their planes are parallel: they do where their circles overlap in side view and their tyres
    seen from above.
    """
    for one, other in combinations(wheels, 2):
        beside = abs(one.at[1] - other.at[1]) - (one.wheel.tyre + other.wheel.tyre) / 2
        flat = math.hypot(one.at[0] - other.at[0], one.at[2] - other.at[2])
        room = flat - one.wheel.radius - other.wheel.radius
        if room > 0 or beside > 0:
            continue
        if one.end == other.end:
            raise ShapeError(f"two wheels {format_size(abs(one.at[1] - other.at[1]))} apart, with "
                             f"tyres {format_size(one.wheel.tyre)} wide, stand in each other",
                             "measure between the middles of their tyres, or take it out where "
                             "one wheel runs in the middle", f"{one.end}_track")
        raise ShapeError(f"the two wheels overlap by {format_size(-room)}",
                         "check their sizes and where the two axles are")
