"""Two marks for each axis, so that it can be drawn on the table with a rule alone.

::

    far line    ----------x-------------      struck square across the table
                         /             |
    left end   |        /              |  right line
               |       /               |
    front edge ===========x============       marks: so far along the line that they stand on
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from coper.arrays import Floats
from coper.tolerances import PARALLEL_DEG, TOUCH_MM

Line = Literal["front edge", "left end", "far line", "right line"]
_LINES: tuple[tuple[Line, Line], tuple[Line, Line]] = (
    ("left end", "right line"), ("front edge", "far line"))

SAME_PLACES = 2
"""Axes whose marks agree to so many decimals of a mm are one line, such as those of two twins."""


@dataclass(frozen=True, slots=True)
class AxisMark:
    """A mark on one of the four straight lines.

    Attributes
    ----------
    line : str
    at : (from the left end, from the front edge), mm
    """

    line: Line
    at: tuple[float, float]

    @property
    def distance(self) -> float:
        """Along the line: from the left end, or from the front edge; mm."""
        return self.at[0] if self.line in _LINES[1] else self.at[1]


@dataclass(frozen=True, slots=True)
class AxisMarks:
    """An axis drawn on the table: its short name, whose it is, and the two marks to join."""

    key: str
    names: tuple[str, ...]
    marks: tuple[AxisMark, AxisMark]


def axis_marks(
    point: Floats, way: Floats, width: float, depth: float
) -> tuple[AxisMark, AxisMark] | None:
    """Where the line through ``point`` (2,) along ``way`` (2,) crosses the four lines.

    The lines bound ``width`` by ``depth`` mm from the corner of the front edge and the left end.
    ``None`` where the line passes them by. The marks come in the order of ``way``.
    """
    crossings: list[tuple[float, AxisMark]] = []
    for axis, far in ((0, width), (1, depth)):
        for line, bound in zip(_LINES[axis], (0.0, far), strict=True):
            if abs(way[axis]) < math.radians(PARALLEL_DEG):
                continue
            step = float((bound - point[axis]) / way[axis])
            at = point + step * way
            if -TOUCH_MM <= at[1 - axis] <= (depth, width)[axis] + TOUCH_MM:
                crossings.append((step, AxisMark(line, _on(at, axis, bound))))
    crossings.sort(key=lambda crossing: crossing[0])
    if not crossings or crossings[-1][0] <= crossings[0][0]:
        return None
    return crossings[0][1], crossings[-1][1]


def _on(at: Floats, axis: int, bound: float) -> tuple[float, float]:
    """A place, put exactly on its line."""
    x, y = at.tolist()
    return (bound, y) if axis == 0 else (x, bound)


def marked_axes(
    axes: Iterable[tuple[str, Floats, Floats]], width: float, depth: float
) -> tuple[AxisMarks, ...]:
    """The marks of named axes (name, point, way); axes that fall together are one."""
    found: dict[tuple[float, ...], tuple[list[str], tuple[AxisMark, AxisMark]]] = {}
    for name, point, way in axes:
        marks = axis_marks(point, way, width, depth)
        if marks is None:
            continue
        places = sorted(mark.at for mark in marks)
        key = tuple(np.round(places, SAME_PLACES).ravel().tolist())
        found.setdefault(key, ([], marks))[0].append(name)
    return tuple(AxisMarks(f"A{number}", tuple(names), marks)
                 for number, (names, marks) in enumerate(found.values(), 1))
