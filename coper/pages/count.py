"""How many pages a drawing takes that is larger than a page, before any is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from coper.arrays import Floats, Whole
from coper.drawing.bounds import bounds, leaves
from coper.drawing.hatch import hatch_strokes
from coper.drawing.marks import Hatch, Mark, Path
from coper.pages.ink import points_along
from coper.pages.tiles import windows_along

MOST_LOOKED_AT: Final = 3000
"""Windows that are looked into. In so many, the edge of a paper alone is in 4 √3000, over 200."""

_STEP_MM: Final = 10.0
"""Lines are followed in steps of this: a window that one crosses for less may not be counted."""


def tile_count(
    marks: Sequence[Mark], width: float, height: float, overlap: float
) -> int:
    """About how many windows have something in them; all of them where they are very many.

    Parameters
    ----------
    marks
        The drawing.
    width, height : float, mm
        The largest window.
    overlap : float, mm
        What neighbouring windows share.
    """
    box = bounds(marks)
    across = windows_along(box.width, width, overlap)
    down = windows_along(box.height, height, overlap)
    if across * down == 1 or across * down > MOST_LOOKED_AT:
        return across * down
    points = np.concatenate([*_points(marks), np.empty((0, 2))])
    found = [one * down + other
             for one in _windows(points[:, 0] - box.left, box.width, across, overlap)
             for other in _windows(points[:, 1] - box.bottom, box.height, down, overlap)]
    return len(np.unique(found))


def _windows(places: Floats, length: float, count: int, overlap: float) -> tuple[Whole, Whole]:
    """The first and the last window that holds each place (n,), mm from the first one's start."""
    step = (length - overlap) / count if count > 1 else length
    last = np.clip(places // step, 0, count - 1).astype(np.int64)
    first = np.clip(-((step + overlap - places) // step), 0, count - 1).astype(np.int64)
    return first, last


def _points(marks: Sequence[Mark]) -> Iterator[Floats]:
    """Points (n, 2) along everything that is drawn, mm."""
    for mark in leaves(marks):
        match mark:
            case Path():
                ends = np.concatenate((mark.points, mark.points[:1] if mark.closed else
                                       mark.points[-1:]))
                yield points_along(ends[:-1], ends[1:], _STEP_MM)
            case Hatch():
                strokes = hatch_strokes(mark)
                yield points_along(strokes[:, 0], strokes[:, 1], _STEP_MM)
            case _:
                yield np.array((mark.at,))
