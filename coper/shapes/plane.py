"""Plane geometry shared by several sections, seen along the axis."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats


def enter_circle(
    x: Floats, y: Floats, dx: Floats, dy: Floats, radius: float, touch: float
) -> Floats:
    """Along (...,) where lines ``(x, y) + a (dx, dy)`` enter the circle round (0, 0) from above.

    All four are (...,), with ``radius`` and ``touch`` in one unit of length. ``nan`` where a line
    misses by more than ``touch``, or has no direction in the plane.

    Derived: a line ``p + a d`` passes the centre at the distance ``h = |p x d| / |d|`` and is
    nearest at ``a0 = -p.d / d.d``; it is inside the circle for ``sqrt(R^2 - h^2) / |d|`` before
    and after that. Written as ``(R - h)(R + h)`` the root keeps its digits where a line grazes.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        square = dx * dx + dy * dy
        length = np.sqrt(square)
        passing = np.abs(x * dy - y * dx) / length
        inside = radius - passing
        half = np.sqrt(np.where(inside < -touch, np.nan, np.maximum(inside, 0.0))
                       * (radius + passing)) / length
        along: Floats = half - (x * dx + y * dy) / square
    return along


def clockwise(points: Floats, side: Floats) -> Floats:
    """Radians (...,) from ``side`` (2,) clockwise to ``points`` (..., 2 or 3), -pi to pi."""
    x, y = points[..., 0], points[..., 1]
    angle: Floats = np.arctan2(x * side[1] - y * side[0], x * side[0] + y * side[1])
    return angle


def nearest_way(way: Floats, girth: float) -> Floats:
    """The shorter (...,) of the two ways round, mm: ``way`` (...,) less whole girths."""
    shorter: Floats = way - girth * np.round(way / girth)
    return shorter


def hermite(
    low: tuple[Floats, Floats], high: tuple[Floats, Floats], step: Floats | float, share: Floats
) -> Floats:
    """The cubic (...,) between two knots ``step`` apart, at ``share`` 0 to 1 of the way.

    ``low`` and ``high`` are each a value (...,) and a slope (...,).
    """
    (low_value, low_slope), (high_value, high_slope) = low, high
    rest = 1 - share
    between: Floats = (
        rest * rest * ((1 + 2 * share) * low_value + share * step * low_slope)
        + share * share * ((1 + 2 * rest) * high_value - rest * step * high_slope)
    )
    return between
