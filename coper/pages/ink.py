"""Where the lines of a drawing run, asked of many boxes at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Whole
from coper.drawing.bounds import Bounds, Leaf, bounds, leaves, text_corners
from coper.drawing.hatch import hatch_strokes
from coper.drawing.marks import Hatch, Mark, Path, Text

INK_CELL_MM = 0.5
"""Lines are looked for under a label in squares of this size, a fifth of a letter's height."""

CLEAR_STEP_MM = 1.0
"""Places for something that is to stand clear of all lines are tried so far apart."""

MOST_CELLS = 3000
"""A raster is no wider: on a roll its squares are larger."""


@dataclass(frozen=True, slots=True, eq=False)
class Ink:
    """Where lines run, as sums over a raster, so that any box is asked in the same time.

    Attributes
    ----------
    low : (2,) float, mm
        The raster's corner.
    cell : float, mm
    sums : (m + 1, n + 1) int
        How many cells with a line in them lie before each row and column of the raster.
    """

    low: Floats
    cell: float
    sums: Whole

    def under(self, lows: Floats, highs: Floats) -> Floats:
        """About how many mm of lines each box (c, 2) covers."""
        last = np.array(self.sums.shape) - 1
        (x0, y0), (x1, y1) = (  # outward: a line that touches the box is under it
            np.clip(whole((corner - self.low) / self.cell).astype(int), 0, last).T
            for corner, whole in ((lows, np.floor), (highs, np.ceil)))
        sums = self.sums
        covered: Floats = (sums[x1, y1] - sums[x0, y1] - sums[x1, y0] + sums[x0, y0]) * self.cell
        return covered

    def clear_place(self, room: Bounds, width: float, height: float) -> tuple[float, float] | None:
        """The left and the top, mm, of a box that covers no line.

        Of those in ``room`` it is the one nearest its upper left corner; ``None`` where every
        one covers some.
        """
        across, down = (np.arange(0.0, free, CLEAR_STEP_MM) for free in (
            room.width - width, room.height - height))
        x, y = (grid.ravel() for grid in np.meshgrid(across, down))
        lows = np.stack((room.left + x, room.top - y - height), axis=-1)
        clear = np.flatnonzero(self.under(lows, lows + np.array((width, height))) == 0)
        if not clear.size:
            return None
        best = clear[(x + y)[clear].argmin()]
        return room.left + float(x[best]), room.top - float(y[best])


def ink_of(lines: Sequence[Floats], low: Floats, high: Floats) -> Ink:
    """The ink of lines (n, 2) between two corner points (2,), mm."""
    size = high - low
    cell = max(INK_CELL_MM, float(size.max()) / MOST_CELLS)
    count = np.ceil(size / cell).astype(int) + 1
    cells = np.floor((sampled(lines) - low) / cell).astype(int)
    cells = cells[((cells >= 0) & (cells < count)).all(axis=1)]
    raster = np.zeros(count + 1, dtype=np.int64)
    raster[cells[:, 0] + 1, cells[:, 1] + 1] = 1
    return Ink(low, cell, raster.cumsum(axis=0).cumsum(axis=1))


def drawn_ink(marks: Sequence[Mark]) -> Ink:
    """The ink of everything that is drawn, words among it."""
    box = bounds(marks)
    return ink_of([line for mark in leaves(marks) for line in _lines(mark)],
                  np.array((box.left, box.bottom)), np.array((box.right, box.top)))


def _lines(mark: Leaf) -> Iterator[Floats]:
    """The lines (k, 2) of a mark, mm; of words those that no letter fits between."""
    match mark:
        case Path():
            yield np.concatenate((mark.points, mark.points[:1])) if mark.closed else mark.points
        case Hatch():
            yield from hatch_strokes(mark)
        case Text():
            corners = text_corners(mark)
            yield np.concatenate((corners, corners[:1]))
            for share in (1 / 3, 2 / 3):
                yield corners[:2] + share * (corners[3] - corners[0])


def sampled(lines: Sequence[Floats]) -> Floats:
    """Points (n, 2) in mm on lines (k, 2), ``INK_CELL_MM`` apart or less."""
    starts = np.concatenate([np.zeros((0, 2)), *(line[:-1] for line in lines)])
    ends = np.concatenate([np.zeros((0, 2)), *(line[1:] for line in lines)])
    return points_along(starts, ends, INK_CELL_MM)


def points_along(starts: Floats, ends: Floats, step: float) -> Floats:
    """Points along the lines from (n, 2) to (n, 2), ``step`` mm apart or less, ends with them."""
    if not len(starts):
        return np.empty((0, 2))
    counts = np.ceil(np.hypot(*(ends - starts).T) / step).astype(np.int64) + 1
    line = np.repeat(np.arange(len(counts)), counts)
    place = np.arange(len(line)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = place / np.maximum(counts[line] - 1, 1)
    points: Floats = starts[line] + share[:, None] * (ends - starts)[line]
    return points
