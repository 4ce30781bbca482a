"""Outlines of tubes as lines on paper: what stands already is thin, what is behind is dashed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from coper.drawing.changes import scaled
from coper.drawing.marks import FINE, HIDDEN, LINE, Mark, Path, Pen
from coper.frame.outline import Stroke


def drawn(strokes: Sequence[Stroke], factor: float) -> tuple[Mark, ...]:
    """The strokes ``factor`` times as large."""
    paths = tuple(Path(stroke.points, _pen(stroke)) for stroke in strokes)
    return scaled(paths, factor, factor)


def _pen(stroke: Stroke) -> Pen:
    if stroke.existing:
        return Pen(FINE.width, HIDDEN.dash) if stroke.hidden else FINE
    return HIDDEN if stroke.hidden else LINE


def stroke_size(strokes: Sequence[Stroke]) -> tuple[float, float]:
    """Width and height of what the strokes take, mm."""
    points = np.concatenate([stroke.points for stroke in strokes])
    wide, high = points.max(axis=0) - points.min(axis=0)
    return float(wide), float(high)
