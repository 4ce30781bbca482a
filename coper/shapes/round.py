"""The round tube."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from coper.arrays import Floats, Whole
from coper.shapes.checks import check_size, check_wall, wall_words
from coper.shapes.lines import Lines
from coper.shapes.plane import clockwise, enter_circle
from coper.shapes.words import TubeWords
from coper.tolerances import TOUCH_MM
from coper.units import plain


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
    straight: ClassVar[bool] = True
    forms: ClassVar[dict[str, str]] = {
        "28.6 x 0.9": "round: outside diameter x wall (a main may leave the wall out)",
        "around 89.8 x 0.9": "diameter from a measured girth",
        "pipe 1-1/4 sch 40": "ASME B36.10M pipe: nominal size in inches, or DN (pipe DN32 sch 40)",
    }

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

    @property
    def across(self) -> float:
        """The least width across it, mm."""
        return self.diameter

    def grown(self, by: float) -> Round:
        """The same tube, ``by`` mm larger in diameter."""
        return replace(self, diameter=self.diameter + by)

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return plain(self.diameter) + wall_words(self.wall)

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """Lines (...,) parallel to the axis; ``clock`` in degrees, ``depth`` in mm inside."""
        angle = np.radians(clock)
        radius = self.diameter / 2 - np.asarray(depth)
        across, up = radius * np.cos(angle), radius * np.sin(angle)
        points = np.stack((across, up, np.zeros_like(across)), axis=-1)
        return Lines(points, np.array((0.0, 0.0, 1.0)))

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """No end either way: (...,) and (...,) in mm, infinite."""
        return np.array(-np.inf), np.array(np.inf)

    def corners(self) -> Floats:
        """None, (0,)."""
        return np.empty(0)

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line enters, ``nan`` where it misses."""
        p, d = lines.points, lines.directions
        return enter_circle(p[..., 0], p[..., 1], d[..., 0], d[..., 1], self.diameter / 2, TOUCH_MM)

    def patch(self, points: Floats) -> Whole:
        """All one piece: 0 (...,) for every one of ``points`` (..., 3)."""
        return np.zeros(points.shape[:-1], dtype=np.int64)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` (..., 3) to the skin, negative inside."""
        return np.hypot(points[..., 0], points[..., 1]) - self.diameter / 2

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at ``points`` (..., 3): straight away from the axis."""
        flat = points * np.array((1.0, 1.0, 0.0))
        normals: Floats = flat / np.hypot(points[..., 0], points[..., 1])[..., None]
        return normals

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round, ``pi (D + 2 lift)``, mm."""
        return float(np.pi * (self.diameter + 2 * lift))

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Unrolled by arc length, (...,) and (...,) in mm."""
        return np.asarray(clock) / 360 * self.girth(lift), np.asarray(along)

    def stretch(self, low: float, high: float) -> float:
        """None: a cylinder unrolls exactly."""
        return 0.0

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Positions (...,) along the axis and arcs (...,) clockwise from ``side`` (2,), mm."""
        return points[..., 2], (self.diameter / 2 + lift) * clockwise(points, side)

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The same (...,): a cylinder unrolls exactly."""
        return self.unrolled(points, side, lift)
