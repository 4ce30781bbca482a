"""A bar that shows the scale of a drawing, and its words."""

from __future__ import annotations

import math

import numpy as np

from coper.drawing.marks import NOTE_HEIGHT, THIN, Mark, Path, Text
from coper.units import INCH_MM, format_size, in_inches, plain

FULL = 1.0
"""Full size."""

LONGEST_MM = 80.0
"""The bar on paper."""

TICK_MM = 2.0
PARTS = 5

INCH_BARS = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 12.0, 24.0, 48.0, 96.0, 192.0, 384.0, 768.0, 1536.0)
"""Lengths of a bar in inches: those of a rule, then whole feet."""
INCH_PARTS = 4


def scale_bar(scale: float) -> tuple[Mark, ...]:
    """A bar from the origin to the right, a mm on paper for ``scale`` mm, its words below."""
    most, parts = LONGEST_MM * scale, INCH_PARTS if in_inches() else PARTS
    length = _inches_down(most) if in_inches() else _round_down(most)
    ends = np.array(((0.0, 0.0), (length / scale, 0.0)))
    marks: list[Mark] = [Path(ends, THIN, name="scale-bar")]
    for part in range(parts + 1):
        x = length / scale * part / parts
        marks.append(Path(np.array(((x, 0.0), (x, TICK_MM))), THIN))
    said = f"this bar is {format_size(length)} on the table"
    words = "full size" if scale == FULL else f"scale 1:{plain(scale)}"
    marks.append(Text((0.0, -2 * NOTE_HEIGHT), f"{words}; {said}", NOTE_HEIGHT))
    return tuple(marks)


def _round_down(length: float) -> float:
    """The largest of 1, 2 and 5 times a power of ten that is not above ``length``."""
    power = 10.0 ** math.floor(math.log10(length))
    return max(step * power for step in (1.0, 2.0, 5.0) if step * power <= length)


def _inches_down(length: float) -> float:
    """The longest bar in inches that is not above ``length``, mm."""
    return max(bar for bar in INCH_BARS if bar * INCH_MM <= length) * INCH_MM
