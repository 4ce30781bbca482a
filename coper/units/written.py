"""Lengths and angles as coper writes them, in the unit of the order first."""

from __future__ import annotations

import math
from typing import Final

from coper.units.names import FOOT_MM, INCH_MM
from coper.units.order import first_unit, in_inches

_TIE_MM: Final = 1e-9
"""Added before rounding for display: 1-1/8 in is 28.575 mm, but a hair less in binary."""


_TIE_STEPS: Final = 1e-4
"""What is less over a step than this is rounding: it is no longer."""

FINEST: Final = 64
"""The finest step of an inch on a rule."""

_WHOLE_IN: Final = 1e-4
"""What is nearer to a step of the rule is on it: a tenth of what a caliper shows."""

INCH_PLACES: Final = 3
"""Decimals of an inch: thousandths."""


def format_mm(mm: float, places: int = 2) -> str:
    """A length in mm whatever the order, such as ``28.60 mm``."""
    return f"{_rounded(mm + math.copysign(_TIE_MM, mm), places)} mm"


def format_inches(mm: float, step: int = FINEST) -> str:
    """A length in mm to the nearest ``1/step`` inch, reduced: ``1-1/8 in``, ``-3/64 in``."""
    steps = round(_finite(mm / INCH_MM * step))
    whole, upper = divmod(abs(steps), step)
    parts = [str(whole)] if whole or not upper else []
    if upper:
        shared = math.gcd(upper, step)
        parts.append(f"{upper // shared}/{step // shared}")
    return ("-" if steps < 0 else "") + "-".join(parts) + " in"


def format_length(mm: float, step: int = FINEST) -> str:
    """A length in full, for a rule or a caliper: ``28.58 mm (1-1/8 in)``.

    In inches ``1.126 in (1-1/8 in)``; what is on a ``1/step`` of an inch is that alone, ``39 in``.
    """
    fraction = format_inches(mm, step)
    if not in_inches():
        return f"{format_mm(mm)} ({fraction})"
    steps = mm / INCH_MM * step
    if abs(steps - round(steps)) <= step * _WHOLE_IN:
        return fraction
    if round(steps) == 0:
        return format_thousandths(mm)
    return f"{format_thousandths(mm)} ({fraction})"


def format_short(mm: float, places: int = 2) -> str:
    """A length in the order's unit alone: ``28.58 mm``, ``1.125 in``.

    ``places`` are decimals of a mm; of an inch there are always three.
    """
    return format_thousandths(mm) if in_inches() else format_mm(mm, places)


def format_size(mm: float) -> str:
    """A size as it was written, without further zeros: ``28.6 mm``, ``1.126 in``."""
    return f"{format_number(mm)} {first_unit()}"


def format_number(mm: float) -> str:
    """A length in mm as :func:`format_size` writes it, without the unit: ``28.6``, ``1.126``."""
    if not in_inches():
        return plain(mm)
    inches = mm / INCH_MM
    return plain(round(inches, INCH_PLACES) or inches)


def format_far(*sizes: float) -> str:
    """Lengths in mm of the shop, not of the work: ``1.3 m``, ``4.3 by 2 ft``."""
    one, unit = (FOOT_MM, "ft") if in_inches() else (1000.0, "m")
    return f"{' by '.join(plain(round(mm / one, 1)) for mm in sizes)} {unit}"


def shown_up(mm: float, places: int = 2) -> float:
    """A least length, mm, rounded up to what :func:`format_short` shows of it, so that it does."""
    step = INCH_MM / 10**INCH_PLACES if in_inches() else 10.0**-places
    return math.ceil(mm / step - _TIE_STEPS) * step


def format_thousandths(mm: float) -> str:
    """A length in mm to a thousandth of an inch, as calipers show it: ``0.012 in``."""
    return f"{_rounded(mm / INCH_MM, INCH_PLACES)} in"


def format_gap(mm: float) -> str:
    """A gap or a wall, for a feeler or a micrometer: ``0.30 mm (0.012 in)``.

    In inches ``0.012 in (0.30 mm)``, for feelers are marked in both.
    """
    first, second = format_mm(mm), format_thousandths(mm)
    return f"{second} ({first})" if in_inches() else f"{first} ({second})"


def format_angle(deg: float) -> str:
    """An angle for display, two decimals at most: ``62.5°``."""
    return _rounded(deg, 2).rstrip("0").rstrip(".") + "°"


def plain(value: float) -> str:
    """A number of any unit for display: at most four decimals, no trailing zeros."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be shown")
    return value


def _rounded(value: float, places: int) -> str:
    """``value`` with ``places`` decimals, never ``-0``."""
    text = f"{_finite(value):.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text
