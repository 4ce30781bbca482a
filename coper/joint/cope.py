"""The computed edge of a shaped tube end."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats, OneLine, Whole
from coper.errors import JointError
from coper.joint.bend_inside import refuse_blocked
from coper.joint.cluster import Cluster
from coper.joint.edge import (
    STEPS,
    Breaks,
    drawn_clocks,
    edge_length,
    even_clocks,
    find_breaks,
    grid_edges,
    merged,
)
from coper.joint.footprint import Footprint, flat_footprint, make_footprint
from coper.joint.miss import check_meets
from coper.joint.template import PAPER_MM, Cut, Template, cut_line, make_template
from coper.joint.wall import bevel
from coper.search import lowest_round


@dataclass(frozen=True, slots=True)
class EdgePoint:
    """A point of the edge: clock in degrees, along in mm."""

    clock: float
    along: float


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Cope(OneLine):
    """The edge of a tube end, at even clocks and at every break between them.

    Attributes
    ----------
    clock : (n,) float, degrees
    outer, inner : (n,) float, mm
        Where the outside and the inside surface meet the main; ``nan`` where they miss it.
    dihedral : (n,) float, degrees
        Angle between the two outsides, across the edge, on the side where the weld goes.
    main : (n,) int
        Which main the outside meets, counted from 0; -1 where it misses them all.
    open : tuple of (from, to), degrees
        Stretches where the outside misses every main; one that runs over 0 has ``to < from``.
    cluster : Cluster
        The branch and its mains, which answer for any other clock.
    breaks, inner_breaks : Breaks
        Where the outer and the inner edge are not smooth.
    """

    clock: Floats
    outer: Floats
    inner: Floats
    dihedral: Floats
    main: Whole
    open: tuple[tuple[float, float], ...]
    cluster: Cluster = field(repr=False)
    breaks: Breaks = field(repr=False)
    inner_breaks: Breaks = field(repr=False)

    @property
    def points(self) -> Floats:
        """The outer edge (n, 3) in the branch's frame, mm."""
        return self.cluster.skin(self.clock, self.outer)

    @property
    def bevel(self) -> Floats:
        """Lean (n,) of the cut face from square, degrees, above 0 with the inside cut back."""
        return bevel(self.outer, self.inner, self.cluster.wall())

    @property
    def long_point(self) -> EdgePoint:
        """The edge's furthest reach towards the main: its smallest along."""
        clock, along = lowest_round(self.cluster.entry, self.search_clocks())
        return EdgePoint(clock, along)

    @property
    def short_point(self) -> EdgePoint:
        """The edge's furthest retreat up the tube: its largest along."""
        clock, along = lowest_round(lambda c: -self.cluster.entry(c), self.search_clocks())
        return EdgePoint(clock, -along)

    @property
    def edge_length(self) -> float:
        """Length of the outer edge in mm, open stretches left out."""
        return edge_length(self.cluster, self.breaks)

    def at(self, clock: Floats) -> Cope:
        """The same cope at clocks (n,) of the caller's own, in degrees."""
        cluster = self.cluster
        outer, inner = cluster.entry(clock), cluster.entry(clock, cluster.wall())
        return _filled(cluster, clock, outer, inner, (self.breaks, self.inner_breaks))

    def template(self, cut: Cut = "bevelled", paper: float = PAPER_MM) -> Template:
        """The template's cut line at this cope's clocks, for paper of ``paper`` mm."""
        return make_template(self.cluster, self.clock, cut, paper)

    def drawn_template(
        self, cut: Cut = "bevelled", paper: float = PAPER_MM, seam: float = 0.0
    ) -> Template:
        """The same line with as many points as drawing it needs, however few this cope has.

        Its clocks run from the seam once round to ``seam + 360``, both ends included.
        """
        clock = drawn_clocks(
            lambda c: cut_line(self.cluster, c, cut),
            merged(even_clocks(STEPS), self.breaks.all, self.inner_breaks.all, [seam % 360]),
            self.cluster.branch.girth(),
        )
        past = clock < seam % 360
        clock = np.concatenate((clock[~past], clock[past] + 360, [seam % 360 + 360]))
        return make_template(self.cluster, clock, cut, paper)

    def footprint(self, main: int = 0) -> Footprint:
        """Where the edge lands on main number ``main``; ``nan`` where it lands on none of it."""
        return make_footprint(self.cluster.mains[main], self._landing(main))

    def flat_footprint(self, main: int = 0, lift: float = 0.0) -> Floats:
        """The same on a flat sheet (n, 2) in mm, its middle ``lift`` mm above the main."""
        return flat_footprint(self.cluster.mains[main], self._landing(main), lift)

    def _landing(self, main: int) -> Floats:
        """Points (n, 3) in mm of the edge on one of the mains, ``nan`` elsewhere."""
        return np.where((self.main == main)[:, None], self.points, np.nan)

    def search_clocks(self) -> Floats:
        """Clocks (n,) in degrees dense enough to look for the edge's extremes on."""
        return merged(even_clocks(STEPS), self.breaks.all)


def make_cope(cluster: Cluster, points: int = STEPS) -> Cope:
    """The cope at ``points`` even clocks and at every break of its two edges."""
    check_points(points)
    wall = cluster.wall()
    outer, inner = grid_edges(cluster)
    check_meets(cluster, outer)
    refuse_blocked(cluster, even_clocks(STEPS), np.stack((outer, inner)))
    breaks = find_breaks(cluster, outer)
    inner_breaks = find_breaks(cluster, inner, wall)
    clock = merged(even_clocks(points), breaks.all, inner_breaks.all)
    if clock.size != STEPS or points != STEPS:
        outer, inner = cluster.entry(clock), cluster.entry(clock, wall)
    return _filled(cluster, clock, outer, inner, (breaks, inner_breaks))


def check_points(points: int) -> None:
    """Refuse a number of even clocks that no list should have."""
    if not LEAST_POINTS <= points <= MOST_POINTS:
        raise JointError(f"{points} points", f"give {LEAST_POINTS} to {MOST_POINTS}", "points")


def _filled(
    cluster: Cluster, clock: Floats, outer: Floats, inner: Floats, breaks: tuple[Breaks, Breaks]
) -> Cope:
    """The cope at clocks (n,) in degrees, its two edges (n,) in mm and their breaks known."""
    winner = cluster.winner(clock, outer)
    stretches = zip(breaks[0].starts.tolist(), breaks[0].ends.tolist(), strict=True)
    return Cope(clock, outer, inner, _dihedral(cluster, clock, outer, winner), winner,
                tuple(stretches), cluster, *breaks)


def _dihedral(cluster: Cluster, clock: Floats, outer: Floats, winner: Whole) -> Floats:
    """180 degrees less the angle (n,) between the outward normals (AWS D1.1 measures it so)."""
    points = cluster.skin(clock, outer)
    cosine = (cluster.normals(points, winner) * cluster.branch.normal(points)).sum(axis=-1)
    dihedral: Floats = np.degrees(np.arccos(np.clip(-cosine, -1.0, 1.0)))
    return dihedral


LEAST_POINTS = 8
MOST_POINTS = 14_400
