"""Tubes that run through each other, in words."""

from __future__ import annotations

from coper.frame.clash import Clash
from coper.units import format_number, format_short


def clash_words(clash: Clash) -> str:
    """Both names, the depth and the place, and what was probably forgotten."""
    x, y, z = (format_number(round(part, 1)) for part in clash.at)
    one, other = clash.one.label, clash.other.label
    return (f"{one} and {other} run through each other, {format_short(clash.deep)} deep at "
            f"[{x}, {y}, {z}]: let one seat on the other (on = ...), or move one.")
