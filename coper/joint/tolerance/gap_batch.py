"""The largest gaps of many joints at once, each with errors of its own.

The seating of :mod:`coper.joint.fit.fit` on arrays of (joints, depths, clocks), told in the clock
of the cut. It looks at fewer places than a full fit-up. Held against one on 4500 gaps of random
joints of every branch on every main, bevelled and square, with usual errors: 99 in 100 agree
within 0.002 mm, all of branches that meet their main all round within 0.005 mm. Of the thousand
that overhang it five are off by more than 0.01 mm, at tips: four by up to 0.03 mm, the fifth, of
9.6 mm on the far side of a ring, by 0.3 mm.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Self

import numpy as np

from coper.arrays import Floats, Whole
from coper.errors import ShapeError
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks, merged
from coper.joint.fit.face import Face, cut_face, raised
from coper.joint.fit.highest import ROUNDS, Places, Value, closed_in, grid_peaks
from coper.joint.fit.tabled import tabled
from coper.joint.fit.touch import break_clocks
from coper.joint.joint import Joint
from coper.joint.template import Cut
from coper.joint.wall import DEPTHS

CLOCKS = 72
"""Even clocks of the grid: every five degrees, as a cope goes round no more than a few times."""

NEAR_DEG = np.linspace(-5.0, 5.0, 21)
"""Clocks about each break of the cut that are in the grid too: a mounted joint has its own breaks
some degrees beside them, and the first touch is often on one."""

SHARES = np.array(((0.0,), (0.5,), (1.0,)))
"""Depths of the grid, as shares of the wall: the first touch is nearly always at an edge."""

SMOOTH_ROUNDS, BROKEN_ROUNDS = 2, 5
"""Windows at least for an edge without breaks, and with them: a ridge may pass unseen at first."""

TOGETHER = 64
"""Joints that are reckoned together: their arrays still fit a processor's own memory."""

PUSHES = 30
"""Times that a taper is pushed on; a tube of one section is home after the first."""

HOME_MM = 2e-3
"""An end is home after a push that is shorter: it leaves a few hundredths of it, and 0.01 mm is
what is promised."""

FAR_MM = 0.1
"""A longer push may bring quite another place to the main: the whole grid is tried again."""


@dataclass(frozen=True, slots=True, eq=False)
class Errors:
    """What is wrong with each of m joints, all (m,).

    Attributes
    ----------
    angle : float, degrees
        Added to the angle between the axes.
    turn : float, degrees
        By which the cope stands turned on its tube: what was meant for clock c is at c + turn.
    offset : float, mm
        Added to the offset.
    diameter : float, mm
        By which the main is larger than the one that the end was cut for; see ``MainShape.grown``.
    length : float, mm
        By which the tube is too short (or, below 0, too long) between two fixed ends: it then
        stands so far from its first touch, at this end or at the other one. A tube that can be
        pushed home has none.
    """

    angle: Floats
    turn: Floats
    offset: Floats
    diameter: Floats
    length: Floats

    @classmethod
    def none(cls, joints: int) -> Self:
        """No errors."""
        return cls(*(np.zeros(joints) for _ in fields(cls)))

    def of(self, chosen: Whole) -> Errors:
        """The errors of some of the joints."""
        return Errors(*(getattr(self, item.name)[chosen] for item in fields(self)))


def gap_batch(joint: Joint, cut: Cut) -> GapBatch:
    """The model of an end that was cut for ``joint``."""
    face = cut_face(joint, cut)
    breaks = break_clocks(face.cluster)
    if cut == "square":
        face = tabled(face, breaks)
    clocks = merged(even_clocks(CLOCKS), np.ravel(breaks[:, None] + NEAR_DEG) % 360)
    return GapBatch(joint, face, clocks, face.station(clocks, SHARES * face.cluster.wall()),
                    BROKEN_ROUNDS if breaks.size else SMOOTH_ROUNDS)


