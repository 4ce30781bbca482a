"""The centreline of a tube that is straight, bent, straight and so on.

::

          corner o - - - - -.          o : where the straight axes would meet
                /  .--------------     low, high: stations along the centreline,
               / .'                    from the start point
    start     o-'
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from coper.arrays import Floats, Whole
from coper.errors import ShapeError
from coper.shapes.pose import Pose
from coper.tolerances import EVEN_MM, PARALLEL_DEG
from coper.units import format_size, plain

MOST_DEG = 179.0
"""A bend of more has its corner so far out that a mm there turns the legs by degrees."""


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """A straight or a bent piece of a centreline.

    A section is carried along without a twist: a line drawn along the straight tube before it is
    bent is at one clock all the way.

    Attributes
    ----------
    low, high : float, mm
        Stations of its two ends.
    pose : Pose
        The section's first axis, its second and the way ahead at ``low``, where its origin is.
    radius : float, mm
        Of a bend's centreline; infinite where it is straight.
    inward : (2,) float
        Of a bend, the unit direction in the section to its centre.
    """

    low: float
    high: float
    pose: Pose
    radius: float
    inward: Floats

    @property
    def is_bend(self) -> bool:
        """Whether it is bent."""
        return math.isfinite(self.radius)

    @property
    def angle(self) -> float:
        """Of a bend, in radians; 0 where it is straight."""
        return (self.high - self.low) / self.radius

    def seen_from(self, other: Pose) -> Stretch:
        """The same stretch in the axes of ``other``."""
        return replace(self, pose=self.pose.seen_from(other))

    def frames(self, station: Floats) -> Pose:
        """The section's frames (...,) at stations (...,) in mm, beyond both ends too."""
        ahead = self.pose.axes[2]
        past = np.asarray(station - self.low)[..., None]
        if not self.is_bend:
            axes = np.broadcast_to(self.pose.axes, (*past.shape[:-1], 3, 3))
            return Pose(self.pose.origin + past * ahead, axes)
        inward, aside = self._plane()
        cos, sin = np.cos(past / self.radius), np.sin(past / self.radius)
        now, way = cos * inward - sin * ahead, cos * ahead + sin * inward
        one, other = self.inward
        rows = (one * now - other * aside, other * now + one * aside, way)
        return Pose(self._centre() - self.radius * now, np.stack(rows, axis=-2))

    def straightened(self, points: Floats) -> Floats:
        """Where points (..., 3) are in the straight tube: across, across, and station; mm.

        A bend's are those of the half turn either way from its middle.
        """
        if not self.is_bend:
            own = self.pose.inward(points)
            own[..., 2] += self.low
            return own
        middle = self.frames(np.array((self.low + self.high) / 2))
        one, other = self.inward
        inward = one * middle.axes[0] + other * middle.axes[1]
        from_centre = points - self._centre()
        out, ahead = -(from_centre @ inward), from_centre @ middle.axes[2]
        rise, beside = self.radius - np.hypot(out, ahead), from_centre @ self._plane()[1]
        station = (self.low + self.high) / 2 + self.radius * np.arctan2(ahead, out)
        return np.stack((one * rise - other * beside, other * rise + one * beside, station),
                        axis=-1)

    def _plane(self) -> tuple[Floats, Floats]:
        """At the bend's start the way to its centre, and square to its plane, both (3,)."""
        first, second, _ = self.pose.axes
        one, other = self.inward
        return one * first + other * second, one * second - other * first

    def _centre(self) -> Floats:
        centre: Floats = self.pose.origin + self.radius * self._plane()[0]
        return centre


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """A whole centreline: straight, bent, straight; a straight piece may be 0 long."""

    stretches: tuple[Stretch, ...]

    @property
    def length(self) -> float:
        """Along the centreline, mm."""
        return self.stretches[-1].high

    @property
    def bends(self) -> tuple[Stretch, ...]:
        """Those stretches that are bent, from the start on."""
        return tuple(part for part in self.stretches if part.is_bend)

    def seen_from(self, other: Pose) -> Course:
        """The same course in the axes of ``other``."""
        return Course(tuple(part.seen_from(other) for part in self.stretches))

    def number(self, station: Floats) -> Whole:
        """On which stretch (...,) stations (...,) in mm are; the legs go on past both ends."""
        joints = np.array([part.high for part in self.stretches[:-1]])
        found: Whole = np.searchsorted(joints, station, side="right")
        return found

    def frames(self, station: Floats) -> Pose:
        """The section's frames (...,) at stations (...,) in mm; the legs go on past both ends."""
        station = np.asarray(station, dtype=np.float64)
        number = self.number(station)
        origin, axes = np.empty((*station.shape, 3)), np.empty((*station.shape, 3, 3))
        for index, part in enumerate(self.stretches):
            here = number == index
            if here.any():
                frames = part.frames(station[here])
                origin[here], axes[here] = frames.origin, frames.axes
        return Pose(origin, axes)

    def straightened(self, points: Floats) -> Floats:
        """Where points (..., 3) are in the straight tube: across, across, and station; mm.

        Of the stretches that a point lies beside, the nearest counts.
        """
        best = self.stretches[0].straightened(points)
        least = np.full(points.shape[:-1], np.inf)
        for index, part in enumerate(self.stretches):
            own = part.straightened(points)
            low = -np.inf if index == 0 else part.low
            high = np.inf if index == len(self.stretches) - 1 else part.high
            held = np.clip(own[..., 2], low, high)
            away = np.linalg.norm(points - part.frames(held).origin, axis=-1)
            nearer = away < least
            best, least = np.where(nearer[..., None], own, best), np.where(nearer, away, least)
        return best


