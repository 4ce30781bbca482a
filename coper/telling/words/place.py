"""Where a point of the frame is, in words that need no axes."""

from __future__ import annotations

from typing import Final

from coper.arrays import Point
from coper.units import format_length

SENSES: Final = (("ahead", "behind"), ("left", "right"), ("above", "below"))
"""What a number above 0 and one below 0 mean, along each axis of the frame: x, y, z."""

MIDDLE: Final = "in the middle"
ORIGIN: Final = "at the origin"

_SEEN_MM: Final = 0.005
"""Less is shown as 0."""


def place_words(place: Point) -> str:
    """A place from the frame's origin: ``420.00 mm (…) behind, 65.00 mm (…) above, in the middle``.

    What is 0 ahead or above is not said.
    """
    x, y, z = (_part(mm, *words) for mm, words in zip(place, SENSES, strict=True))
    if not x and not y and not z:
        return ORIGIN
    return ", ".join(filter(None, (x, z, y or MIDDLE)))


def _part(mm: float, more: str, less: str) -> str:
    """A number with what its sign means; empty for none."""
    return "" if abs(mm) < _SEEN_MM else f"{format_length(abs(mm))} {more if mm > 0 else less}"
