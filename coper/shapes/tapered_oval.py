"""The oval tube that tapers to a round end."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from coper.arrays import Floats
from coper.errors import ShapeError
from coper.shapes.checks import check_oval, check_size, check_wall, wall_words
from coper.shapes.development import Development
from coper.shapes.ellipse import Ellipse
from coper.shapes.lines import Lines
from coper.shapes.words import TubeWords, order_words
from coper.units import format_number, format_size, plain


@dataclass(frozen=True, slots=True)
class TaperedOval:
    """An oval tube whose two axes change steadily to one diameter, as a branch.

    Its generators join equal eccentric angles of all sections; its clock is that of the section at
    along 0. It goes on past both stations, to where an axis would close.

    Attributes
    ----------
    major, minor : float, mm
        The longest and the shortest way across at along 0, outside.
    end : float, mm
        Outside diameter at along ``length``.
    length : float, mm
        From the oval station to the round one, along the axis.
    wall : float or None, mm
        Wall thickness at every section.
    first_at : float, mm
        Along of the oval station.
    """

    major: float
    minor: float
    end: float
    length: float
    wall: float | None = None
    first_at: float = 0.0

    kind: ClassVar[str] = "tapered oval"
    straight: ClassVar[bool] = False
    forms: ClassVar[dict[str, str]] = {
        "oval 30 by 17 to 14 over 380 x 0.8": "oval, tapering to a round end (as a branch)",
    }

    def __post_init__(self) -> None:
        check_oval(self.major, self.minor)
        check_size(self.end, "end diameter")
        check_size(self.length, "taper length")
        check_wall(self.wall, min(self.minor, self.end))
        if self.major == self.minor:
            other = (f"{plain(self.major)} to {plain(self.end)} over {plain(self.length)}"
                     if self.end != self.major else plain(self.major))
            raise ShapeError(f"oval {format_number(self.major)} by {format_size(self.minor)} is "
                             "round", "leave the oval out: "
                             + order_words(f"{other}{wall_words(self.wall)}"))

    @classmethod
    def from_words(cls, words: TubeWords) -> TaperedOval | None:
        """The tube that ``words`` describe, or ``None`` where they describe another shape."""
        match tuple(part for part in words.parts if part[0] != "x"):
            case (("oval", major), ("by", minor), ("to", end), ("over", length)):
                return cls(major, minor, end, length, words.get("x"))
        return None

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return (f"oval {plain(self.major)} by {plain(self.minor)} to {plain(self.end)} "
                f"over {plain(self.length)}{wall_words(self.wall)}")

    @property
    def outline(self) -> Ellipse:
        """The outside of the oval station's section."""
        return Ellipse(self.major / 2, self.minor / 2)

    @property
    def slopes(self) -> tuple[float, float]:
        """What one mm of along adds to the half axes."""
        return ((self.end - self.major) / 2 / self.length,
                (self.end - self.minor) / 2 / self.length)

    def _half_axes(self, along: Floats | float) -> tuple[Floats, Floats]:
        """The half axes (...,) and (...,) in mm of the outside at ``along`` (...,) in mm."""
        a_slope, b_slope = self.slopes
        along = np.asarray(along) - self.first_at
        return self.major / 2 + a_slope * along, self.minor / 2 + b_slope * along

    def _eccentric(self, clock: Floats) -> Floats:
        """Eccentric angles (...,) in radians at ``clock`` (...,) in degrees."""
        outline = self.outline
        return outline.eccentric(np.asarray(clock) / 360 * outline.girth())

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """Generators (...,); inside the wall, kept at every section, the tangents at ``near``.

        Derived: a point moved inwards square to its section's outline is
        ``x = a cos (1 - depth b / (a v))``, ``y = b sin (1 - depth a / (b v))``, with ``v`` the
        length of ``(b cos, a sin)``; its slope along the tube follows from those of a and b.
        """
        t, depth, near = np.broadcast_arrays(self._eccentric(clock), depth, near)
        cos, sin = np.cos(t), np.sin(t)
        (a, b), (a_slope, b_slope) = self._half_axes(near), self.slopes
        v = np.hypot(a * sin, b * cos)
        v_slope = (a * a_slope * sin * sin + b * b_slope * cos * cos) / v
        x, y = (a - depth * b / v) * cos, (b - depth * a / v) * sin
        x_slope = (a_slope - depth * (b_slope - b * v_slope / v) / v) * cos
        y_slope = (b_slope - depth * (a_slope - a * v_slope / v) / v) * sin
        if (tight := (b * v < depth * a) & (a > b)).any():
            sharp, sharp_slope = self._sharp(a, b, depth, tight)
            x = np.where(tight, np.copysign(sharp, cos), x)
            x_slope = np.where(tight, np.copysign(1.0, cos) * sharp_slope, x_slope)
            y, y_slope = np.where(tight, 0.0, y), np.where(tight, 0.0, y_slope)
        points = np.stack((x - near * x_slope, y - near * y_slope, np.zeros_like(x)), axis=-1)
        return Lines(points, np.stack((x_slope, y_slope, np.ones_like(x)), axis=-1))

    def _sharp(
        self, a: Floats, b: Floats, depth: Floats, tight: Floats
    ) -> tuple[Floats, Floats]:
        """How far out the inside's sharp end is, (...,) in mm, and its slope (...,) along the tube.

        The inside has one where the wall is thicker than the tight end (``tight`` (...,)); it is
        ``sqrt((1 - depth^2 / b^2)(a^2 - b^2))`` out. Half axes and depth are (...,) in mm.
        """
        a_slope, b_slope = self.slopes
        b = np.where(tight, b, 1.0)  # elsewhere the axis may be closed, and the answer is not used
        share, beyond = 1 - (depth / b) ** 2, (a - b) * (a + b)
        sharp = np.sqrt(np.where(tight, np.maximum(share * beyond, 0.0), 0.0))
        slope = (depth**2 * b_slope / b**3 * beyond + share * (a * a_slope - b * b_slope))
        return sharp, slope / np.where(sharp > 0, sharp, 1.0)

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """The alongs (...,) in mm between which the surface ``depth`` (...,) mm inside exists."""
        depth = np.asarray(depth)
        low, high = np.full_like(depth, -np.inf, dtype=float), np.full_like(depth, np.inf, float)
        for half, slope in zip((self.major / 2, self.minor / 2), self.slopes, strict=True):
            if slope > 0:
                low = np.maximum(low, (depth - half) / slope)
            elif slope < 0:
                high = np.minimum(high, (depth - half) / slope)
        return low + self.first_at, high + self.first_at

    def corners(self) -> Floats:
        """None, (0,)."""
        return np.empty(0)

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at ``points`` of the skin."""
        (a, b), (a_slope, b_slope) = self._half_axes(points[..., 2]), self.slopes
        t = np.arctan2(points[..., 1] / b, points[..., 0] / a)
        cos, sin = np.cos(t), np.sin(t)
        lean = -(a_slope * b * cos * cos + b_slope * a * sin * sin)
        size = np.sqrt((b * cos) ** 2 + (a * sin) ** 2 + lean * lean)
        return np.stack((b * cos / size, a * sin / size, lean / size), axis=-1)

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round at ``along``, mm: a parallel curve is ``2 pi lift`` longer."""
        a, b = map(float, self._half_axes(along))
        return Ellipse(max(a, b), min(a, b)).girth() + 2 * math.pi * lift

    def _development(self, lift: float) -> Development:
        return Development(self.outline, Ellipse(self.end / 2, self.end / 2), self.length, lift)

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Laid out strip by strip, (...,) and (...,) in mm; not exact, see :meth:`stretch`."""
        there = np.asarray(along) - self.first_at
        return self._development(lift).flat(self._eccentric(clock), there)

    def stretch(self, low: float, high: float) -> float:
        """The largest error, mm, of once round on the sheet, from along ``low`` to ``high``."""
        return self._development(0.0).stretch(low - self.first_at, high - self.first_at)
