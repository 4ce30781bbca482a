"""Strokes that fill an outline."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats, Whole
from coper.drawing.marks import Hatch


def hatch_strokes(hatch: Hatch) -> Floats:
    """The strokes of a hatch.

    The outline is turned until the strokes lie level. A level line enters and leaves it by turns
    (even-odd); an edge counts from its lower end up to, but not including, its upper one, so that
    a corner is met once and the crossings of a line are always even in number.

    Parameters
    ----------
    hatch
        The outline, spacing and slope.

    Returns
    -------
    (k, 2, 2) float, mm
        Start and end of each stroke.
    """
    slope = np.radians(hatch.slope)
    level = np.array(((np.cos(slope), -np.sin(slope)), (np.sin(slope), np.cos(slope))))
    starts = np.concatenate([ring @ level for ring in hatch.outline])
    ends = np.concatenate([np.roll(ring, -1, axis=0) @ level for ring in hatch.outline])
    line, across = _crossings(starts, ends, hatch.spacing)
    met = np.stack((across, line * hatch.spacing), axis=-1)[np.lexsort((across, line))]
    strokes: Floats = (met @ level.T).reshape(-1, 2, 2)
    return strokes


def _crossings(
    starts: Floats, ends: Floats, spacing: float
) -> tuple[Whole, Floats]:
    """Where edges (n, 2) cross the lines ``y = line * spacing``: the line, and x in mm."""
    swap = (starts[:, 1] > ends[:, 1])[:, None]
    low, high = np.where(swap, ends, starts), np.where(swap, starts, ends)
    first = np.ceil(low[:, 1] / spacing).astype(np.int64)
    count = np.ceil(high[:, 1] / spacing).astype(np.int64) - first
    edge = np.repeat(np.arange(len(low)), count)
    step = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count, count)
    line = first[edge] + step
    x, y = low[edge].T
    run, rise = (high - low)[edge].T
    return line, x + run * (line * spacing - y) / rise
