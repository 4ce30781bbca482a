"""Where the first touch and the largest gap of an end are looked for at first."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats, Whole
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks, find_breaks, grid_edges, merged
from coper.joint.fit.face import Face
from coper.joint.miss import check_meets
from coper.tolerances import Seating


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Where the first touch and the largest gap are looked for at first.

    Attributes
    ----------
    clock : (n,) or (m, 1, n) float, degrees
        Once round, the breaks of the cut among it.
    cut : (d, n) or (m, d, n) float, mm
        The faces there, at even depths.
    broken : bool
        Whether the cuts' edges have breaks.
    """

    clock: Floats
    cut: Floats
    broken: bool

    def turned(self, by: Floats) -> Grid:
        """The grid of cuts that stand turned ``by`` (m, 1, 1) degrees."""
        return replace(self, clock=self.clock + by)

    def of(self, chosen: Whole) -> Grid:
        """The grid of some of the ends, their numbers (j,) given."""
        clock = self.clock[chosen] if self.clock.ndim == 3 else self.clock
        return replace(self, clock=clock, cut=self.cut[chosen] if self.cut.ndim == 3 else self.cut)


def cut_grid(face: Face, breaks: Floats, how: Seating) -> Grid:
    """The grid of a ``face`` whose edges have ``breaks`` (k,) in degrees, in its own clock."""
    clock = grid_clocks(breaks, how)
    return Grid(clock, face.station(clock, even_depths(face.cluster, how)), bool(breaks.size))


def grid_clocks(breaks: Floats, how: Seating) -> Floats:
    """Clocks (n,) in degrees of a grid for edges with ``breaks`` (k,)."""
    return merged(even_clocks(how.clocks), np.ravel(breaks[:, None] + how.beside) % 360)


def even_depths(cluster: Cluster, how: Seating) -> Floats:
    """Depths (d, 1) of the grid, mm."""
    return np.linspace(0.0, cluster.wall(), how.depths)[:, None]


def break_clocks(cluster: Cluster) -> Floats:
    """Breaks (k,) in degrees of the outside and of the inside edge."""
    outer, inner = grid_edges(cluster)
    check_meets(cluster, outer)
    return merged(find_breaks(cluster, outer).all,
                  find_breaks(cluster, inner, cluster.wall()).all)
