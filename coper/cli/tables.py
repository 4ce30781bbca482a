"""How a length stands in a table of the terminal."""

from __future__ import annotations

import math

from coper.units import format_inches, format_mm, format_thousandths

SHOWN_MM = 0.005
"""What rounds to 0.00 mm is nothing to tell of."""


def length_cell(value: float) -> str:
    """A length in mm and in inches to the nearest 1/64, or that there is none."""
    return "open" if math.isnan(value) else f"{format_mm(value):>10}  {format_inches(value)}"


def gap_cell(value: float) -> str:
    """A gap in mm and in thousandths of an inch, or that there is none to tell."""
    return "open" if math.isnan(value) else f"{format_mm(value):>10}  {format_thousandths(value)}"
