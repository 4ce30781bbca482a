"""The tapered tube: a round one whose diameter changes steadily."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from coper.arrays import Floats, Whole
from coper.errors import ShapeError
from coper.shapes.checks import check_size, check_wall, wall_words
from coper.shapes.lines import Lines
from coper.shapes.plane import clockwise
from coper.shapes.words import TubeWords, order_words
from coper.tolerances import TOUCH_MM
from coper.units import format_number, format_size, plain


@dataclass(frozen=True, slots=True)
class Tapered:
    """A tapered round tube: a cone that goes on past both its stations, to where it would close.

    ::

                |           '  . end
                | start            |
                |           .  '
        0 - - - first_at -- length ---+--> along

    Attributes
    ----------
    start, end : float, mm
        Outside diameter at along ``first_at``, and ``length`` further on.
    length : float, mm
        Between the two diameters, along the axis.
    wall : float or None, mm
        Wall thickness at every section; a main may leave it out.
    first_at : float, mm
        Along of the first diameter.
    """

    start: float
    end: float
    length: float
    wall: float | None = None
    first_at: float = 0.0

    kind: ClassVar[str] = "tapered"
    patches: ClassVar[int] = 1
    straight: ClassVar[bool] = True
    forms: ClassVar[dict[str, str]] = {
        "22.2 to 14 over 390 x 0.8": "tapered: at the start, at the far end, length between",
    }

    def __post_init__(self) -> None:
        check_size(self.start, "first diameter")
        check_size(self.end, "second diameter")
        check_size(self.length, "taper length")
        check_wall(self.wall, min(self.start, self.end))
        if self.start == self.end:
            raise ShapeError(f"from {format_number(self.start)} to {format_size(self.end)} is not "
                             "a taper", "write it as round: "
                             + order_words(f"{plain(self.start)}{wall_words(self.wall)}"))

    @classmethod
    def from_words(cls, words: TubeWords) -> Tapered | None:
        """The tube that ``words`` describe, or ``None`` where they describe another shape."""
        match tuple(part for part in words.parts if part[0] != "x"):
            case (("", start), ("to", end), ("over", length)):
                return cls(start, end, length, words.get("x"))
        return None

    @property
    def across(self) -> float:
        """The lesser of its two diameters, mm."""
        return min(self.start, self.end)

    def grown(self, by: float) -> Tapered:
        """The same taper, ``by`` mm larger in both diameters."""
        return replace(self, start=self.start + by, end=self.end + by)

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return (f"{plain(self.start)} to {plain(self.end)} over {plain(self.length)}"
                f"{wall_words(self.wall)}")

    @property
    def slope(self) -> float:
        """What one mm of along adds to the radius."""
        return (self.end - self.start) / 2 / self.length

    def radius(self, along: Floats | float) -> Floats:
        """Outside radius (...,) in mm at ``along``, below 0 past the apex."""
        return self._root + self.slope * np.asarray(along)

    @property
    def _root(self) -> float:
        """Outside radius at along 0, mm; below 0 where that is past the apex."""
        return self.start / 2 - self.slope * self.first_at

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """Lines (...,) through the apex; ``clock`` in degrees, ``depth`` in mm inside."""
        angle = np.radians(clock)
        cos, sin = np.cos(angle), np.sin(angle)
        radius = self._root - np.asarray(depth)
        across, up = radius * cos, radius * sin
        points = np.stack((across, up, np.zeros_like(across)), axis=-1)
        return Lines(points, np.stack(
            (self.slope * cos, self.slope * sin, np.ones_like(cos)), axis=-1))

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """The alongs (...,) in mm between which the surface ``depth`` (...,) mm inside exists."""
        closes = (np.asarray(depth) - self._root) / self.slope
        endless = np.full_like(closes, np.inf)
        return (closes, endless) if self.slope > 0 else (-endless, closes)

    def corners(self) -> Floats:
        """None, (0,)."""
        return np.empty(0)

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line enters, ``nan`` where it misses.

        Derived: with ``k`` the slope, a point is inside where ``f = x^2 + y^2 - radius^2`` is
        below 0 and the radius above. On a line f is ``A s^2 + 2 B s + C``; it rises, as it does
        where a line from above enters, at the root ``(-B + sqrt(B^2 - A C)) / A``, which is also
        ``-C / (B + sqrt(B^2 - A C))``. Counted from where the line passes the axis at the
        distance h, ``B^2 - A C = (dx^2 + dy^2) (radius^2 - h^2) + (k dz h)^2``. The line passes
        outside by about ``-(B^2 - A C) / (2 A radius)``.
        """
        p, d = lines.points, lines.directions
        square = d[..., 0] ** 2 + d[..., 1] ** 2
        pointing = p[..., 0] * d[..., 0] + p[..., 1] * d[..., 1]
        nearest = -pointing / np.where(square > 0, square, 1.0)
        passing = np.hypot(p[..., 0] + nearest * d[..., 0], p[..., 1] + nearest * d[..., 1])
        radius = self.radius(p[..., 2] + nearest * d[..., 2])
        widening = self.slope * d[..., 2]
        ahead = -widening * radius
        within = (radius - passing) * (radius + passing)
        under = square * within + (widening * passing) ** 2
        touch = TOUCH_MM * square * (np.abs(radius) + passing)
        root = np.sqrt(np.where(under < -touch, np.nan, np.maximum(under, 0.0)))
        with np.errstate(divide="ignore", invalid="ignore"):
            on = np.where(ahead > 0, within / (ahead + root),
                          (root - ahead) / (square - widening**2))
            real = radius + widening * on > 0
        return np.where(real & np.isfinite(on), nearest + on, np.nan)

    def patch(self, points: Floats) -> Whole:
        """All one piece: 0 (...,) for every one of ``points`` (..., 3)."""
        return np.zeros(points.shape[:-1], dtype=np.int64)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` (..., 3) to the skin, negative inside."""
        cos = 1 / math.hypot(1, self.slope)
        away = np.hypot(points[..., 0], points[..., 1])
        off = (away - self.radius(points[..., 2])) * cos
        past_apex = away < off * cos
        apex = -self._root / self.slope
        return np.where(past_apex, np.hypot(away, points[..., 2] - apex), off)

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at ``points`` (..., 3), leaning with the taper."""
        size = np.hypot(points[..., 0], points[..., 1]) * math.hypot(1, self.slope)
        lean = np.full_like(size, -self.slope / math.hypot(1, self.slope))
        return np.stack((points[..., 0] / size, points[..., 1] / size, lean), axis=-1)

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round at ``along``, ``lift`` mm above the skin (square to it), mm."""
        return 2 * math.pi * (float(self.radius(along)) + lift / math.hypot(1, self.slope))

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Unrolled to the cone's sector, (...,) and (...,) in mm."""
        return self._sector(np.radians(clock), np.asarray(along), lift)

    def _sector(self, angle: Floats, along: Floats, lift: float) -> tuple[Floats, Floats]:
        """Across and along the generator of angle 0, (...,) in mm.

        ``angle`` (...,) is in radians, ``along`` (...,) in mm.

        Derived: with ``k`` the slope and ``w = sqrt(1 + k^2)``, the point is ``L = radius w / k``
        from the apex and the sector's angle is ``k / w`` of the angle round the tube; ``lift`` mm
        above the skin the radius is ``lift / w`` larger. Written with the sine of the half angle,
        nothing cancels where the taper is slight.
        """
        wide = math.hypot(1, self.slope)
        sine = self.slope / wide
        slant = (self.radius(along) + lift / wide) / sine
        return (slant * np.sin(sine * angle),
                along * wide - 2 * slant * np.sin(sine * angle / 2) ** 2)

    def stretch(self, low: float, high: float) -> float:
        """None: a cone unrolls exactly."""
        return 0.0

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Positions (...,) along the axis, and arcs clockwise from ``side`` at a section, mm."""
        radius = self.radius(points[..., 2]) + lift / math.hypot(1, self.slope)
        return points[..., 2], radius * clockwise(points, side)

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """On the cone's sector, (...,) and (...,) in mm: along and across the line of ``side``."""
        across, along = self._sector(clockwise(points, side), points[..., 2], lift)
        return along, across
