"""Stacks of set-up blocks in words."""

from __future__ import annotations

from coper.bench.layout.blocks import SAME_MM, Stack
from coper.shapes.checks import plain
from coper.units import INCH_MM, format_inches, format_length

FINEST_INCH = 64
"""A block that is a whole number of 64ths of an inch is named in inches."""


def stack_words(stack: Stack) -> str:
    """Such as ``3 in + 1 in + shim 1.59 mm (1/16 in)``."""
    parts = [block_name(block) for block in stack.blocks]
    if stack.shim:
        parts.append(f"shim {format_length(stack.shim)}")
    return " + ".join(parts) or "on the table"


def block_name(mm: float) -> str:
    """A block as it is stamped: in inches where it is an inch block, else in mm."""
    steps = mm / INCH_MM * FINEST_INCH
    return format_inches(mm) if abs(steps - round(steps)) < SAME_MM else f"{plain(mm)} mm"
