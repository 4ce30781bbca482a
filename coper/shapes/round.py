"""The round tube."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from coper.shapes.checks import check_size, check_wall, plain
from coper.shapes.lines import Floats, Lines, Whole
from coper.shapes.words import TubeWords
from coper.tolerances import TOUCH_MM


@dataclass(frozen=True, slots=True)
class Round:
    """A round tube of one diameter.

    Attributes
    ----------
    diameter : float, mm
        Outside diameter.
    wall : float or None, mm
        Wall thickness; a main may leave it out.
    """

    diameter: float
    wall: float | None = None

    kind: ClassVar[str] = "round"
    patches: ClassVar[int] = 1
    forms: ClassVar[tuple[str, ...]] = ("28.6 x 0.9", "around 89.8 x 0.9")

    def __post_init__(self) -> None:
        check_size(self.diameter, "diameter")
        check_wall(self.wall, self.diameter)

    @classmethod
    def from_words(cls, words: TubeWords) -> Round | None:
        """The tube that ``words`` describe, or ``None`` where they describe another shape."""
        wall = words.get("x")
        match tuple(key for key in words.keys if key != "x"):
            case ("",):
                return cls(words.parts[0][1], wall)
            case ("around",):
                return cls(words.parts[0][1] / np.pi, wall)
        return None

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return plain(self.diameter) + ("" if self.wall is None else f" x {plain(self.wall)}")

    def reach(self) -> float:
        """The outside radius in mm."""
        return self.diameter / 2

    def generators(self, clock: Floats, depth: Floats | float = 0.0) -> Lines:
        """Lines parallel to the axis; ``clock`` in degrees, ``depth`` in mm inside the outside."""
        angle = np.radians(clock)
        radius = self.diameter / 2 - np.asarray(depth)
        across, up = radius * np.cos(angle), radius * np.sin(angle)
        points = np.stack((across, up, np.zeros_like(across)), axis=-1)
        return Lines(points, np.array((0.0, 0.0, 1.0)))

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line enters, ``nan`` where it misses.

        Derived: seen along the tube's axis, a line ``p + a d`` passes the centre at the distance
        ``h = |p x d| / |d|`` and is nearest at ``a0 = -p.d / d.d``; it is inside the circle for
        ``sqrt(R^2 - h^2) / |d|`` before and behind that. Written as ``(R - h)(R + h)`` the root
        keeps its digits where a line grazes the tube.
        """
        p, d = lines.points, lines.directions
        square = d[..., 0] ** 2 + d[..., 1] ** 2
        length = np.sqrt(square)
        passing = np.abs(p[..., 0] * d[..., 1] - p[..., 1] * d[..., 0]) / length
        radius = self.diameter / 2
        inside = radius - passing
        half = np.sqrt(np.where(inside < -TOUCH_MM, np.nan, np.maximum(inside, 0.0))
                       * (radius + passing)) / length
        nearest = (p[..., 0] * d[..., 0] + p[..., 1] * d[..., 1]) / square
        along: Floats = half - nearest
        return along

    def patch(self, points: Floats) -> Whole:
        """All one piece: 0 for every point."""
        return np.zeros(points.shape[:-1], dtype=np.int64)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` to the skin, negative inside."""
        return np.hypot(points[..., 0], points[..., 1]) - self.diameter / 2

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3): straight away from the axis."""
        flat = points * np.array((1.0, 1.0, 0.0))
        normals: Floats = flat / np.hypot(points[..., 0], points[..., 1])[..., None]
        return normals

    def girth(self) -> float:
        """The way round the outside, mm."""
        return float(np.pi * self.diameter)

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Unrolled by arc length; a sheet lifted off the tube is ``pi (D + 2 lift)`` long."""
        return np.asarray(clock) / 360 * np.pi * (self.diameter + 2 * lift), np.asarray(along)

    def unrolled(self, points: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Position along the axis, and arc from clock 90 growing towards clock 0, mm."""
        arc = (self.diameter / 2 + lift) * np.arctan2(points[..., 0], points[..., 1])
        return points[..., 2], arc
