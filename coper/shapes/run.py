"""A straight-and-bent tube as a branch meets it: on the part of it that the branch comes to.

::

       .-----------.        a branch that ends on one leg of a hoop passes the other leg, or the
      |   ========  |       bend across it, on its way: of the whole centreline only that counts
      |   branch    |       which lies beside the branch's axis without a break from its foot on
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats, Whole
from coper.search import lowest
from coper.shapes.bent import Bent
from coper.shapes.course import Course, Stretch
from coper.shapes.lines import Lines
from coper.shapes.pose import Pose
from coper.shapes.round import Round
from coper.shapes.shape import MainShape
from coper.shapes.swept import swept_entry
from coper.tolerances import EVEN_MM, FOLLOWED, TOUCH_MM

TRIED = 65
"""Places on each stretch that are tried for the one nearest a line, and for how near it is."""

EVERYWHERE = (-np.inf, np.inf)


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """A tube along a course as a main: legs and bends as one.

    Attributes
    ----------
    shape : MainShape
        The straight tube, its along counted as the course's stations.
    course : Course
    between : (float, float), mm
        The stations between which there is a tube.
    window : (float, float), mm
        The stations beside the branch; outside them the tube may come round to it again.
    """

    shape: MainShape
    course: Course
    between: tuple[float, float] = EVERYWHERE
    window: tuple[float, float] = EVERYWHERE

    @property
    def kind(self) -> str:
        """The straight tube's own."""
        return self.shape.kind

    @property
    def patches(self) -> int:
        """The straight tube's, for every stretch."""
        return self.shape.patches * len(self.course.stretches)

    @property
    def across(self) -> float | None:
        """The straight tube's own, mm."""
        return self.shape.across

    def grown(self, by: float) -> Run:
        """The same course of a tube ``by`` mm larger wherever a caliper measures across it."""
        return replace(self, shape=self.shape.grown(by))

    def seen_from(self, other: Pose) -> Run:
        """The same tube in the axes of ``other``."""
        return replace(self, course=self.course.seen_from(other))

    def words(self) -> str:
        """The straight tube in the grammar of the command line, in mm."""
        return self.shape.words()

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line first enters beside the branch, else ``nan``."""
        return self._entry(lines, *self.window)

    def again(self, lines: Lines) -> Floats:
        """Along (...,) in mm where lines come to the tube again past the place they first entered.

        ``nan`` where they never do; the first entry itself where that lies within the tube.
        """
        first = self.first_entry(lines)
        beyond = np.full(first.shape, np.nan)
        for low, high in ((-np.inf, self.window[0]), (self.window[1], np.inf)):
            if low < high:
                entry = self._entry(lines, low, high)
                beyond = np.fmin(beyond, np.where(entry > first, entry, np.nan))
        with np.errstate(invalid="ignore"):
            within = self.distance(lines.at(np.nan_to_num(first))) < -EVEN_MM
        again: Floats = np.where(within & np.isfinite(first), first, beyond)
        return again

    def _entry(self, lines: Lines, low: float, high: float) -> Floats:
        """Where lines (...,) first enter what stands between the stations ``low`` and ``high``."""
        shape = np.broadcast_shapes(lines.points.shape, lines.directions.shape)[:-1]
        best = np.full(shape, np.nan)
        last = len(self.course.stretches) - 1
        low, high = max(low, self.between[0]), min(high, self.between[1])
        for index, part in enumerate(self.course.stretches):
            start = low if index == 0 else max(low, part.low)
            end = high if index == last else min(high, part.high)
            if start <= end:
                best = np.fmax(best, self._stretch_entry(lines, part, start, end))
        return best

    def _stretch_entry(self, lines: Lines, part: Stretch, low: float, high: float) -> Floats:
        """The same on one stretch. What enters through its flat end comes out of its neighbour."""
        entries: tuple[Floats, ...]
        if not part.is_bend:
            entries = (self.shape.first_entry(_on_leg(lines, part)),)
        elif isinstance(self.shape, Round):
            ring, pose = as_ring(self.shape, part)
            found = ring.entries(pose.lines_inward(lines))
            entries = (found.upper, found.lower)
        else:
            return swept_entry(self.shape, part, lines, low, high)
        best = np.full((), np.nan)
        for entry in entries:
            station = part.straightened(lines.at(np.nan_to_num(entry)))[..., 2]
            on_it = (station >= low - TOUCH_MM) & (station <= high + TOUCH_MM)
            best = np.fmax(best, np.where(on_it, entry, np.nan))
        return best

    def station(self, points: Floats) -> Floats:
        """Stations (...,) in mm of points (..., 3)."""
        station: Floats = self.course.straightened(points)[..., 2]
        return station

    def patch(self, points: Floats) -> Whole:
        """Number (...,) of the smooth piece of skin each of ``points`` (..., 3) lies on."""
        own = self.course.straightened(points)
        return self.shape.patch(own) + self.shape.patches * self.course.number(own[..., 2])

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` to the skin, negative inside.

        Exact where the section is the same all along: the nearest place of the skin is in the
        section that a point lies in.
        """
        return self.shape.distance(self.course.straightened(points))

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at the skin points nearest ``points``."""
        own = self.course.straightened(points)
        axes = self.course.frames(own[..., 2]).axes
        normals: Floats = (self.shape.normal(own)[..., None] * axes).sum(axis=-2)
        return normals

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The straight tube's own, (...,) and (...,) in mm, by stations from the branch's foot."""
        return self.shape.unrolled(self.course.straightened(points), side, lift)

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """As it lies on the straight tube, (...,) and (...,) in mm: a bend does not unroll."""
        return self.shape.flattened(self.course.straightened(points), side, lift)

    def foot(self, point: Floats, direction: Floats) -> float:
        """The station where the centreline passes a line nearest: of equals, near ``point`` (3,).

        The line goes through ``point`` along the unit ``direction`` (3,).
        """
        tried = self._tried()
        passing = self._passing(tried, point, direction)
        rising = np.diff(passing, append=np.inf) >= 0
        falling = np.diff(passing, prepend=np.inf) <= 0
        feet = np.flatnonzero(rising & falling & (passing <= passing.min() + _width(self.shape)))
        away = np.linalg.norm(self.course.frames(tried[feet]).origin - point, axis=-1)
        best = int(feet[away.argmin()])
        step = float(np.diff(tried)[max(best - 1, 0):best + 1].max())
        near = tried[best] + step * np.array((-1.0, 0.0, 1.0))
        at, = lowest(lambda station: self._passing(station, point, direction), near, FOLLOWED).first
        return float(np.clip(at[0], 0.0, self.course.length))

    def met_at(self, point: Floats, direction: Floats, reach: float) -> Run:
        """The same tube as a main of a branch that ends at ``point`` (3,) along ``direction``.

        No place of the branch is further than ``reach`` mm from its axis. Where they touch, that
        and half the main's width is the most that their axes can be apart.
        """
        tried, foot = self._tried(), self.foot(point, direction)
        apart = self._passing(tried, point, direction) > reach + _width(self.shape)
        before, after = apart & (tried < foot), apart & (tried > foot)
        low = float(tried[before].max()) if before.any() else -np.inf
        high = float(tried[after].min()) if after.any() else np.inf
        return replace(self, window=(low, high))

    def _tried(self) -> Floats:
        """Stations (n,) on the whole of the course, mm."""
        return np.unique(np.concatenate([
            np.linspace(part.low, part.high, TRIED) for part in self.course.stretches]))

    def _passing(self, station: Floats, point: Floats, direction: Floats) -> Floats:
        """How far (...,) in mm places of the centreline are from a line."""
        off = self.course.frames(station).origin - point
        square = off - (off @ direction)[..., None] * direction
        passing: Floats = np.sqrt((square * square).sum(axis=-1))
        return passing


def as_ring(shape: Round, part: Stretch) -> tuple[Bent, Pose]:
    """A bend of a round tube as a whole ring, and where that stands: its crown mid-bend."""
    middle = part.frames(np.array((part.low + part.high) / 2))
    one, other = part.inward
    out = -(one * middle.axes[0] + other * middle.axes[1])
    ahead = middle.axes[2]
    return (Bent(shape.diameter, part.radius, shape.wall),
            Pose(middle.origin, np.stack((np.cross(out, ahead), out, ahead))))


def _on_leg(lines: Lines, part: Stretch) -> Lines:
    """Lines (...,) in the frame of a straight stretch, along counted as stations."""
    own = part.pose.lines_inward(lines)
    return Lines(own.points + np.array((0.0, 0.0, part.low)), own.directions)


def _width(shape: MainShape) -> float:
    """No less than half the main's greatest width, mm."""
    turn = np.radians(np.arange(0.0, 360.0, 15.0))
    ray = np.stack((np.cos(turn), np.sin(turn), np.zeros_like(turn)), axis=-1)
    return float(FAR_MM - shape.distance(FAR_MM * ray).min())


FAR_MM = 1e4
"""Further out than any tube is wide."""
