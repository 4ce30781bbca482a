"""Which widths of tyre are common on which bead seat, and what else may have been meant."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from coper.bicycle.wheel import Wheel
from coper.units import INCH_MM, format_size, plain

COMMON: Final = (
    ((200, 400), (28, 70)), ((400, 430), (32, 115)), ((430, 500), (19, 60)),
    ((500, 515), (32, 115)), ((515, 556), (18, 62)), ((556, 566), (20, 130)),
    ((566, 580), (18, 60)), ((580, 586), (22, 115)), ((586, 610), (22, 62)),
    ((610, 625), (18, 90)), ((625, 700), (18, 70)))
"""Bead seats in mm, up to below the second, and the widths of tyre that are common on them, mm.

Common practice, no source; a wider or a narrower tyre is made for one or the other.
"""

SEATS_MM: Final = (305, 349, 406, 451, 507, 559, 584, 622)
"""The bead seats that most wheels have."""

RADII_MM: Final = (130.0, 470.0)
"""From a wheel of 12 inches to one of 36."""

TYRES_MM: Final = (15.0, 130.0)

Doubt = tuple[str, str, str]
"""The value that is doubted, why, and what was probably meant."""


def tyre_doubts(wheel: Wheel) -> Iterator[Doubt]:
    """What is odd about a wheel."""
    if wheel.size:
        yield from _size(wheel)
        return
    for name, value, (low, high) in (("radius", wheel.radius, RADII_MM),
                                     ("tyre", wheel.tyre, TYRES_MM)):
        if not low <= value <= high:
            yield f"{name} {format_size(value)}", _wheels_have(low, high), _meant(value, low, high)


def _meant(value: float, low: float, high: float) -> str:
    if low <= value * INCH_MM <= high:
        return f"if it is in inches, that is {format_size(value * INCH_MM)}"
    if low <= value / INCH_MM <= high:
        return f"if it is in mm, that is {format_size(value / INCH_MM)}"
    if low <= value / 2 <= high:
        return f"if it is the diameter, half of it is {format_size(value / 2)}"
    return "measure again"


def _wheels_have(low: float, high: float) -> str:
    return f"wheels have {format_size(low)} to {format_size(high)}"


def _size(wheel: Wheel) -> Iterator[Doubt]:
    """A width that is rare on its bead seat."""
    seat, width = 2 * (wheel.radius - wheel.tyre), wheel.tyre
    widths = _widths(seat)
    if widths is None or widths[0] <= width <= widths[1]:
        return
    fits = [other for other in SEATS_MM if (common := _widths(other)) is not None
            and common[0] <= width <= common[1]]
    near = sorted(sorted(fits, key=lambda other: abs(other - seat))[:2])
    asked = "read both off the tyre's side"
    if near:
        asked += f"; {' and '.join(f'{plain(width)}-{other}' for other in near)} are common"
    yield wheel.size, (f"a tyre {plain(width)} mm wide is rare on a bead seat of {plain(seat)} mm, "
                       f"where {widths[0]} to {widths[1]} mm are common practice"), asked


def _widths(seat: float) -> tuple[int, int] | None:
    return next((widths for (first, end), widths in COMMON if first <= seat < end), None)
