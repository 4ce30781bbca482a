"""The ellipse: its length, its parallel curves, and its nearest point.

Points are given by the eccentric angle ``t``: ``(a cos t, b sin t)`` with ``a >= b``. There is no
closed form for the length, so the turn is cut into panels, each integrated with Gauss's rule.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.shapes.plane import hermite

TURN: Final = 2 * math.pi

NODES: Final = 6
"""Points of Gauss's rule in a panel: with panels this short the sum is exact to rounding."""

LEAST_PANELS: Final = 360
PANELS_AN_AXIS: Final = 24
"""Panels times the ratio of the axes: the length element varies most at the tight end, within an
eccentric angle of minor / major, which thus gets about four panels."""

FOOT_ROUNDS: Final = 40
"""The most Newton steps for a foot; five or six are enough unless the point is near an axis."""

FOOT_SHARE: Final = 1e-15
"""A step that changes less of the unknown than this changes nothing."""

AXIS_SHARE: Final = 1e-13
"""A point nearer the major axis than this share of the minor one is moved out to it.

On the axis itself the foot is one of two, and the unknown of the equation is 0.
"""


@dataclass(frozen=True, slots=True, eq=False)
class Panels:
    """Arc length (n + 1,) in mm and its slope at the ends of even panels of one turn."""

    arc: Floats
    speed: Floats
    step: float


@lru_cache(maxsize=2)
def gauss_nodes() -> tuple[Floats, Floats]:
    """Nodes (NODES,) and weights (NODES,) of Gauss's rule from 0 to 1, without unit."""
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    return (nodes + 1) / 2, weights / 2


def panel_count(a: float, b: float) -> int:
    """How many panels make one turn of the ellipse with the half axes ``a`` and ``b``."""
    return max(LEAST_PANELS, math.ceil(PANELS_AN_AXIS * a / b))


def even_angles(count: int) -> Floats:
    """The ends (count + 1,) of ``count`` even panels of one turn, radians."""
    return np.linspace(0.0, TURN, count + 1, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Ellipse:
    """An ellipse by its half axes ``a >= b`` in mm."""

    a: float
    b: float

    def speed(self, t: Floats) -> Floats:
        """Length (...,) in mm of a step of one radian of ``t``; also that of ``(b cos, a sin)``."""
        speed: Floats = np.hypot(self.a * np.sin(t), self.b * np.cos(t))
        return speed

    def girth(self) -> float:
        """Length of the whole ellipse, mm."""
        return float(_panels(self.a, self.b).arc[-1])

    def arc(self, t: Floats) -> Floats:
        """Length (...,) in mm from ``t`` 0 to ``t`` (...,), beyond one turn or below 0 too."""
        panels = _panels(self.a, self.b)
        turns = np.floor(t / TURN)
        rest = t - turns * TURN
        index = np.minimum(np.nan_to_num(rest / panels.step).astype(np.int64),
                           panels.arc.size - 2)
        low = index * panels.step
        arc: Floats = panels.arc[index] + self._short_arc(low, rest) + turns * panels.arc[-1]
        return arc

    def eccentric(self, arc: Floats) -> Floats:
        """The ``t`` (...,) in radians at ``arc`` (...,) in mm: the inverse of :meth:`arc`."""
        panels = _panels(self.a, self.b)
        turns = np.floor(arc / panels.arc[-1])
        rest = arc - turns * panels.arc[-1]
        index = np.minimum(np.searchsorted(panels.arc, rest, side="right"), panels.arc.size - 1) - 1
        low_arc, high_arc = panels.arc[index], panels.arc[index + 1]
        length = high_arc - low_arc
        low = index * panels.step
        t = hermite((low, 1 / panels.speed[index]),
                    (low + panels.step, 1 / panels.speed[index + 1]),
                    length, (rest - low_arc) / length)
        t = t - (low_arc + self._short_arc(low, t) - rest) / self.speed(t)
        whole: Floats = t + turns * TURN
        return whole

    def _short_arc(self, low: Floats, high: Floats) -> Floats:
        """Length (...,) in mm from ``low`` (...,) to ``high`` (...,) in radians, in one panel."""
        nodes, weights = gauss_nodes()
        width = high - low
        at = low[..., None] + width[..., None] * nodes
        sine = np.sin(at)
        speed = np.sqrt(self.b**2 + (self.a - self.b) * (self.a + self.b) * sine * sine)
        length: Floats = width * (speed @ weights)
        return length

    def heading(self, t: Floats) -> Floats:
        """Direction (...,) of the outward normal in radians at ``t`` (...,), rising with it."""
        sin, cos = np.sin(t), np.cos(t)
        ahead = np.arctan2((self.a - self.b) * sin * cos, self.b * cos * cos + self.a * sin * sin)
        heading: Floats = t + ahead
        return heading

    def foot(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Cosine and sine (...,) of the ``t`` of the ellipse's point nearest (x, y), (...,) in mm.

        Derived: the foot is ``(a^2 x / (u + a^2 - b^2), b^2 y / u)`` for the ``u`` above 0 that
        puts it on the ellipse. With ``v = (a x / (u + a^2 - b^2), b y / u)``, ``1 / |v|`` is
        concave and rises with ``u``, so Newton's steps from below never pass the root of
        ``1 / |v| = 1``. By symmetry x and y are taken above 0.
        """
        ax, by = self.a * np.abs(x), self.b * np.maximum(np.abs(y), AXIS_SHARE * self.b)
        beyond = (self.a - self.b) * (self.a + self.b)
        u = np.maximum(by, ax - beyond)
        for _ in range(FOOT_ROUNDS):
            cos, sin = ax / (u + beyond), by / u
            square = cos * cos + sin * sin
            fall = cos * cos / (u + beyond) + sin * sin / u
            step = (np.sqrt(square) - 1) * square / fall
            u = u + step
            if not (np.abs(step) > FOOT_SHARE * u).any():
                break
        cos, sin = ax / (u + beyond), by / u
        size = np.hypot(cos, sin)
        return np.copysign(cos / size, x), np.copysign(sin / size, y)


@lru_cache(maxsize=64)
def _panels(a: float, b: float) -> Panels:
    count = panel_count(a, b)
    step = TURN / count
    knots = even_angles(count)
    ellipse = Ellipse(a, b)
    lengths = ellipse._short_arc(knots[:-1], knots[1:])
    return Panels(np.concatenate(([0.0], np.cumsum(lengths))), ellipse.speed(knots), step)
