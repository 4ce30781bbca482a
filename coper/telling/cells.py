"""How numbers stand in the cells of a table."""

from __future__ import annotations

import math
from collections.abc import Sequence

from coper.telling.grid import Cells
from coper.units import (
    first_unit,
    format_inches,
    format_mm,
    format_short,
    format_thousandths,
    in_inches,
)

SHOWN_MM = 0.005
"""A length that rounds to 0.00 mm is not mentioned."""

FINEST = 64
"""Parts of an inch that a rule in the hand is read to."""


def length_cells(value: float, step: int = FINEST) -> Cells:
    """A length in the order's unit and in inches to the nearest ``1/step``, or that none is."""
    return _cells(value, format_inches(value, step) if math.isfinite(value) else "")


def length_heads(what: str, step: int = FINEST) -> Cells:
    """What stands over :func:`length_cells`; ``what`` the length is."""
    return f"{what} {first_unit()}", f"1/{step} in" if in_inches() else "in"


def gap_cells(value: float) -> Cells:
    """A gap in the order's unit and in the other, feelers are marked in both; or that none is."""
    other = format_mm if in_inches() else format_thousandths
    return _cells(value, other(value) if math.isfinite(value) else "")


def gap_heads(what: str) -> Cells:
    """What stands over :func:`gap_cells`; ``what`` the gap is."""
    return f"{what} {first_unit()}", "mm" if in_inches() else "in"


def short_cell(value: float) -> str:
    """A length in the order's unit, or that there is none."""
    return "open" if math.isnan(value) else bare(format_short(value))


def bare(words: str) -> str:
    """A length without its unit, which stands over the column."""
    return words.rsplit(maxsplit=1)[0]


def _cells(value: float, other: str) -> Cells:
    return short_cell(value), other and bare(other)


def stretch_words(stretches: Sequence[tuple[float, float]]) -> str:
    """Clocks from one to another, degrees: ``clocks 64 to 116 and 244 to 296``."""
    return "clocks " + " and ".join(
        f"{round(start) % 360} to {round(end) % 360}" for start, end in stretches)
