"""Where along a piece its sections are looked at: two of what is straight, more of a bend."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.frame.tube import Tube
from coper.shapes.bent import Bent

SECTIONS = 33
"""Sections of a bend along its centreline."""


def section_rows(tube: Tube, start: Floats, end: Floats) -> list[Floats]:
    """For each straight or bent stretch the alongs (k, n) in mm of its sections, from the start.

    The first row of all is the edge ``start`` (n,), the last the edge ``end`` (n,), in mm; a
    stretch that lies past either is left out.
    """
    if tube.course is None:
        count = SECTIONS if isinstance(tube.shape, Bent) else 2
        return [start + np.linspace(0.0, 1.0, count)[:, None] * (end - start)]
    parts = tube.course.stretches
    bounds = np.array([-np.inf, *(part.low for part in parts[1:]), np.inf])
    rows: list[Floats] = []
    for part, low, high in zip(parts, bounds, bounds[1:], strict=False):
        first, last = np.clip(low, start, end), np.clip(high, start, end)
        if (last > first).any():
            share = np.linspace(0.0, 1.0, SECTIONS if part.is_bend else 2)
            rows.append(first + share[:, None] * (last - first))
    return rows
