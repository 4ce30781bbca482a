r"""How much to take off: what closes the largest gap to what is asked for, and no more.

::

    room |      .-.          of each clock, the end home: how much deeper it could go
         | ----/---\-----    level: where it is to come to
         |____/     \____    what lies below the level is ground off
           clock

A level is all there is to choose. What is ground off lets the end come down by it; a gap that has
more room closes by as much, the others keep what their cut leaves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.joint.edge import even_clocks
from coper.joint.regrind.edges import GRID, Edges
from coper.search import Flags

LEVELS = 33
"""Even levels that are tried, and as many again between the two about the best."""

ENOUGH_MM = 0.01
"""A level that closes the largest gap to within this of the best is as good: deeper ones only cost
length."""


@dataclass(frozen=True, slots=True, eq=False)
class Levels:
    """What comes of grinding an end.

    Attributes
    ----------
    edges
    excess : (GRID,) float, mm
        How far it reaches past the skin now, ``nan`` where open.
    seen : (GRID,) bool
        Where readings show the gap: at their clocks, and between two where nothing is open.
    home : float, mm
        How far the end is pushed off now.
    """

    edges: Edges
    excess: Floats
    seen: Flags
    home: float

    @property
    def deepest(self) -> float:
        """What it could come down in mm at most and still close a gap that is seen."""
        return self.home - float(np.nanmin(self.excess[self.seen]))

    def gaps(self, drop: Floats) -> Floats:
        """The largest gap (m,) in mm when the end was ground to come down by ``drop`` (m,)."""
        level = self.home - drop[:, None]
        return self._largest(self._ground(level), level)

    def stuck(self, drop: Floats) -> Floats:
        """The same if it does not come down, as something that no reading shows holds it off."""
        ground = self._ground(self.home - drop[:, None])
        return self._largest(ground, np.full((drop.size, 1), self.home))

    def _ground(self, level: Floats) -> Floats:
        ground: Floats = np.maximum(self.excess[self.seen] - level, 0.0)
        return ground

    def _largest(self, ground: Floats, slide: Floats) -> Floats:
        gaps = self.edges.away(even_clocks(GRID)[self.seen], ground, slide)
        largest: Floats = np.maximum(np.nanmax(gaps, axis=1), 0.0)
        return largest


def levels(edges: Edges, read: Floats) -> Levels:
    """The levels of an end with readings at clocks ``read`` (n,), sorted."""
    clock = even_clocks(GRID)
    excess = edges.excess(clock)
    closed = ~np.isnan(excess) & ~np.isnan(edges.existing(clock))
    seen = np.zeros(GRID, dtype=bool)
    for start, end in zip(read, np.append(read[1:], read[0] + 360), strict=True):
        between = np.arange(math.ceil(start), math.floor(end) + 1) % GRID
        if closed[between].all():
            seen[between] = True
    seen[np.round(read).astype(int) % GRID] = True
    home = excess if not edges.bevels else edges.through(clock)
    return Levels(edges, excess, seen & closed, float(np.nanmax(home)))


def best_drop(found: Levels, goal: float, most: float | None) -> float:
    """The least in mm that an end has to come down so that its largest gap is ``goal`` mm.

    Where it cannot be so small, what makes it as small as it gets. ``most`` is the gap that must
    not be exceeded even where the end does not come down; ``None`` where it surely does.
    """
    low, high = 0.0, found.deepest
    for _ in range(2):
        drops = np.linspace(low, high, LEVELS)
        gaps = found.gaps(drops)
        if most is not None:
            gaps[1:][found.stuck(drops[1:]) > most] = np.inf
        best = int((gaps <= max(goal, float(gaps.min()) + ENOUGH_MM)).argmax())
        low, high = drops[max(best - 1, 0)], drops[best]
    return float(high)
