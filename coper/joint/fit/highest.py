"""The highest places of many curves at once: a grid, then windows that shrink about the best of it.

Arrays run over (joints, depths, clocks).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Whole

Value = Callable[[Floats, Floats], Floats]
"""Of clocks (m, 1, n) in degrees and depths (m, d, n) in mm: heights (m, d, n), or ``-inf``."""

CANDIDATES = 3
"""Peaks of the grid that are closed in on: with two, some of a thousand random joints failed."""

TRIED = 9
"""Clocks of a window that are tried at a time; the next window is one step either way."""

DOWN = np.linspace(-1.0, 1.0, 5)
"""Depths of a window that are tried at a time; the next window is half as deep. With three of
them a ridge that runs aslant through the wall is lost now and then."""

ROUNDS = 12
"""Windows at most: the first over 4**12 is far below what a steep edge moves by."""

CLOSED_MM = 2e-4
"""The search ends when a window makes no joint's highest place higher than this."""


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """The places (m, k) of each joint that may be its highest.

    Attributes
    ----------
    height : (m, k) float, mm
    clock, depth : (m, k) float, degrees, mm
    """

    height: Floats
    clock: Floats
    depth: Floats

    @property
    def most(self) -> Floats:
        """The highest (m,) in mm."""
        most: Floats = self.height.max(axis=1)
        return most

    def of(self, chosen: Whole) -> Places:
        """The places of some of the joints."""
        return Places(self.height[chosen], self.clock[chosen], self.depth[chosen])

    def told_by(self, value: Value) -> Places:
        """The same places, their heights told by another curve."""
        height = value(self.clock[:, None], self.depth[:, None])[:, 0]
        return Places(height, self.clock, self.depth)


def grid_peaks(grid: Floats, clocks: Floats, depths: Floats) -> Places:
    """The highest peaks round the clock of ``grid`` (m, d, n), each at its best depth.

    ``clocks`` (n,) are degrees once round, ``depths`` (d,) mm.
    """
    most = grid.max(axis=1)
    peak = (most >= np.roll(most, 1, axis=1)) & (most >= np.roll(most, -1, axis=1))
    ranked = np.where(peak, most, -np.inf)
    at = np.argpartition(ranked, -CANDIDATES, axis=1)[:, -CANDIDATES:]
    row = np.arange(len(most))[:, None]
    return Places(ranked[row, at], clocks[at], depths[grid[row, :, at].argmax(axis=2)])


def closed_in(value: Value, places: Places, window: float, wall: float, least: int) -> Places:
    """The same places, each followed to the highest point near it.

    Parameters
    ----------
    value
        The curve of each joint.
    places
        Where to begin, with their heights on that curve.
    window : float, degrees
        How far either way is looked at first.
    wall : float, mm
        Depths are looked for from 0 to here, at first half of it either way.
    least : int
        Windows that are tried even where the first ones find nothing higher.
    """
    height, clock, depth = places.height, places.clock, places.depth
    step, down = np.linspace(-1.0, 1.0, TRIED), DOWN if wall else np.zeros(1)
    joints, kept = height.shape
    row, column = np.arange(joints)[:, None], np.arange(kept)
    deep = wall / 2
    for number in range(1, ROUNDS + 1):
        tried = clock[:, :, None] + window * step
        deeper = np.clip(depth[:, None] + deep * down[:, None], 0.0, wall)
        found = value(tried.reshape(joints, 1, -1), np.repeat(deeper, TRIED, axis=2))
        found = found.reshape(joints, down.size, kept, TRIED).swapaxes(1, 2)
        found = found.reshape(joints, kept, -1)
        at = found.argmax(axis=2)
        below, beside = np.divmod(at, TRIED)
        here = found[row, column, at]
        better = here > height
        before = height.max(axis=1)
        clock = np.where(better, tried[row, column, beside], clock)
        depth = np.where(better, deeper[row, below, column], depth)
        height = np.where(better, here, height)
        if number >= least and not (height.max(axis=1) > before + CLOSED_MM).any():
            break
        window, deep = window / (TRIED // 2), deep / 2
    return Places(height, clock, depth)
