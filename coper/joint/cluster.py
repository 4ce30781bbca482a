"""A branch and the mains that it meets, all in the branch's own frame."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Whole
from coper.shapes.lines import Lines
from coper.shapes.pose import Pose
from coper.shapes.shape import BranchShape, MainShape, Returning
from coper.tolerances import NEVER_MM

OPEN = -1
"""The index of the main where a generator enters none."""

BEND_ROUNDS = 8
"""Times that a generator which bends inside the wall is followed by its tangent (Newton's steps:
each doubles the digits, and the first tangent is already within a tenth of a mm)."""

FOLLOWED_MM = 1e-7
"""A tangent that leads no further than this is followed to its end: the next step's error is its
square."""


SIDES = np.arange(0.0, 360.0, 45.0)
"""Clocks at which a taper of any section leans somewhere."""


@dataclass(frozen=True, slots=True)
class PlacedMain:
    """A main, and where its frame stands in the branch's."""

    shape: MainShape
    pose: Pose

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line of the branch's frame first enters, else ``nan``."""
        return self.shape.first_entry(self.pose.lines_inward(lines))

    def again(self, lines: Lines) -> Floats:
        """Along (...,) in mm where a bend comes round again to lines from its inside.

        ``nan`` where it does not, and of any other main.
        """
        if isinstance(self.shape, Returning):
            return self.shape.again(self.pose.lines_inward(lines))
        return np.full((), np.nan)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from points of the branch's frame to the skin."""
        return self.shape.distance(self.pose.inward(points))

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) in the branch's frame."""
        return self.pose.turned_outward(self.shape.normal(self.pose.inward(points)))

    def patch(self, points: Floats) -> Whole:
        """Which smooth piece (...,) of the skin points (..., 3) of the branch's frame lie on."""
        return self.shape.patch(self.pose.inward(points))


@dataclass(frozen=True, slots=True)
class Cluster:
    """A branch and the mains that it meets.

    The branch's axis is the third coordinate, its material lies at larger along than the cope,
    and its clock 0 is on the side of the first coordinate.
    """

    branch: BranchShape
    mains: tuple[PlacedMain, ...]

    def of(self, chosen: Whole) -> Cluster:
        """Some of many clusters, their numbers (j,) given; one by itself is as it is for all."""
        return Cluster(self.branch, tuple(
            PlacedMain(main.shape, main.pose.of(chosen)) for main in self.mains))

    def wall(self) -> float:
        """The branch's wall in mm; every branch has one by the time it is in a cluster."""
        assert self.branch.wall is not None
        return self.branch.wall

    @property
    def is_prismatic(self) -> bool:
        """Whether the branch has one section all along: its generators then run with its axis.

        Pushed along its axis such a branch meets what it met, by as much nearer or further.
        """
        return not self.branch.generators(SIDES).directions[..., :2].any()

    def skin(self, clock: Floats, along: Floats, depth: Floats | float = 0.0) -> Floats:
        """Points (n, 3) in mm of the branch at the given clocks and alongs."""
        return self.branch.generators(clock, depth, np.nan_to_num(along)).at(along)

    def entry(
        self, clock: Floats, depth: Floats | float = 0.0, never: float = NEVER_MM
    ) -> Floats:
        """Where the generators at ``clock`` and ``depth`` first enter a main.

        One that enters only ``never`` mm off, either way, enters none.

        Returns
        -------
        along : (...,) float, mm
            In the common shape of ``clock`` and ``depth``; the cut furthest up the tube wins, and
            ``nan`` stands where a generator enters no main.
        """
        best = self._first(self.branch.generators(clock, depth), depth, never)
        if not self.branch.straight and np.any(depth):
            for _ in range(BEND_ROUNDS):
                near, missed = np.nan_to_num(best), np.isnan(best)
                found = self._first(self.branch.generators(clock, depth, near), depth, never)
                best = np.where(missed, np.nan, found)  # once past the main, always past it
                if (np.abs(np.nan_to_num(best) - near) <= FOLLOWED_MM).all():
                    break
        return best

    def _first(self, lines: Lines, depth: Floats | float, never: float) -> Floats:
        """The furthest entry (...,) of each line, of those where the branch has not closed."""
        low, high = (np.clip(end, -never, never) for end in self.branch.extent(depth))
        best = np.full((), np.nan)
        for main in self.mains:
            entry = main.first_entry(lines)
            best = np.fmax(best, np.where((entry > low) & (entry < high), entry, np.nan))
        return best

    def winner(self, clock: Floats, along: Floats, depth: Floats | float = 0.0) -> Whole:
        """The index (...,) of the main that gave each ``along`` (...,), ``OPEN`` where none did."""
        winner = np.where(np.isnan(along), OPEN, 0)
        if len(self.mains) > 1:
            near = np.nan_to_num(along)
            lines = self.branch.generators(clock, depth, near)
            entries = np.stack([main.first_entry(lines) for main in self.mains])
            nearest = np.argmin(np.nan_to_num(np.abs(entries - along), nan=np.inf), axis=0)
            winner = np.where(winner == OPEN, OPEN, nearest)
        return winner

    def piece(self, clock: Floats, along: Floats, depth: Floats | float = 0.0) -> Whole:
        """A label (...,) of the smooth piece of skin that each generator enters, or ``OPEN``.

        Two neighbouring generators with different labels have a kink or an open end between them.
        """
        winner = self.winner(clock, along, depth)
        if all(main.shape.patches == 1 for main in self.mains):
            return winner
        points = self.skin(clock, along, depth)
        label = winner.copy()
        for index, main in enumerate(self.mains):
            won = winner == index
            label[won] += len(self.mains) * main.patch(points[won])
        return label

    def normals(self, points: Floats, winner: Whole) -> Floats:
        """Outward unit normals (n, 3) of the winning mains at ``points``; ``nan`` where open."""
        if len(self.mains) == 1:
            return self.mains[0].normal(points)
        normals = np.full(points.shape, np.nan)
        for index, main in enumerate(self.mains):
            won = winner == index
            normals[won] = main.normal(points[won])
        return normals
