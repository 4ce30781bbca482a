"""The gaps that errors of a mounting would give: what readings are compared with."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats, Whole
from coper.joint.cluster import Cluster
from coper.joint.fit.face import Face
from coper.joint.fit.grid import Grid, cut_grid, even_depths
from coper.joint.fit.mount import Mounting
from coper.joint.fit.seat import Ends, first_touch
from coper.joint.fit.tabled import looked_up
from coper.joint.mountable import Aside, Mountable
from coper.tolerances import BENCH

NO_SPOT = math.nan
"""The clock of a spot where there is none."""

OPENS_MM = 0.3
"""How far an end is moved to see by which share its gap opens: about what has to be found."""


@dataclass(frozen=True, slots=True)
class Misfit:
    """Everything that may be wrong.

    Attributes
    ----------
    errors : Mounting
    proud : float, mm
        How far the cut stands proud along the tube at one spot.
    spot : float, degrees
        The clock of that spot as mounted, or ``NO_SPOT``.
    """

    errors: Mounting
    proud: float = 0.0
    spot: float = NO_SPOT


@dataclass(frozen=True, slots=True, eq=False)
class Spotted:
    """Faces that stand proud at one clock and nowhere else.

    Attributes
    ----------
    face : Face
    spot : (m, 1, 1) float, degrees
        In the cuts' own clock.
    proud : (m, 1, 1) float, mm
    """

    face: Face
    spot: Floats
    proud: Floats

    @property
    def cluster(self) -> Cluster:
        """Of the face without the spot."""
        return self.face.cluster

    def station(self, clock: Floats, depth: Floats) -> Floats:
        """Along in mm of the cuts, for clocks (m, 1, n) and depths (m, d, n)."""
        stands = np.where(clock == self.spot, self.proud, 0.0)
        return self.face.station(clock, depth) - stands

    def of(self, chosen: Whole) -> Spotted:
        """Some of the faces, their numbers (j,) given."""
        return Spotted(self.face.of(chosen), self.spot[chosen], self.proud[chosen])


def gap_model(joint: Mountable, cut: Face) -> GapModel:
    """The model of an end with the face ``cut`` that was meant for ``joint``."""
    face, breaks = looked_up(cut)
    return GapModel(joint, face, cut_grid(face, breaks, BENCH))


@dataclass(frozen=True, slots=True, eq=False)
class GapModel:
    """An end with a ``face``, the joint that it was cut for, and the grid of its cut.

    What is wrong with m such ends comes as values (m, k): turn and angle in degrees, offset in mm,
    of an end that ``leans`` its lean in degrees and its place along the main in mm, and last what
    one spot stands proud in mm, if any; the spot's clock in degrees is one for all.
    """

    joint: Mountable
    face: Face
    grid: Grid

    @property
    def mounting(self) -> int:
        """How many errors of the mounting there may be."""
        return 5 if self.joint.leans else 3

    def misfit(self, values: Floats, spot: float | None) -> Misfit:
        """The same values (k,) of one end, each by its name."""
        turn, angle, offset, *aside = values[:self.mounting].tolist()
        proud = values[self.mounting:].tolist()
        return Misfit(Mounting(angle, turn, offset, *aside), *proud,
                      *(() if spot is None else (spot,)))

    def shares(self, clock: Floats) -> Floats:
        """By how much the gap opens at clocks (n,) for each mm that the end is shorter there."""
        home = self.joint.cluster()
        edge = home.entry(clock)
        near, far = (np.min([main.distance(home.skin(clock, edge + more)) for main in home.mains],
                            axis=0) for more in (0.0, OPENS_MM))
        found: Floats = (far - near) / OPENS_MM
        return found

    def gaps(self, values: Floats, spot: float, clock: Floats) -> Floats:
        """Distance (m, n) in mm from the outer edge at clocks (n,) to the nearest main.

        ``nan`` where open, and where nothing can be put together so.
        """
        gaps = np.full((len(values), clock.size), np.nan)
        stands = self._stands(values)
        if stands.size:
            ends, slide = self._seated(values[stands], spot)
            gaps[stands] = ends.moved(slide).gap(np.broadcast_to(
                clock, (stands.size, 1, clock.size)))[:, 0]
        return gaps

    def slides(self, values: Floats, spot: float) -> Floats:
        """How far (m,) in mm the ends are from where the design puts them, when they are home."""
        return self._seated(values, spot)[1]

    def _stands(self, values: Floats) -> Whole:
        """The numbers (j,) of those whose axes still have an angle between them."""
        angle = self.joint.angle + values[:, 1]
        return np.flatnonzero((angle > 0) & (angle < 180))

    def _seated(self, values: Floats, spot: float) -> tuple[Ends, Floats]:
        """The ends where the design puts them, and how far (m,) in mm they are off when home."""
        turn, proud = (values[:, at, None, None] if at < values.shape[1] else
                       np.zeros((len(values), 1, 1)) for at in (0, self.mounting))
        aside = Aside(values[:, 3], values[:, 4]) if self.joint.leans else None
        mounted = self.joint.clusters(values[:, 1], values[:, 2], aside)
        ends = Ends(self.face, mounted, turn)
        slide = first_touch(ends, self.grid.turned(turn), BENCH).slide
        if math.isnan(spot):
            return ends, slide
        held = replace(ends, face=Spotted(self.face, spot - turn, proud))
        at_spot = replace(self.grid, clock=np.array([spot]), cut=held.face.station(
            spot - turn, even_depths(mounted, BENCH)))
        return held, np.fmax(slide, first_touch(held, at_spot, BENCH).slide)
