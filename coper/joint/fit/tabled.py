"""A cut that is the same at every depth, looked up where it is asked for hundreds of times."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Whole
from coper.joint.cluster import Cluster
from coper.joint.edge import STEPS, drawn_clocks, even_clocks, merged
from coper.joint.fit.face import Face, Square
from coper.joint.fit.grid import break_clocks

STEEP_DEG = 0.5 * 2.0 ** -np.arange(12.0)
"""How near to a break a square cut is looked up: its flank there may be as steep as a step."""


@dataclass(frozen=True, slots=True, eq=False)
class Tabled:
    """A face that is the same at every depth, looked up instead of computed each time.

    Attributes
    ----------
    clocks, table : (n,) float, degrees, mm
        So close that straight lines between them are the face.
    """

    cluster: Cluster
    clocks: Floats
    table: Floats

    def station(self, clock: Floats, depth: Floats) -> Floats:
        """Along (...,) in mm, in the common shape of ``clock`` and ``depth``."""
        flat = np.interp(np.ravel(clock), self.clocks, self.table, period=360)
        shaped = flat.reshape(np.shape(clock))
        return np.broadcast_to(shaped, np.broadcast_shapes(shaped.shape, np.shape(depth)))

    def of(self, chosen: Whole) -> Tabled:
        """The face itself, whatever the numbers (j,): it is one for all."""
        return self


def looked_up(face: Face) -> tuple[Face, Floats]:
    """``face``, as a table if it is square, and the breaks (k,) of its edges in degrees."""
    breaks = break_clocks(face.cluster)
    return tabled(face, breaks) if isinstance(face, Square) else face, breaks


def tabled(face: Square, breaks: Floats) -> Tabled:
    """A square ``face`` whose edges have ``breaks`` (k,) in degrees, as a table."""

    def along(clock: Floats) -> Floats:
        return face.station(clock, np.zeros(1))

    near = np.ravel(breaks[:, None] + np.concatenate((STEEP_DEG, -STEEP_DEG))) % 360
    known = merged(even_clocks(STEPS), breaks, near)
    clocks = drawn_clocks(along, known, face.cluster.branch.girth())
    return Tabled(face.cluster, clocks, along(clocks))
