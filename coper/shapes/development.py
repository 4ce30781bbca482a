"""A surface between two ellipses laid out flat, strip by strip.

The strips run along the generators, which join equal eccentric angles ``t`` of the two ends.
Each strip keeps the lengths of its generators and of its two ends, and the angles between them. It
cannot keep the twist: between its ends a strip is a little too wide on the flat.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.search import lowest
from coper.shapes.ellipse import TURN, Ellipse, even_angles, gauss_nodes, panel_count
from coper.shapes.plane import hermite
from coper.tolerances import THROUGH

STRETCH_STEPS: Final = 32
"""Even steps of along in the first search for the worst stretch, which varies smoothly."""


@dataclass(frozen=True, slots=True)
class Development:
    """The strips between an ellipse at along 0 and another at ``length``, ``lift`` mm outside both.

    ::

        y |   / generator of t      the sheet's frame: the generator of t 0 lies on the y axis,
          |  / lean (radians)       its along 0 at the origin, x towards rising t
          | /
        --+-------- x
    """

    near: Ellipse
    far: Ellipse
    length: float
    lift: float

    def flat(self, t: Floats, along: Floats) -> tuple[Floats, Floats]:
        """Where on the sheet, (...,) and (...,) in mm, points at ``t`` and ``along`` lie.

        ``t`` (...,) is in radians, of any number of turns; ``along`` (...,) in mm.
        """
        strips = _strips(self)
        lean, x, y = strips.at(t)
        reach = along / self.length * self._long(t)
        return x + reach * np.sin(lean), y + reach * np.cos(lean)

    def stretch(self, low: float, high: float) -> float:
        """The largest difference, mm, between the way round on the sheet and on the surface.

        Measured once round at one along, for every along from ``low`` to ``high``. The sheet is
        exact along the generators, and round the tube at both stations.
        """
        def off(along: Floats) -> Floats:
            return -np.abs(self._too_long(along[0] / self.length))[None]

        worst = lowest(off, np.linspace(low, high, STRETCH_STEPS + 1), THROUGH)
        return -float(worst.least[0])

    def _too_long(self, share: Floats) -> Floats:
        """Excess (n,) in mm of once round on the sheet, at ``share`` (n,) of the length."""
        count = 2 * panel_count(self.near.a, self.near.b)
        t = even_angles(count)[:-1]
        share = share[:, None]
        ends = self._ends(t)
        near, far = self._end_parts(t)
        flat = [low + share * (high - low) for low, high in zip(near, far, strict=True)]
        true = [low + share * (high - low) for low, high in zip(*ends, strict=True)]
        excess: Floats = (np.hypot(*flat) - np.hypot(*true)).sum(axis=-1) * (TURN / count)
        return excess

    def _joining(self, t: Floats) -> tuple[Floats, Floats]:
        """The first two coordinates (...,) in mm of the generators, near end to far, at ``t``."""
        near, far = (self._lifted(ellipse, t) for ellipse in (self.near, self.far))
        return far[0] - near[0], far[1] - near[1]

    def _lifted(self, ellipse: Ellipse, t: Floats) -> tuple[Floats, Floats]:
        """Points (...,) and (...,) in mm at ``t``, ``lift`` mm outside an ellipse."""
        cos, sin, share = np.cos(t), np.sin(t), self.lift / ellipse.speed(t)
        return (ellipse.a + share * ellipse.b) * cos, (ellipse.b + share * ellipse.a) * sin

    def _long(self, t: Floats) -> Floats:
        """Length (...,) in mm of the generators between the two ends."""
        x, y = self._joining(t)
        return np.sqrt(x * x + y * y + self.length**2)

    def _ends(self, t: Floats) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
        """The change of both ends' (x, y), each (...,) in mm, for one radian of ``t`` (...,).

        An end ``lift`` mm outside its ellipse is longer.
        """
        cos, sin = np.cos(t), np.sin(t)
        grown = [1 + self.lift * e.a * e.b / e.speed(t)**3 for e in (self.near, self.far)]
        return ((-self.near.a * sin * grown[0], self.near.b * cos * grown[0]),
                (-self.far.a * sin * grown[1], self.far.b * cos * grown[1]))

    def _end_parts(self, t: Floats) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
        """The same (...,) in mm, as a pair for each end: square to the generator, along it."""
        x, y = self._joining(t)
        long = self._long(t)
        parts = []
        for end_x, end_y in self._ends(t):
            along = (end_x * x + end_y * y) / long
            square = end_x * end_x + end_y * end_y
            parts.append((np.sqrt(np.maximum(square - along * along, 0.0)), along))
        return parts[0], parts[1]

    def slopes(self, t: Floats, lean: Floats | None = None) -> tuple[Floats, ...]:
        """The change, for one radian of ``t`` (...,), of the lean or, given the lean, of the foot.

        The lean (...,) is in radians, the foot (x, y), each (...,), in mm.

        Derived: square to the generator the far end moves as much as the near end, plus the
        generator's length times the change of lean.
        """
        (near_square, near_along), (far_square, _) = self._end_parts(t)
        if lean is None:
            return ((far_square - near_square) / self._long(t),)
        cos, sin = np.cos(lean), np.sin(lean)
        return near_square * cos + near_along * sin, near_along * cos - near_square * sin


@dataclass(frozen=True, slots=True, eq=False)
class Strips:
    """Leans and feet (3, n + 1) of the generators at even ``t`` of one turn, and their slopes."""

    values: Floats
    slopes: Floats
    step: float

    def at(self, t: Floats) -> tuple[Floats, Floats, Floats]:
        """Lean (...,) in radians and foot in mm of the generators at ``t`` (...,)."""
        turns = np.floor(t / TURN)
        rest = t - turns * TURN
        index = np.minimum((rest / self.step).astype(np.int64), self.values.shape[1] - 2)
        lean, x, y = (
            hermite((value[index], slope[index]), (value[index + 1], slope[index + 1]),
                    self.step, rest / self.step - index)
            for value, slope in zip(self.values, self.slopes, strict=True))
        return self._turned(turns, lean, x, y)

    def _turned(
        self, turns: Floats, lean: Floats, x: Floats, y: Floats
    ) -> tuple[Floats, Floats, Floats]:
        """Leans in radians and feet in mm (...,), moved on by whole ``turns`` (...,).

        Each turn rotates the sheet about one point, or shifts it.
        """
        whole, foot = self.values[0, -1], self.values[1, -1] + 1j * self.values[2, -1]
        turn = np.exp(-1j * whole * turns)
        once = np.exp(-1j * whole) - 1
        shift = foot * (turns if once == 0 else (turn - 1) / once)
        moved = shift + turn * (x + 1j * y)
        return lean + turns * whole, moved.real, moved.imag


@lru_cache(maxsize=64)
def _strips(development: Development) -> Strips:
    """The chain of strips, each integrated with Gauss's rule."""
    count = panel_count(development.near.a, development.near.b)
    step = TURN / count
    knots = even_angles(count)
    nodes, weights = gauss_nodes()
    inner = knots[:-1, None] + step * nodes
    lean = _chained(development.slopes(inner)[0] @ weights * step)
    lean_slope = development.slopes(knots)[0]
    inner_lean = hermite((lean[:-1, None], lean_slope[:-1, None]),
                         (lean[1:, None], lean_slope[1:, None]), step, nodes)
    feet = [_chained(part @ weights * step) for part in development.slopes(inner, inner_lean)]
    return Strips(np.stack((lean, *feet)),
                  np.stack((lean_slope, *development.slopes(knots, lean))), step)


def _chained(steps: Floats) -> Floats:
    """Running sums (n + 1,) of steps (n,) from 0, in the steps' unit."""
    return np.concatenate(([0.0], np.cumsum(steps)))
