"""The oval tube: an ellipse of one size."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from coper.arrays import Floats, Whole
from coper.shapes.checks import check_oval, check_wall, wall_words
from coper.shapes.ellipse import Ellipse
from coper.shapes.lines import Lines
from coper.shapes.plane import enter_circle, nearest_way
from coper.shapes.words import TubeWords
from coper.tolerances import TOUCH_MM
from coper.units import plain


@dataclass(frozen=True, slots=True)
class Oval:
    """An oval tube of one size.

    Clock 0 is an end of the major axis, which lies along the first coordinate.

    Attributes
    ----------
    major, minor : float, mm
        The longest and the shortest way across, outside.
    wall : float or None, mm
        Wall thickness; a main may leave it out.
    """

    major: float
    minor: float
    wall: float | None = None

    kind: ClassVar[str] = "oval"
    patches: ClassVar[int] = 1
    straight: ClassVar[bool] = True
    forms: ClassVar[dict[str, str]] = {
        "oval 30 by 17 x 0.9": "oval: major by minor",
    }

    def __post_init__(self) -> None:
        check_oval(self.major, self.minor)
        check_wall(self.wall, self.minor)

    @classmethod
    def from_words(cls, words: TubeWords) -> Oval | None:
        """The tube that ``words`` describe, or ``None`` where they describe another shape."""
        match tuple(part for part in words.parts if part[0] != "x"):
            case (("oval", major), ("by", minor)):
                return cls(major, minor, words.get("x"))
        return None

    @property
    def across(self) -> float:
        """The least width across it, mm."""
        return self.minor

    def grown(self, by: float) -> Oval:
        """The same oval, ``by`` mm larger both ways."""
        return replace(self, major=self.major + by, minor=self.minor + by)

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return f"oval {plain(self.major)} by {plain(self.minor)}{wall_words(self.wall)}"

    @property
    def outline(self) -> Ellipse:
        """The section's outside."""
        return Ellipse(self.major / 2, self.minor / 2)

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """Lines (...,) parallel to the axis; ``clock`` in degrees, ``depth`` in mm inside.

        Derived: moved inwards square to the outline, a point reaches the major axis at the depth
        ``b v / a``, with ``v`` the length of the normal ``(b cos, a sin)``. Deeper than that the
        inside has a sharp end, ``sqrt((1 - depth^2 / b^2)(a^2 - b^2))`` from the middle.
        """
        outline = self.outline
        a, b = outline.a, outline.b
        t = outline.eccentric(np.asarray(clock) / 360 * outline.girth())
        cos, sin, speed = np.cos(t), np.sin(t), outline.speed(t)
        depth = np.asarray(depth)
        x = a * cos - depth * b * cos / speed
        y = b * sin - depth * a * sin / speed
        if (tight := b * speed < depth * a).any():
            sharp = np.sqrt((1 - (depth / b) ** 2) * (a - b) * (a + b))
            x, y = np.where(tight, np.copysign(sharp, cos), x), np.where(tight, 0.0, y)
        return Lines(np.stack((x, y, np.zeros_like(x)), axis=-1), np.array((0.0, 0.0, 1.0)))

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """No end either way: (...,) and (...,) in mm, infinite."""
        return np.array(-np.inf), np.array(np.inf)

    def corners(self) -> Floats:
        """Clocks (k,) in degrees: none outside; a thick wall has sharp ones inside."""
        outline = self.outline
        a, b = outline.a, outline.b
        speed = a * (self.wall or 0.0) / b
        if speed <= b:
            return np.empty(0)
        sharp = math.asin(math.sqrt((speed * speed - b * b) / ((a - b) * (a + b))))
        ends = np.array((sharp, math.pi - sharp, math.pi + sharp, 2 * math.pi - sharp))
        return outline.arc(ends) / outline.girth() * 360

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line enters, ``nan`` where it misses.

        Derived: shrunk by its half axes the oval is a circle of radius 1.
        """
        p, d = lines.points, lines.directions
        a, b = self.major / 2, self.minor / 2
        return enter_circle(p[..., 0] / a, p[..., 1] / b, d[..., 0] / a, d[..., 1] / b,
                            1.0, TOUCH_MM / b)

    def patch(self, points: Floats) -> Whole:
        """All one piece: 0 (...,) for every one of ``points`` (..., 3)."""
        return np.zeros(points.shape[:-1], dtype=np.int64)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` (..., 3) to the skin, negative inside."""
        cos, sin = self.outline.foot(points[..., 0], points[..., 1])
        normal = self._normal(cos, sin)
        off: Floats = ((points[..., 0] - self.major / 2 * cos) * normal[..., 0]
                       + (points[..., 1] - self.minor / 2 * sin) * normal[..., 1])
        return off

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at the skin points nearest ``points`` (..., 3)."""
        return self._normal(*self.outline.foot(points[..., 0], points[..., 1]))

    def _normal(self, cos: Floats, sin: Floats) -> Floats:
        """Outward unit normals (..., 3) at the cosine and sine (...,) of the eccentric angle."""
        x, y = self.minor * cos, self.major * sin
        size = np.hypot(x, y)
        return np.stack((x / size, y / size, np.zeros_like(x)), axis=-1)

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round, mm: a parallel curve is ``2 pi lift`` longer."""
        return self.outline.girth() + 2 * math.pi * lift

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Unrolled by arc length, (...,) and (...,) in mm."""
        outline = self.outline
        arc = np.asarray(clock) / 360 * outline.girth()
        if lift:
            arc = arc + lift * outline.heading(outline.eccentric(arc))
        return arc, np.asarray(along)

    def stretch(self, low: float, high: float) -> float:
        """None: a cylinder of any section unrolls exactly."""
        return 0.0

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Positions (...,) along the axis and arcs (...,) clockwise from ``side`` (2,), mm."""
        way = self._arc(side, lift) - self._arc(points, lift)
        return points[..., 2], nearest_way(way, self.girth(lift))

    def _arc(self, points: Floats, lift: float) -> Floats:
        """Arc (...,) in mm from clock 0 to the rays through ``points`` (..., 2 or 3)."""
        outline = self.outline
        t = np.arctan2(points[..., 1] / outline.b, points[..., 0] / outline.a)
        return outline.arc(t) + lift * outline.heading(t)

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The same (...,): a cylinder of any section unrolls exactly."""
        return self.unrolled(points, side, lift)
