"""Rectangles: frames, bars, and boxes to tick."""

from __future__ import annotations

import numpy as np

from coper.drawing.marks import NOTE_HEIGHT, THIN, Path, Pen


def box_path(
    left: float, bottom: float, width: float, height: float, pen: Pen, fill: bool = False,
    name: str = "",
) -> Path:
    """A rectangle, mm."""
    right, top = left + width, bottom + height
    corners = np.array(((left, bottom), (right, bottom), (right, top), (left, top)))
    return Path(corners, pen, closed=True, fill=fill, name=name)


def tick(left: float) -> Path:
    """A box to tick, on the line of its words."""
    return box_path(left, 0.0, NOTE_HEIGHT, NOTE_HEIGHT, THIN, name="tick")
