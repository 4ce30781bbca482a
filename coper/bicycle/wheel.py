"""A wheel with its tyre, from the size on the tyre's side."""

from __future__ import annotations

import re
from dataclasses import dataclass

from coper.errors import WordsError
from coper.shapes.checks import check_size
from coper.units import format_size, shown

SIZE = re.compile(r"(\d{2,3}(?:\.\d+)?)\s*[-–]\s*(\d{3})")
"""Width and bead seat in mm, as ISO 5775 marks a tyre: ``47-507``."""

WIDTHS_MM = (15.0, 130.0)
BEAD_SEATS_MM = (200.0, 700.0)
"""A size outside these was written the wrong way round, or is of another kind."""


@dataclass(frozen=True, slots=True)
class Wheel:
    """A wheel as it stands on the ground.

    Attributes
    ----------
    radius : float, mm
        From the axle to the tread.
    tyre : float, mm
        Width of the tyre, which is taken to be as high as it is wide.
    size : str
        As it was given, such as ``47-507``; empty for a measured radius.
    """

    radius: float
    tyre: float
    size: str = ""

    def __post_init__(self) -> None:
        check_size(self.radius, "radius")
        check_size(self.tyre, "tyre")
        if self.tyre >= self.radius:
            raise WordsError(f"a tyre {format_size(self.tyre)} wide on a wheel of "
                             f"{format_size(self.radius)} radius", "check both", "tyre")

    @property
    def middle(self) -> float:
        """Radius of the circle that the middle of the tyre's section goes round on, mm."""
        return self.radius - self.tyre / 2

    @property
    def bead_seat(self) -> float:
        """Radius of the bead seat circle, mm: what the height of the tyre leaves."""
        return self.radius - self.tyre


def parse_wheel(text: str) -> Wheel:
    """The wheel of a tyre marked ``text``.

    Its radius is half the bead seat and the height of the tyre, which is as high as it is wide
    (ISO 5775 practice): ``47-507`` is 507 / 2 + 47 = 300.5 mm.

    Raises
    ------
    WordsError
        Where the words are no such size.
    """
    cure = 'write width and bead seat as they stand on the tyre, such as "47-507"'
    found = SIZE.fullmatch(text.strip())
    if not found:
        raise WordsError(f"{shown(text)!r} is not a tyre size", cure)
    width, seat = float(found[1]), float(found[2])
    _check("width", width, WIDTHS_MM, cure)
    _check("bead seat", seat, BEAD_SEATS_MM, cure)
    return Wheel(seat / 2 + width, width, text.strip())


def _check(name: str, value: float, bounds: tuple[float, float], cure: str) -> None:
    low, high = bounds
    if not low <= value <= high:
        raise WordsError(f"a {name} of {format_size(value)} is not found on any tyre", cure)
