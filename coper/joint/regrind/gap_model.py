"""The gaps that errors of a mounting would give: what readings are compared with.

Lighter than a full fit-up, because a fit asks hundreds of times: the first touch is looked for on a
grid, which is good to a hundredth of a mm, a fifth of what a feeler gauge reads.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks
from coper.joint.fit.face import Face, cut_face, raised
from coper.joint.fit.mount import Mounting
from coper.joint.fit.tabled import tabled
from coper.joint.fit.touch import break_clocks
from coper.joint.joint import Joint
from coper.joint.template import Cut

CLOCKS = 120
"""Even clocks of the grid: 3 degrees miss 0.002 mm of a bump of 1 mm that goes round twice."""

SHARES = (0.0, 0.5, 1.0)
"""Depths of the grid, as shares of the wall: the first touch is nearly always at an edge."""

PUSHES = 12
"""Times that a taper is pushed on; a tube of one section is home after the first."""

HOME_MM = 1e-3
"""An end is home when what is left to push is less: far below what a gauge reads."""

ALL_ROUND = math.nan
"""The clock of a spot that holds the end off all round because no reading was taken there."""


@dataclass(frozen=True, slots=True)
class Misfit:
    """Everything that may be wrong.

    Attributes
    ----------
    errors : Mounting
    proud : float, mm
        How far the cut stands proud along the tube at one spot.
    spot : float, degrees
        The clock of that spot as mounted, or ``ALL_ROUND``.
    """

    errors: Mounting
    proud: float = 0.0
    spot: float = ALL_ROUND


def gap_model(joint: Joint, cut: Cut) -> GapModel:
    """The model of an end that was cut for ``joint``."""
    face = cut_face(joint, cut)
    breaks = break_clocks(face.cluster)
    if cut == "square":
        face = tabled(face, breaks)
    return GapModel(joint, face, breaks)


@dataclass(frozen=True, slots=True, eq=False)
class GapModel:
    """An end with a ``face``, the joint that it was cut for, and the breaks (k,) of its edges."""

    joint: Joint
    face: Face
    breaks: Floats

    def seated(self, misfit: Misfit) -> tuple[Cluster, float]:
        """The branch and its mains where the end first touches, and its slide in mm."""
        mounted = misfit.errors.of(self.joint).cluster()
        depths = np.array(SHARES) * mounted.wall()
        clocks = self._clocks(misfit)[:, None]
        cut = self._cut(misfit, clocks, depths)
        slide, home = 0.0, mounted
        for _ in range(PUSHES):
            overlap = float(np.nan_to_num(home.entry(clocks, depths) - cut, nan=-np.inf).max())
            if not math.isfinite(overlap):
                raise JointError("nothing of the cut meets the main", "check the angle and the "
                                 "offset", "gaps")
            slide += overlap
            home = raised(mounted, -slide)
            if abs(overlap) < HOME_MM:
                break
        if math.isnan(misfit.spot):
            slide += misfit.proud
            home = raised(mounted, -slide)
        return home, slide

    def gaps(self, misfit: Misfit, clock: Floats) -> Floats:
        """Distance (n,) in mm from the outer edge to the nearest main; ``nan`` where open."""
        home, _ = self.seated(misfit)
        points = home.skin(clock, self._cut(misfit, clock, np.zeros(1)))
        gaps: Floats = np.min([main.distance(points) for main in home.mains], axis=0)
        return gaps

    def _clocks(self, misfit: Misfit) -> Floats:
        """Where the first touch is looked for: at breaks too, as a tip touches before all else."""
        spot = [] if math.isnan(misfit.spot) else [misfit.spot]
        return np.concatenate((even_clocks(CLOCKS), self.breaks + misfit.errors.clock, spot))

    def _cut(self, misfit: Misfit, clock: Floats, depth: Floats) -> Floats:
        """Along of the cut, its proud spot included."""
        along = self.face.station(clock - misfit.errors.clock, depth)
        cut: Floats = along - misfit.proud * (clock == misfit.spot)
        return cut
