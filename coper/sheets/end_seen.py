"""A shaped end as one looks into it from outside: its section there, the heel up.

::

         heel        clocks of a tube run clockwise at its start and the other way at its end;
       .--^--.       a section's outline is steps of equal clocks, so of a box they are no
      (       )      equal angles
       '-----'
         toe
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks
from coper.joint.mountable import Mountable
from coper.search import Flags

CLOCKS = 360
"""Points of an outline: one a degree."""


@dataclass(frozen=True, slots=True, eq=False)
class EndSeen:
    """An end as one looks into it; clocks are those of the tube, degrees.

    Attributes
    ----------
    joint : Mountable
    cluster : Cluster
    along : float, mm
        Where the section is taken: the middle of the cut, as the end counts.
    axes : (2, 2) float
        Right and up of the picture in the section's own coordinates, one a column.
    """

    joint: Mountable
    cluster: Cluster
    along: float
    axes: Floats

    def skin(self, clock: Floats, depth: Floats | float = 0.0) -> Floats:
        """Points (n, 2) in mm of the section at clocks (n,), ``depth`` mm inside the outside."""
        return self._section(clock, depth)[:, :2] @ self.axes

    def bore(self, clock: Floats) -> Floats:
        """Points (n, 2) in mm of the inside of the wall at clocks (n,)."""
        return self.skin(clock, self.cluster.wall())

    def out(self, clock: Floats) -> Floats:
        """Outward unit directions (n, 2), square to the outside at clocks (n,)."""
        normals = self.cluster.branch.normal(self._section(clock))[:, :2] @ self.axes
        out: Floats = normals / np.hypot(*normals.T)[:, None]
        return out

    def ways(self, clock: Floats) -> Floats:
        """Unit directions (n, 2) from the axis to the outside at clocks (n,)."""
        points = self.skin(clock)
        ways: Floats = points / np.hypot(*points.T)[:, None]
        return ways

    def open(self, clock: Floats) -> Flags:
        """Whether (n,) the end meets no main at clocks (n,)."""
        missed: Flags = np.isnan(self.cluster.entry(self.joint.counted(clock)))
        return missed

    def _section(self, clock: Floats, depth: Floats | float = 0.0) -> Floats:
        own = self.joint.counted(clock)
        return self.cluster.skin(own, np.full(own.shape, self.along), depth)


def end_seen(joint: Mountable) -> EndSeen:
    """The end of ``joint`` as one looks into it.

    Derived: one looks up the tube, along ``b``, with the heel ``h`` up, so that ``b x h`` is to
    the right.
    """
    cluster = joint.cluster()
    along = float(np.nanmean(cluster.entry(even_clocks(CLOCKS))))
    heel = cluster.skin(np.array([joint.heel_clock]), np.array([along]))[0, :2]
    across, rise = heel / np.hypot(*heel)
    return EndSeen(joint, cluster, along, np.array(((-rise, across), (across, rise))))
