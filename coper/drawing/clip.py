"""Lines and areas cut at a box: arrays in, arrays out."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats


def cut_line(points: Floats, low: Floats, high: Floats) -> list[Floats]:
    """The pieces of a line inside a box.

    Parameters
    ----------
    points : (n, 2) float, mm
        The line, from point to point.
    low, high : (2,) float, mm
        Lower left and upper right corner of the box.

    Returns
    -------
    list of (m, 2) float, mm
        The pieces, in the order of the line. What only touches a corner is no piece.
    """
    steps = np.diff(points, axis=0)
    enter, leave = shares_inside(points[:-1], steps, low, high)
    kept = np.flatnonzero(leave > enter)
    if not len(kept):
        return []
    enter, leave, steps, begun = enter[kept], leave[kept], steps[kept], points[kept]
    goes_on = (np.diff(kept) == 1) & (leave[:-1] == 1.0) & (enter[1:] == 0.0)
    starts, ends = begun + enter[:, None] * steps, begun + leave[:, None] * steps
    whole = leave == 1.0  # start + step would round; the point itself is known
    ends[whole] = points[kept + 1][whole]
    breaks = np.flatnonzero(~goes_on) + 1
    return [
        np.concatenate((starts[run[:1]], ends[run]))
        for run in np.split(np.arange(len(kept)), breaks)
    ]


def cut_strokes(strokes: Floats, low: Floats, high: Floats) -> Floats:
    """The parts (m, 2, 2) of separate strokes (k, 2, 2) inside a box, in mm."""
    steps = strokes[:, 1] - strokes[:, 0]
    enter, leave = shares_inside(strokes[:, 0], steps, low, high)
    kept = leave > enter
    share = np.stack((enter, leave), axis=-1)[kept]
    cut: Floats = strokes[kept, :1] + share[..., None] * steps[kept, None]
    return cut


def cut_area(points: Floats, low: Floats, high: Floats) -> Floats:
    """The part of an area inside a box, after Sutherland and Hodgman (CACM 17, 1974, p. 32).

    Parameters
    ----------
    points : (n, 2) float, mm
        The area's corners.
    low, high : (2,) float, mm
        Lower left and upper right corner of the box.

    Returns
    -------
    (m, 2) float, mm
        The corners of what is left; none where nothing is.
    """
    for axis in (0, 1):
        for limit, sign in ((low[axis], 1.0), (high[axis], -1.0)):
            points = _cut_half(points, sign * (points[:, axis] - limit))
    return points


def shares_inside(
    begun: Floats, steps: Floats, low: Floats, high: Floats
) -> tuple[Floats, Floats]:
    """Shares (n,) of each step (n, 2), mm, at which it enters and leaves a box.

    ``begun`` (n, 2) are the steps' first points, ``low`` and ``high`` (2,) the box's corners.

    After Liang and Barsky (ACM Trans. Graphics 3, 1984, p. 1): the latest entry through the four
    borders and the earliest exit. A step that never is inside leaves before it enters.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        one, other = (low - begun) / steps, (high - begun) / steps
    still = steps == 0.0
    lies_in = (begun >= low) & (begun <= high)
    first = np.where(still, 0.0, np.minimum(one, other))
    last = np.where(still, np.where(lies_in, 1.0, 0.0), np.maximum(one, other))
    enter = np.maximum(first.max(axis=-1), 0.0)
    leave = np.minimum(last.min(axis=-1), 1.0)
    return enter, leave


def _cut_half(points: Floats, inside: Floats) -> Floats:
    """The part of an area (n, 2) that is ``inside`` (n,), mm from a border, 0 or more."""
    if (inside >= 0).all():
        return points
    after, after_inside = np.roll(points, -1, axis=0), np.roll(inside, -1)
    crosses = (inside >= 0) != (after_inside >= 0)
    share = np.divide(inside, inside - after_inside, out=np.zeros_like(inside), where=crosses)
    border = points + share[:, None] * (after - points)
    both = np.stack((points, border), axis=1).reshape(-1, 2)
    kept: Floats = both[np.stack((inside >= 0, crosses), axis=1).ravel()]
    return kept
