"""Many ways to saw one end, tried at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.joint.cluster import Cluster
from coper.joint.fit.face import Bevelled, pass_mains
from coper.joint.fit.grid import Grid, even_depths, grid_clocks
from coper.joint.fit.passes import Pass
from coper.joint.fit.seat import Ends, first_touch, widest_gap
from coper.joint.saw.place import Place
from coper.tolerances import TRIED


@dataclass(frozen=True, slots=True, eq=False)
class Trial:
    """What is tried on one end, at clocks (n,) in degrees: the design's cope is computed once."""

    place: Place
    clock: Floats

    def gaps(self, ways: Sequence[Sequence[Pass]]) -> Floats:
        """The largest gap (m,) in mm of each way, infinite where its passes leave tube uncut.

        Every way has as many passes, all of one saw.
        """
        place, count = self.place, len(ways)
        face = Bevelled(Cluster(place.joint.branch, tuple(
            saw for passes in zip(*ways, strict=True) for saw in pass_mains(place.joint, passes))))
        cut = face.station(self.clock, even_depths(place.mounted, TRIED))
        grid = Grid(self.clock, cut, broken=True)
        ends = Ends(face, place.mounted, np.zeros((count, 1, 1)))
        slide = first_touch(ends, grid, TRIED).slide
        gap, _ = widest_gap(ends.moved(slide), grid.clock, grid.broken, TRIED)
        whole = ~np.isnan(cut).any(axis=(1, 2)) & np.isfinite(gap)
        return np.where(whole, gap, np.inf)


def make_trial(place: Place) -> Trial:
    """Trials of the end that ``place`` is about."""
    return Trial(place, grid_clocks(place.breaks, TRIED))
