"""The end as it is: the cut that was meant, what is wrong with it, and how it stands."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks
from coper.joint.fit.face import Face
from coper.joint.fit.seat import Ends
from coper.joint.regrind.gap_model import Misfit
from coper.joint.wall import least_through

GRID = 360
"""Even clocks of what readings say beyond the errors: a curve that they show is smooth in one."""

MOVES_MM = np.array((0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 8, 12))
"""Moves along the tube, either way, at which gaps are looked up."""


@dataclass(frozen=True, slots=True)
class Edges:
    """The existing end, and how it stands on its mains.

    Attributes
    ----------
    face, misfit
        The cut as it was meant, and the errors that were found.
    home
        The branch and its mains as they are put together, the end with these errors pushed home.
    slide : float, mm
        How far away from the mains the branch then is from where the design puts it.
    reach : (before, after), degrees
        From a proud spot to where it is level with the rest: the neighbouring readings.
    short : (GRID,) float, mm
        By how much less than that the end reaches, along the tube: what the readings say beyond
        the errors.
    bevels : bool
        Whether the wall is bevelled as it is ground. An end on several mains has to be: next to
        where it goes from one to the other its face lies as it was cut for the other one.
    """

    face: Face
    misfit: Misfit
    home: Cluster
    slide: float
    reach: tuple[float, float]
    short: Floats = field(default_factory=lambda: np.zeros(GRID))
    bevels: bool = False

    def existing(self, clock: Floats) -> Floats:
        """Along (n,) in mm of the existing outer edge, at clocks as mounted."""
        along = self.face.station(clock - self.misfit.errors.clock, np.zeros(1))
        return along - self.misfit.proud * self._bump(clock) + self._short(clock)

    def excess(self, clock: Floats) -> Floats:
        """How far (n,) in mm the existing end reaches past the main's skin where metal goes.

        It goes straight down through the wall, so that what is furthest in counts; of an end that
        ``bevels`` down to the main's skin, and what is further in than that is bevelled away.
        """
        if not self.bevels:
            return self.through(clock)
        return self._past(clock, self._room(clock, np.zeros((1, 1)))[:, 0])

    def through(self, clock: Floats) -> Floats:
        """How far (n,) in mm the existing end reaches past the main's skin anywhere in the wall."""
        return self._past(clock, least_through(
            lambda depth: self._room(clock, depth), self.home.wall()))

    def _room(self, clock: Floats, depth: Floats) -> Floats:
        """Room (n, d) in mm of the cut as it was meant, at clocks (n,) and depths (n or 1, d)."""
        ends = Ends(self.face, self.home, np.full((1, 1, 1), self.misfit.errors.clock))
        room: Floats = ends.room(clock[:, None], depth)[0]
        return room

    def _past(self, clock: Floats, room: Floats) -> Floats:
        return -room + self.misfit.proud * self._bump(clock) - self._short(clock)

    def away(self, clock: Floats, ground: Floats, slide: Floats) -> Floats:
        """Distance (..., n) in mm from the outer edge to the nearest main, below 0 inside it.

        ``ground`` (..., n) is what was taken off, ``slide`` (..., 1) how far the end then is from
        home; ``nan`` where open.
        """
        along = self.existing(clock) + ground
        points = self.home.skin(np.broadcast_to(clock, along.shape), along)
        points = points + slide[..., None] * np.array((0.0, 0.0, 1.0))
        nearest: Floats = np.min([main.distance(points) for main in self.home.mains], axis=0)
        return np.where(np.isnan(along), np.nan, nearest)

    def shortened(self, opens: Floats) -> Floats:
        """By how much (GRID,) in mm the end is shorter where its gaps are ``opens`` (GRID,) more.

        It cannot reach past the skin; where the outside is open it is as at the nearest clock that
        is not.
        """
        clock = even_clocks(GRID)
        near, far = (self.away(clock, sign * MOVES_MM[:, None] + np.zeros(GRID), np.zeros((1, 1)))
                     for sign in (-1, 1))
        rises = np.concatenate((np.minimum.accumulate(near, axis=0)[:0:-1],
                                np.maximum.accumulate(far, axis=0)))
        moves = np.concatenate((-MOVES_MM[:0:-1], MOVES_MM))
        wanted = np.maximum(np.maximum(far[0], 0.0) + opens, 0.0)
        known = ~np.isnan(wanted)
        found = np.array([np.interp(gap, rise, moves) for gap, rise in
                          zip(wanted[known], rises.T[known], strict=True)])
        room = np.nan_to_num(-self.through(clock)).clip(min=0.0)
        short: Floats = np.maximum(np.interp(clock, clock[known], found, period=360), -room)
        return short

    def _short(self, clock: Floats) -> Floats:
        short: Floats = np.interp(clock, even_clocks(GRID), self.short, period=360)
        return short

    def _bump(self, clock: Floats) -> Floats:
        """1 at the spot, 0 from its neighbours on (n,)."""
        off = (clock - self.misfit.spot + 180) % 360 - 180
        bump: Floats = np.nan_to_num(1 - np.maximum(-off / self.reach[0], off / self.reach[1]))
        return bump.clip(min=0.0)
