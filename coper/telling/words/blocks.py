"""Stacks of set-up blocks in words."""

from __future__ import annotations

from coper.bench.layout.blocks import SAME_MM, Stack
from coper.units import INCH_MM, format_inches, format_length, format_short, format_size

FINEST_INCH = 64
"""A block that is a whole number of 64ths of an inch is named in inches."""


LEAST_SHIM_MM = 0.25
"""Nothing thinner is put under a tube: two sheets of office paper, common practice, no source."""

MOST_SHIM_MM = 38.1
"""What is thicker is a block that is missing: 1-1/8 in is packed up in common practice."""


def stack_words(stack: Stack, nothing: str = "on the table") -> str:
    """Such as ``3 in + 1 in + shim 1.59 mm (1/16 in)``; ``nothing`` where no block is needed."""
    parts = [block_name(block) for block in stack.blocks]
    blocks = " + ".join(parts)
    if 0 < stack.shim < LEAST_SHIM_MM:
        low = f"no shim: {format_short(stack.shim)}"
        return f"{blocks}, {low} short" if parts else f"{low} high"
    if stack.shim > MOST_SHIM_MM:
        return f"TOO FEW BLOCKS: {blocks or 'none fits'}, {_missing_words(stack)}"
    if stack.shim:
        parts.append(f"shim {format_length(stack.shim)}")
    return " + ".join(parts) or nothing


def _missing_words(stack: Stack) -> str:
    """What a stack still needs, and which blocks would do: more of its largest, or one."""
    most = max(stack.blocks, default=0.0)
    count = int(stack.shim / most) if most else 0
    some = f"{count} more of {block_name(most)}" if count else "a block of that or a little less"
    return f"{format_length(stack.shim)} short: add {some}"


def block_name(mm: float) -> str:
    """A block as it is stamped: in inches where it is an inch block, else in mm."""
    steps = mm / INCH_MM * FINEST_INCH
    return format_inches(mm) if abs(steps - round(steps)) < SAME_MM else format_size(mm)
