"""The wheels as circles on the table; two that stand over each other are drawn as one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from coper.bench.layout.table import FlatTable
from coper.bicycle.standing import StandingWheel
from coper.tolerances import TOUCH_MM
from coper.units import format_size


@dataclass(frozen=True, slots=True)
class Circle:
    """A wheel on the table: its name, its centre, its radius and its middle's height, mm."""

    name: str
    at: tuple[float, float]
    radius: float
    height: float = 0.0


def circle_of(wheel: StandingWheel, table: FlatTable) -> Circle:
    """The circle of a wheel."""
    x, y, height = table.placed(np.array(wheel.at)).tolist()
    return Circle(wheel.name, (x, y), wheel.wheel.radius, height)


def rims(wheels: tuple[Circle, ...]) -> tuple[Circle, ...]:
    """The circles to draw: wheels that stand over each other are one, with both names."""
    over: dict[tuple[tuple[float, float], float], list[Circle]] = {}
    for wheel in wheels:
        over.setdefault((wheel.at, wheel.radius), []).append(wheel)
    return tuple(replace(same[0], name=" and ".join(wheel.name for wheel in same))
                 for same in over.values())


def wheel_cautions(wheels: tuple[Circle, ...]) -> Iterator[str]:
    """Circles that are not all on the table, and wheels that would be below its top."""
    for wheel in rims(wheels):
        for axis, line in ((0, "left end"), (1, "front edge")):
            over = wheel.radius - wheel.at[axis]
            if over > TOUCH_MM:
                yield (f"The {wheel.name} wheel's circle reaches {format_size(round(over, 1))} "
                       f"over the {line}: only what lies on the table is drawn.")
    for wheel in wheels:
        if wheel.height < 0:
            yield (f"The middle of the {wheel.name} wheel is "
                   f"{format_size(round(-wheel.height, 1))} below the table's top: lay the frame "
                   "out without it.")
