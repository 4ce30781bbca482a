"""How numbers stand in the cells of a table."""

from __future__ import annotations

import math
from collections.abc import Sequence

from coper.telling.grid import Cells
from coper.units import format_inches, format_mm, format_thousandths

SHOWN_MM = 0.005
"""A length that rounds to 0.00 mm is not mentioned."""


def length_cells(value: float) -> Cells:
    """A length in mm and in inches to the nearest 1/64, or that there is none."""
    return _cells(value, format_inches(value) if math.isfinite(value) else "")


def gap_cells(value: float) -> Cells:
    """A gap in mm and in thousandths of an inch, or that there is none."""
    return _cells(value, format_thousandths(value) if math.isfinite(value) else "")


def mm_cell(value: float) -> str:
    """A length in mm, or that there is none."""
    return "open" if math.isnan(value) else format_mm(value).removesuffix(" mm")


def _cells(value: float, inches: str) -> Cells:
    return mm_cell(value), inches.removesuffix(" in")


def stretch_words(stretches: Sequence[tuple[float, float]]) -> str:
    """Clocks from one to another, degrees: ``clocks 64 to 116 and 244 to 296``."""
    return "clocks " + " and ".join(
        f"{round(start) % 360} to {round(end) % 360}" for start, end in stretches)
