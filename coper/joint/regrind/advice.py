"""How much to take off: what closes the largest gap to what is asked for, and no more.

::

    room |      .-.          of each clock, the end home: how much deeper it could go
         | ----/---\\-----    level: where it is to come to
         |____/     \\____    what lies below the level is ground off
           clock

A level is all there is to choose. What is ground off lets the end come down by it; a gap that has
more room closes by as much, the others keep what their cut leaves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.joint.edge import even_clocks
from coper.joint.regrind.edges import GRID, Edges

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
    """

    edges: Edges
    excess: Floats

    @property
    def home(self) -> float:
        """How far in mm the end is pushed off now."""
        return float(np.nanmax(self.excess))

    def gaps(self, drop: Floats, stuck: bool = False) -> Floats:
        """The largest gap (m,) in mm when the end was ground to come down by ``drop`` (m,).

        ``stuck``: if it does not come down, as something that no reading shows holds it off.
        """
        level = self.home - drop[:, None]
        ground = np.nan_to_num(np.maximum(self.excess - level, 0.0))
        slide = np.full_like(level, self.home) if stuck else level
        gaps = self.edges.away(even_clocks(GRID), ground, slide)
        largest: Floats = np.maximum(np.nanmax(gaps, axis=1), 0.0)
        return largest


def levels(edges: Edges) -> Levels:
    """The levels of an end."""
    return Levels(edges, edges.excess(even_clocks(GRID)))


def best_drop(found: Levels, goal: float, most: float | None) -> float:
    """The least in mm that an end has to come down so that its largest gap is ``goal`` mm.

    Where it cannot be so small, what makes it as small as it gets. ``most`` is the gap that must
    not be exceeded even where the end does not come down; ``None`` where it surely does.
    """
    low, high = 0.0, found.home - float(np.nanmin(found.excess))
    for _ in range(2):
        drops = np.linspace(low, high, LEVELS)
        gaps = found.gaps(drops)
        if most is not None:
            gaps[found.gaps(drops, stuck=True) > max(most, 0.0)] = np.inf
            gaps[0] = min(gaps[0], found.gaps(drops[:1])[0])
        best = int((gaps <= max(goal, float(gaps.min()) + ENOUGH_MM)).argmax())
        low, high = drops[max(best - 1, 0)], drops[best]
    return float(high)
