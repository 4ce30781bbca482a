"""The rectangular tube, with round or sharp corners."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from coper.arrays import Floats, Whole
from coper.errors import ShapeError
from coper.shapes.checks import check_size, check_wall, wall_words
from coper.shapes.lines import Lines
from coper.shapes.plane import enter_circle, nearest_way
from coper.shapes.words import TubeWords
from coper.tolerances import TOUCH_MM
from coper.units import format_size, plain

QUARTER = math.pi / 2

FACE_DIRECTIONS = np.array(((0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0)))
"""Which way the outline runs along each face, counted from the one at clock 0."""

CORNER_SIGNS = np.array(((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)))
"""Where the corner at the end of each face lies."""

ENTERED_CORNERS = ((1.0, 1.0), (1.0, -1.0), (-1.0, 1.0))
"""The corners that a line with both components positive may enter."""


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangular tube; clock 0 is the middle of the face at the end of its first side.

    ::

             second
        .------+------.
        |      |      |   the outline is a rectangle of the corners' centres (the core),
        |      +------+ clock 0, first
        |             |   moved out by the corners' radius
        '-------------'

    Attributes
    ----------
    first, second : float, mm
        Outside widths, along the first and the second coordinate.
    corner : float, mm
        Outside radius of the corners, 0 for sharp ones.
    wall : float or None, mm
        Wall thickness; a main may leave it out.
    """

    first: float
    second: float
    corner: float = 0.0
    wall: float | None = None

    kind: ClassVar[str] = "box"
    patches: ClassVar[int] = 8
    straight: ClassVar[bool] = True
    forms: ClassVar[dict[str, str]] = {
        "box 40 by 20 corner 3 x 1.5": "rectangular: two sides, outside corner radius, wall",
    }

    def __post_init__(self) -> None:
        check_size(self.first, "first side")
        check_size(self.second, "second side")
        most = min(self.first, self.second) / 2
        if not 0 <= self.corner <= most:
            raise ShapeError(
                f"corner {format_size(self.corner)} does not fit a side of {format_size(2 * most)}",
                f"give a corner radius of 0 to {format_size(most)}",
            )
        check_wall(self.wall, 2 * most)

    @classmethod
    def from_words(cls, words: TubeWords) -> Box | None:
        """The tube that ``words`` describe, or ``None`` where they describe another shape."""
        match tuple(part for part in words.parts if part[0] != "x"):
            case (("box", first), ("by", second)):
                return cls(first, second, 0.0, words.get("x"))
            case (("box", first), ("by", second), ("corner", corner)):
                return cls(first, second, corner, words.get("x"))
        return None

    @property
    def across(self) -> float:
        """The least width across it, mm."""
        return min(self.first, self.second)

    def grown(self, by: float) -> Box:
        """The same box, ``by`` mm larger both ways; a corner's radius by half of it, if round."""
        corner = max(self.corner + by / 2, 0.0) if self.corner else 0.0
        return replace(self, first=self.first + by, second=self.second + by, corner=corner)

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        corner = f" corner {plain(self.corner)}" if self.corner else ""
        return f"box {plain(self.first)} by {plain(self.second)}{corner}{wall_words(self.wall)}"

    @property
    def core(self) -> Floats:
        """Half widths (2,) in mm of the rectangle of the corners' centres."""
        return np.array((self.first, self.second)) / 2 - self.corner

    def _pieces(self) -> Floats:
        """Arc (9,) in mm where each face and corner starts, from the start of the first face."""
        core, arc = 2 * self.core, QUARTER * self.corner
        lengths = (core[1], arc, core[0], arc, core[1], arc, core[0], arc)
        return np.concatenate(([0.0], np.cumsum(lengths)))

    def _outline(self, clock: Floats) -> tuple[Floats, Floats]:
        """Core points (..., 2) in mm and the normal's direction (...,) in radians, at ``clock``."""
        share = np.asarray(clock) / 360
        turns = np.floor(share)
        starts = self._pieces()
        arc = (share - turns) * self.girth() + self.core[1]
        piece = np.searchsorted(starts, arc, side="right") - 1
        into = arc - starts[piece]
        face, on_face = piece // 2, (piece % 2 == 0)
        bend = np.where(on_face, 0.0, into / (self.corner or 1.0))
        begin = np.where(on_face, face - 1, face) % 4
        step = np.where(on_face, into, 0.0)[..., None] * FACE_DIRECTIONS[face % 4]
        return CORNER_SIGNS[begin] * self.core + step, face * QUARTER + bend + turns * 2 * math.pi

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """Lines (...,) parallel to the axis; ``clock`` in degrees, ``depth`` in mm inside.

        Deeper than the corners' radius the core shrinks with the depth: the inside is sharp.
        """
        core, heading = self._outline(clock)
        depth = np.asarray(depth)
        radius = np.maximum(self.corner - depth, 0.0)
        most = np.minimum(self.core, self.core + self.corner - depth[..., None])
        x = np.clip(core[..., 0], -most[..., 0], most[..., 0]) + radius * np.cos(heading)
        y = np.clip(core[..., 1], -most[..., 1], most[..., 1]) + radius * np.sin(heading)
        return Lines(np.stack((x, y, np.zeros_like(x)), axis=-1), np.array((0.0, 0.0, 1.0)))

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """No end either way: (...,) and (...,) in mm, infinite."""
        return np.array(-np.inf), np.array(np.inf)

    def corners(self) -> Floats:
        """Clocks (k,) in degrees where a face meets a corner, outside or inside a thick wall."""
        starts = self._pieces()
        sharp = max((self.wall or 0.0) - self.corner, 0.0)
        faces = np.concatenate((starts[0:8:2] + sharp, starts[1:9:2] - sharp))
        arcs = np.concatenate((starts, faces)) - self.core[1]
        return np.unique(arcs % self.girth() / self.girth() * 360)

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line enters, ``nan`` where it misses.

        The box is mirrored so that each line points towards rising coordinates. It then enters
        through one of the two faces there, or through one of three corners.
        """
        p, d = lines.points, lines.directions
        dx, dy = np.abs(d[..., 0]), np.abs(d[..., 1])
        x, y = np.copysign(1.0, d[..., 0]) * p[..., 0], np.copysign(1.0, d[..., 1]) * p[..., 1]
        wide, high = self.core
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            by_first = (self.first / 2 - x) / dx
            by_second = (self.second / 2 - y) / dy
            best = np.fmax(
                np.where(np.abs(y + by_first * dy) <= high + TOUCH_MM, by_first, np.nan),
                np.where(np.abs(x + by_second * dx) <= wide + TOUCH_MM, by_second, np.nan))
        if self.corner:
            for right, up in ENTERED_CORNERS:
                across, above = x - right * wide, y - up * high
                entry = enter_circle(across, above, dx, dy, self.corner, TOUCH_MM)
                outer = ((right * (across + entry * dx) >= -TOUCH_MM)
                         & (up * (above + entry * dy) >= -TOUCH_MM))
                best = np.fmax(best, np.where(outer, entry, np.nan))
        return best

    def _beyond_core(self, points: Floats) -> Floats:
        """How far (..., 2) in mm ``points`` (..., 3) lie beyond the core either way."""
        return np.abs(points[..., :2]) - self.core

    def patch(self, points: Floats) -> Whole:
        """The faces 0, 2, 4, 6 from clock 0 on, and the corners between them (...,), by number.

        A line that grazes an edge may enter up to ``TOUCH_MM`` outside it; the point still belongs
        to the face whose plane it lies on.
        """
        beyond = self._beyond_core(points)
        off = np.abs(beyond - self.corner)
        second = off[..., 1] < off[..., 0]
        in_corner = (beyond > -TOUCH_MM).all(axis=-1) & (self.corner > 0)
        right, up = points[..., 0] >= 0, points[..., 1] >= 0
        face = np.where(second, np.where(up, 2, 6), np.where(right, 0, 4))
        corner = np.where(up, np.where(right, 1, 3), np.where(right, 7, 5))
        return np.where(in_corner, corner, face)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` (..., 3) to the skin, negative inside."""
        beyond = self._beyond_core(points)
        out = np.maximum(beyond, 0.0)
        distance: Floats = (np.hypot(out[..., 0], out[..., 1])
                            + np.minimum(beyond.max(axis=-1), 0.0) - self.corner)
        return distance

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at the skin points nearest ``points`` (..., 3)."""
        beyond = self._beyond_core(points)
        second = beyond[..., 1] > beyond[..., 0]
        corner = (beyond > 0).all(axis=-1)
        x = np.where(corner, beyond[..., 0], ~second)
        y = np.where(corner, beyond[..., 1], second)
        size = np.hypot(x, y) + 0.0 * points[..., 0]  # keeps the nan of a missing point
        return np.stack((np.copysign(x, points[..., 0]) / size,
                         np.copysign(y, points[..., 1]) / size, np.zeros_like(x)), axis=-1)

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round, mm: ``lift`` mm above the skin the corners are ``2 pi lift`` longer."""
        return float(4 * self.core.sum() + 2 * math.pi * (self.corner + lift))

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Unrolled by face and corner, (...,) and (...,) in mm; all corners are round if lifted."""
        _, heading = self._outline(clock)
        return np.asarray(clock) / 360 * self.girth() + lift * heading, np.asarray(along)

    def stretch(self, low: float, high: float) -> float:
        """None: a cylinder of any section unrolls exactly."""
        return 0.0

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Positions (...,) along the axis and arcs (...,) clockwise from ``side`` (2,), mm."""
        ray = np.array((side[0], side[1], 0.0))
        met = self.first_entry(Lines(np.zeros(3), ray)) * ray
        way = self._arc(met, lift) - self._arc(points, lift)
        return points[..., 2], nearest_way(way, self.girth(lift))

    def _arc(self, points: Floats, lift: float) -> Floats:
        """Arc (...,) in mm from clock 0 to skin points (..., 3), ``lift`` mm above the skin."""
        normal = self.normal(points)
        eighth = QUARTER / 2
        heading = np.arctan2(normal[..., 1], normal[..., 0])
        heading = (heading + eighth) % (2 * math.pi) - eighth
        face = np.nan_to_num((heading + eighth) // QUARTER).astype(np.int64)
        wide, high = self.core
        x, y = np.clip(points[..., 0], -wide, wide), np.clip(points[..., 1], -high, high)
        on_core = np.choose(face, (y, wide + high - x, 2 * wide + 2 * high - y,
                                   3 * wide + 3 * high + x))
        arc: Floats = on_core + (self.corner + lift) * heading
        return arc

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The same (...,): a cylinder of any section unrolls exactly."""
        return self.unrolled(points, side, lift)