def straight_course(pose: Pose, length: float) -> Course:
    """A course without a bend."""
    return Course((Stretch(0.0, length, pose, math.inf, np.zeros(2)),))


def check_apart(points: Floats) -> None:
    """Refuse two of ``points`` (k, 3) that follow each other and are the same."""
    for leg, size in enumerate(np.linalg.norm(np.diff(points, axis=0), axis=1)):
        if size <= EVEN_MM:
            raise ShapeError(f"{_point_name(leg, len(points))} and "
                             f"{_point_name(leg + 1, len(points))} are the same point",
                             "move one of them")


def make_course(points: Floats, radii: ArrayLike, axes: Floats) -> Course:
    """The course from the first of ``points`` (k, 3) to the last, bent at those between, in mm.

    No two of them that follow each other are the same.

    Parameters
    ----------
    points
        The start, the corners and the end.
    radii : (k - 2,) float, mm
        Of the centreline at each corner.
    axes : (3, 3) float
        The section's first axis, its second and the way ahead at the first point.

    Raises
    ------
    ShapeError
        Where a corner does not bend, or there is no room for a straight piece.
    """
    legs = np.diff(points, axis=0)
    lengths = np.linalg.norm(legs, axis=1)
    ways = legs / lengths[:, None]
    angles = [_turning(ways[corner], ways[corner + 1], corner) for corner in range(len(ways) - 1)]
    radii = np.asarray(radii, dtype=np.float64)
    tangents = radii * np.tan(np.array(angles) / 2)
    straight = lengths - np.append(tangents, 0.0) - np.append(0.0, tangents)
    _check_straight(straight, len(points))
    return _stretched(Pose(points[0], axes), np.maximum(straight, 0.0), ways, radii, angles)


def _turning(before: Floats, after: Floats, corner: int) -> float:
    """The angle in radians between two ways (3,), as a bend can have it."""
    angle = math.atan2(float(np.linalg.norm(np.cross(before, after))), float(before @ after))
    if math.degrees(angle) < PARALLEL_DEG:
        raise ShapeError(f"corner {corner + 1} lies on a straight line: nothing bends there",
                         "take it out, or move it")
    if math.degrees(angle) > MOST_DEG:
        raise ShapeError(f"at corner {corner + 1} the tube turns back on itself, by "
                         f"{plain(round(math.degrees(angle), 2))} degrees",
                         "make two bends of it, with a corner each")
    return angle


def _check_straight(straight: Floats, count: int) -> None:
    """Refuse a straight piece of (k - 1,) that is shorter than none."""
    leg = int(straight.argmin())
    if straight[leg] < -EVEN_MM:
        raise ShapeError(
            f"from {_point_name(leg, count)} to {_point_name(leg + 1, count)} the bends need "
            f"{format_size(round(-float(straight[leg]), 2))} more than there is",
            "move the points apart, or bend it tighter", "corners")


def _point_name(index: int, count: int) -> str:
    if index == 0:
        return "the start"
    return "the end" if index == count - 1 else f"corner {index}"


def _stretched(
    pose: Pose, straight: Floats, ways: Floats, radii: Floats, angles: list[float]
) -> Course:
    """Leg by leg and bend by bend; ``straight`` (k - 1,) in mm, ``ways`` (k - 1, 3)."""
    found: list[Stretch] = []
    station = 0.0
    for leg, length in enumerate(straight.tolist()):
        found.append(Stretch(station, station + length, pose, math.inf, np.zeros(2)))
        station += length
        if leg == len(angles):
            break
        at = found[-1].frames(np.array(station))
        across = (at.axes @ ways[leg + 1])[:2]
        arc = angles[leg] * radii[leg]
        found.append(Stretch(station, station + arc, at, float(radii[leg]),
                             across / np.linalg.norm(across)))
        station += arc
        pose = found[-1].frames(np.array(station))
    return Course(tuple(found))
