"""The bent tube: a round one whose centreline is a circle."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats, Whole
from coper.errors import ShapeError
from coper.shapes.checks import check_size, check_wall, wall_words
from coper.shapes.lines import Lines
from coper.shapes.plane import clockwise
from coper.shapes.words import TubeWords
from coper.tolerances import TOUCH_MM
from coper.units import format_size, plain

CLOSING_ROUNDS = 60
"""The most steps of the search between two bounds; six are enough unless a line grazes."""

Flags = NDArray[np.bool_]

CLOSED_MM = 1e-12
"""The search ends when no step is longer than this: a thousandth of what counts as a touch."""


@dataclass(frozen=True, slots=True)
class Bent:
    """A bent round tube as a main, taken as the whole ring.

    ::

              second
                |   branch
            .---+---.            centreline: a circle round (0, -radius) in the plane of
          .'    0    '. - - > third (along)      the second and the third coordinate
                |
                +  centre of the bend

    Attributes
    ----------
    diameter : float, mm
        Outside diameter.
    radius : float, mm
        From the centre of the bend to the tube's centreline.
    wall : float or None, mm
        Wall thickness; a main does not need it.
    """

    diameter: float
    radius: float
    wall: float | None = None

    kind: ClassVar[str] = "bent"
    patches: ClassVar[int] = 1
    forms: ClassVar[dict[str, str]] = {
        "25.4 bent to 120 x 0.9": "bent to a centreline radius (as a main)",
    }

    def __post_init__(self) -> None:
        check_size(self.diameter, "diameter")
        check_size(self.radius, "bend radius")
        check_wall(self.wall, self.diameter)
        if self.radius <= self.diameter / 2:
            raise ShapeError(
                f"bend radius {format_size(self.radius)} is too tight for "
                f"{format_size(self.diameter)}",
                f"give the radius of the centreline, above {format_size(self.diameter / 2)}",
            )

    @classmethod
    def from_words(cls, words: TubeWords) -> Bent | None:
        """The tube that ``words`` describe, or ``None`` where they describe another shape."""
        match tuple(part for part in words.parts if part[0] != "x"):
            case (("", diameter), ("bent to", radius)):
                return cls(diameter, radius, words.get("x"))
        return None

    @property
    def across(self) -> float:
        """The least width across it, mm."""
        return self.diameter

    def grown(self, by: float) -> Bent:
        """The same bend of a tube ``by`` mm larger in diameter."""
        return replace(self, diameter=self.diameter + by)

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return f"{plain(self.diameter)} bent to {plain(self.radius)}{wall_words(self.wall)}"

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line first enters, ``nan`` where it misses.

        Derived: from its point nearest the centre of the bend a line is ``x0 + s dx`` off the
        plane of the bend and ``sqrt(h^2 + s^2)`` from the centre. The ring is where
        ``F(s) = (s^2 + h^2 + G^2 - r^2)^2 - 4 G^2 (s^2 + h^2 - (x0 + s dx)^2)`` is below 0, with
        G the bend's radius and r the tube's. F has at most two minima, at roots of the
        cubic ``F' / 4``, which has no square term. Between a minimum that is inside and the next
        maximum, or the end of the ring, lies one root; the upper such root is the first entry.
        """
        return self.entries(lines).upper

    def entries(self, lines: Lines) -> Entries:
        """Every place (...,) in mm where each line enters."""
        points, directions = np.broadcast_arrays(
            self._centred(lines.points), lines.directions)
        length = np.sqrt((directions * directions).sum(axis=-1))
        directions = directions / length[..., None]
        nearest = -(points * directions).sum(axis=-1)
        points = points + nearest[..., None] * directions
        passing = (points * points).sum(axis=-1)
        near = np.sqrt(passing) <= self.radius + self.diameter / 2 + TOUCH_MM
        along = np.full((5, *length.shape), np.nan)
        along[:, near] = self._from_nearest(
            _Chords(passing[near], points[near, 0], directions[near, 0]))
        return Entries(*((nearest + along) / length))

    def _from_nearest(self, chords: _Chords) -> Floats:
        """The rows (5, n) of :class:`Entries`, from the points nearest the bend's centre."""
        square, lean = self.radius * self.radius, chords.lean
        low, top, upper = _turning_points(
            chords.passing + square - self.diameter**2 / 4 - 2 * square * (1 - lean) * (1 + lean),
            2 * square * chords.off * lean)
        reach = self.radius + self.diameter / 2
        end = np.sqrt(np.maximum(reach * reach - chords.passing, 0.0))
        by_upper = self._met(chords, upper)[0] <= TOUCH_MM
        inside, outside = np.where(by_upper, upper, low), np.where(by_upper, end, top)
        entered = self._met(chords, inside)[0] <= TOUCH_MM
        first = np.where(entered, self._closed(chords, inside, np.maximum(inside, outside)), np.nan)
        outward = first - (chords.off + first * lean) * lean > 0  # p p' of :meth:`_met`
        far = np.where(by_upper & (upper > top) & outward, first, np.nan)
        begun = self._met(chords, low)[0] <= TOUCH_MM
        parted, going = upper > top, _going_out(chords, first)
        far = np.where(by_upper & parted & (going > 0), first, np.nan)
        behind = np.where(~by_upper & parted & (going < 0), first, np.nan)
        second = np.where(begun | np.isnan(far), first, np.nan)
        twice = by_upper & begun & (self._met(chords, top)[0] > 0)
        if twice.any():
            second[twice] = self._closed(chords.of(twice), low[twice], top[twice])
        return np.stack((first, second, np.where(begun, low, upper), far, behind))

    def _closed(self, chords: _Chords, inside: Floats, outside: Floats) -> Floats:
        """Along (n,) in mm where each line meets the skin, between two bounds (n,).

        Newton's steps, or halvings where one would leave the bounds.
        """
        at = outside
        for _ in range(CLOSING_ROUNDS):
            off, rate = self._met(chords, at)
            inside, outside = np.where(off <= 0, at, inside), np.where(off <= 0, outside, at)
            step = -off / np.where(rate > 0, rate, np.inf)
            tried = at + step
            fits = (rate > 0) & (tried >= inside) & (tried <= outside)
            following = np.where(fits, tried, (inside + outside) / 2)
            if (np.abs(following - at) <= CLOSED_MM).all():
                return following
            at = following
        return at

    def _met(self, chords: _Chords, at: Floats) -> tuple[Floats, Floats]:
        """How far (n,) in mm each line is off the skin, negative inside, and its rate, at ``at``.

        Derived: with x off the plane of the bend, it is ``p = sqrt(h^2 + s^2 - x^2)`` from the
        bend's axis and ``q = sqrt((p - G)^2 + x^2)`` from the centreline, and ``p p' = s - x dx``.
        """
        x = chords.off + at * chords.lean
        around = np.sqrt(np.maximum(chords.passing + at * at - x * x, 0.0))
        out = around - self.radius
        away = np.sqrt(out * out + x * x)
        turning = out * (at - x * chords.lean) / np.where(around > 0, around, np.inf)
        rate: Floats = (turning + x * chords.lean) / np.where(away > 0, away, np.inf)
        return away - self.diameter / 2, rate

    def _off(self, centred: Floats) -> Floats:
        """Signed distance (...,) in mm of points (..., 3) from the centre of the bend."""
        out = np.hypot(centred[..., 1], centred[..., 2]) - self.radius
        off: Floats = np.hypot(out, centred[..., 0]) - self.diameter / 2
        return off

    def _outward(self, centred: Floats) -> Floats:
        """Outward unit normals (..., 3) at points (..., 3) in mm from the centre of the bend."""
        around = np.hypot(centred[..., 1], centred[..., 2])
        out = around - self.radius
        size = np.hypot(out, centred[..., 0])
        share = out / np.where(around > 0, around, 1.0)
        outward = np.stack(
            (centred[..., 0], share * centred[..., 1], share * centred[..., 2]), axis=-1)
        normals: Floats = outward / np.where(size > 0, size, 1.0)[..., None]
        return normals

    def _centred(self, points: Floats) -> Floats:
        """Points (..., 3) in mm, taken from the centre of the bend."""
        centred: Floats = points + np.array((0.0, self.radius, 0.0))
        return centred

    def patch(self, points: Floats) -> Whole:
        """All one piece: 0 (...,) for every one of ``points`` (..., 3)."""
        return np.zeros(points.shape[:-1], dtype=np.int64)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` (..., 3) to the skin, negative inside."""
        return self._off(self._centred(points))

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at ``points`` (..., 3), away from the centreline."""
        return self._outward(self._centred(points))

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Arcs (...,) along the centreline and round the tube, clockwise from ``side`` (2,), mm."""
        centred = self._centred(points)
        along = self.radius * np.arctan2(centred[..., 2], centred[..., 1])
        out = np.hypot(centred[..., 1], centred[..., 2]) - self.radius
        angle = clockwise(np.stack((centred[..., 0], out), axis=-1), side)
        return along, (self.diameter / 2 + lift) * angle

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The same (...,) in mm, as closely as a sheet can follow: a ring does not unroll.

        Lengths round the tube are true, lengths along it only on the two lines beside the
        centreline: shorter than the skin on the outside of the bend, longer on its inside.
        """
        return self.unrolled(points, side, lift)


@dataclass(frozen=True, slots=True, eq=False)
class Entries:
    """Where lines enter a ring, along (...,) in mm, ``nan`` where they do not.

    Attributes
    ----------
    upper, lower : (...,) float, mm
        The upper entry and the lower one; a line that meets the ring once has both the same.
    deepest : (...,) float, mm
        Where the line is deepest in the ring, or nearest to it, before the lower one.
    far : (...,) float, mm
        The upper one of a line that has run by the middle of the bend before it. If it has not
        been in the ring before that, it has no lower one.
    behind : (...,) float, mm
        The only one of a line that has yet to run by the middle of the bend, and misses it there.
    """

    upper: Floats
    lower: Floats
    deepest: Floats
    far: Floats
    behind: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Chords:
    """Lines through a ring, counted in mm from their points nearest the centre of the bend.

    Attributes
    ----------
    passing : (n,) float, mm^2
        The square of how far from the centre those are, h.
    off : (n,) float, mm
        How far off the plane of the bend they are, x0.
    lean : (n,) float
        What a mm of line adds to that, dx.
    """

    passing: Floats
    off: Floats
    lean: Floats

    def of(self, chosen: Flags) -> _Chords:
        """Those lines that are ``chosen`` (n,)."""
        return _Chords(self.passing[chosen], self.off[chosen], self.lean[chosen])


def _going_out(chords: _Chords, at: Floats) -> Floats:
    """Above 0 (n,) where lines go away from the bend's axis at ``at`` (n,), mm.

    It is ``p p'`` of :meth:`Bent._met`.
    """
    return at - (chords.off + at * chords.lean) * chords.lean


def _turning_points(linear: Floats, constant: Floats) -> tuple[Floats, Floats, Floats]:
    """The real roots (n,) of ``s^3 + linear s + constant``, rising; a single one three times.

    Both coefficients are (n,); roots are in mm.

    By Viete's cosines for three roots, Cardano's cube roots for one.
    """
    third, half = linear / 3, constant / 2
    under = half * half + third**3
    three = under <= 0
    reach = np.sqrt(np.maximum(-third, 0.0))
    cubed = np.where(three & (reach > 0), reach**3, 1.0)
    angle = np.arccos(np.clip(np.where(three, -half / cubed, 1.0), -1.0, 1.0)) / 3
    middle, apart = reach * np.cos(angle), math.sqrt(3) * reach * np.sin(angle)
    low, top, upper = -middle - apart, apart - middle, 2 * middle
    if not three.all():
        root = np.sqrt(np.maximum(under, 0.0))
        larger = -np.copysign(np.cbrt(np.abs(half) + root), half)
        alone = larger - np.where(larger != 0, third / np.where(larger != 0, larger, 1.0), 0.0)
        low, top, upper = (np.where(three, value, alone) for value in (low, top, upper))
    return low, top, upper
