"""A bar that shows the scale of a drawing, and its words."""

from __future__ import annotations

import math

import numpy as np

from coper.drawing.marks import NOTE_HEIGHT, THIN, Mark, Path, Text
from coper.shapes.checks import plain

FULL = 1.0
"""Full size."""

LONGEST_MM = 80.0
"""The bar on paper."""

TICK_MM = 2.0
PARTS = 5


def scale_bar(scale: float) -> tuple[Mark, ...]:
    """A bar from the origin to the right, a mm on paper for ``scale`` mm, its words below."""
    length = _round_down(LONGEST_MM * scale)
    ends = np.array(((0.0, 0.0), (length / scale, 0.0)))
    marks: list[Mark] = [Path(ends, THIN, name="scale-bar")]
    for part in range(PARTS + 1):
        x = length / scale * part / PARTS
        marks.append(Path(np.array(((x, 0.0), (x, TICK_MM))), THIN))
    said = f"this bar is {plain(length)} mm on the table"
    words = "full size" if scale == FULL else f"scale 1:{plain(scale)}"
    marks.append(Text((0.0, -2 * NOTE_HEIGHT), f"{words}; {said}", NOTE_HEIGHT))
    return tuple(marks)


def _round_down(length: float) -> float:
    """The largest of 1, 2 and 5 times a power of ten that is not above ``length``."""
    power = 10.0 ** math.floor(math.log10(length))
    return max(step * power for step in (1.0, 2.0, 5.0) if step * power <= length)
