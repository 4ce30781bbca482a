"""The flat plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from coper.arrays import Floats, Whole
from coper.shapes.checks import check_size
from coper.shapes.lines import Lines
from coper.shapes.words import TubeWords
from coper.units import plain


@dataclass(frozen=True, slots=True)
class Plate:
    """A flat plate as a main; its face goes through the axis, square to the second coordinate.

    ::

              second, the face's side
                  |
        .---------o---------> first     the face; a branch seats on it as if it had no edges
        |         |         |
        '-------------------'           the thickness lies behind the face

    Attributes
    ----------
    thickness : float, mm
    width : float or None, mm
        Along the first coordinate, half of it either side of the axis; ``None`` where it is not
        known.
    """

    thickness: float
    width: float | None = None

    kind: ClassVar[str] = "plate"
    patches: ClassVar[int] = 1
    forms: ClassVar[dict[str, str]] = {
        "plate 6": "flat (as a main)",
        "plate 6 by 80": "flat, with a width",
    }

    def __post_init__(self) -> None:
        check_size(self.thickness, "thickness")
        if self.width is not None:
            check_size(self.width, "width")

    @classmethod
    def from_words(cls, words: TubeWords) -> Plate | None:
        """The plate that ``words`` describe, or ``None`` where they describe another shape."""
        match words.parts:
            case (("plate", thickness),):
                return cls(thickness)
            case (("plate", thickness), ("by", width)):
                return cls(thickness, width)
        return None

    @property
    def across(self) -> float | None:
        """A plate has no width across that matters to a branch."""
        return None

    def grown(self, by: float) -> Plate:
        """The same plate: its face stays where it is."""
        del by
        return self

    def words(self) -> str:
        """The plate in the grammar of the command line, in mm."""
        by = "" if self.width is None else f" by {plain(self.width)}"
        return f"plate {plain(self.thickness)}{by}"

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line enters, ``nan`` where it does not come from above."""
        height, rise = lines.points[..., 1], lines.directions[..., 1]
        return np.where(rise > 0, -height / np.where(rise > 0, rise, 1.0), np.nan)

    def patch(self, points: Floats) -> Whole:
        """All one piece: 0 (...,) for every point."""
        return np.zeros(points.shape[:-1], dtype=np.int64)

    def distance(self, points: Floats) -> Floats:
        """Height (...,) in mm of ``points`` above the face, negative below it."""
        return points[..., 1]

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3): straight up everywhere."""
        return np.broadcast_to(np.array((0.0, 1.0, 0.0)), points.shape)

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Positions (...,) along the axis and distances (...,) from it towards clock 0, mm."""
        return points[..., 2], points[..., 0]

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The same (...,): a plate is flat."""
        return self.unrolled(points, side, lift)