@dataclass(frozen=True, slots=True, eq=False)
class GapBatch:
    """An end with a ``face``, and the joint that it was cut for.

    Attributes
    ----------
    clocks : (n,) float, degrees
        The grid, told in the cut's own clock, its breaks among it.
    cut : (depths, n) float, mm
        Along of the face on the grid, at the depths of ``SHARES``.
    rounds : int
        Windows that are tried at least when a place is closed in on.
    """

    joint: Joint
    face: Face
    clocks: Floats
    cut: Floats
    rounds: int

    def largest(self, errors: Errors) -> Floats:
        """The largest gap (m,) in mm on the outside of each joint, as it is put together.

        ``inf`` where it cannot be: no angle is left between the axes, nothing of the main is, or
        the end meets it nowhere.
        """
        largest = np.full(errors.angle.shape, np.inf)
        angle = self.joint.angle + errors.angle
        stands = (angle > 0) & (angle < 180)
        for diameter in np.unique(errors.diameter):
            chosen = np.flatnonzero(stands & (errors.diameter == diameter))
            try:
                joint = replace(self.joint, main=self.joint.main.grown(float(diameter)))
            except ShapeError:
                continue
            for start in range(0, chosen.size, TOGETHER):
                some = chosen[start:start + TOGETHER]
                largest[some] = self._largest(joint, errors.of(some))
        return largest

    def _largest(self, joint: Joint, errors: Errors) -> Floats:
        """The same of a few joints on mains of one size."""
        slide = self._slide(joint, errors)
        seated = np.flatnonzero(np.isfinite(slide))
        largest = np.full(slide.shape, np.inf)
        if seated.size:
            errors = errors.of(seated)
            away = slide[seated] + np.abs(errors.length)
            largest[seated] = self._gap(_raised(joint, errors, away), errors.turn[:, None, None])
        return largest

    def _slide(self, joint: Joint, errors: Errors) -> Floats:
        """How far (m,) in mm each end sits from where the design puts it, ``nan`` if nowhere.

        As in :func:`coper.joint.fit.touch.first_touch`; ends that are home are not pushed on.
        """
        slide, left, near = np.zeros(errors.angle.shape), np.arange(errors.angle.size), None
        wall = self.face.cluster.wall()
        for _ in range(PUSHES):
            home = _raised(joint, errors.of(left), slide[left])
            turn = errors.turn[left, None, None]
            value = self._overlap(home, turn)
            if near is None:
                grid = _or_none(home.entry(self.clocks + turn, SHARES * wall) - self.cut)
                near, rounds = grid_peaks(grid, self.clocks, SHARES[:, 0] * wall), self._least(grid)
            else:
                near = near.told_by(value)
            if home.is_prismatic or _longest(near) <= FAR_MM:
                near = closed_in(value, near, 360.0 / CLOCKS, wall, rounds)
            rise = np.where(np.isneginf(near.most), np.nan, near.most)
            slide[left] += rise
            on = np.flatnonzero(np.abs(rise) > HOME_MM)
            if home.is_prismatic or not on.size:
                return slide
            left, near = left[on], None if _longest(near) > FAR_MM else near.of(on)
        slide[left] = np.nan
        return slide

    def _overlap(self, home: Cluster, turn: Floats) -> Value:
        """How far in mm generators enter the mains above the cut."""
        def value(clock: Floats, depth: Floats) -> Floats:
            return _or_none(home.entry(clock + turn, depth) - self.face.station(clock, depth))

        return value

    def _gap(self, home: Cluster, turn: Floats) -> Floats:
        """The largest distance (m,) in mm from the outer edge to the mains, ``inf`` if none is."""
        through = np.linspace(0.0, home.wall(), DEPTHS)[:, None]

        def value(clock: Floats, depth: Floats) -> Floats:
            points = home.skin(clock + turn, self.face.station(clock, depth))
            gap = np.min([main.distance(points) for main in home.mains], axis=0)
            meets = home.entry(clock + turn)
            if np.isnan(meets).any():  # the outside misses, but the wall need not
                met = _or_none(home.entry(clock + turn, through)).max(axis=1, keepdims=True)
                meets = np.where(np.isneginf(met), np.nan, met)
            return _or_none(np.where(np.isnan(meets), np.nan, gap))

        grid = value(self.clocks[None, None], np.zeros(1))
        near = grid_peaks(grid, self.clocks, np.zeros(1))
        most = closed_in(value, near, 360.0 / CLOCKS, 0.0, self._least(grid)).most
        return np.where(np.isneginf(most), np.inf, np.maximum(most, 0.0))

    def _least(self, grid: Floats) -> int:
        """Windows at least: all where an edge is open, as it ends in a tip there."""
        return self.rounds if np.isfinite(grid).all() else ROUNDS


def _raised(joint: Joint, errors: Errors, slide: Floats) -> Cluster:
    """The joints as they are put together, each ``slide`` (m,) mm away from its mains."""
    return raised(joint.clusters(errors.angle, errors.offset), -slide[:, None, None, None])


def _longest(near: Places) -> float:
    """The longest push in mm that the places ask for, ends that meet nothing left out."""
    most = near.most
    return float(np.abs(most[np.isfinite(most)]).max(initial=0.0))


def _or_none(height: Floats) -> Floats:
    """Heights, ``-inf`` for those that are ``nan``."""
    return np.nan_to_num(height, nan=-np.inf)
