"""Where the lines of a drawing run, asked of many boxes at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Whole

INK_CELL_MM = 0.5
"""Lines are looked for under a label in squares of this size, a fifth of a letter's height."""

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


def sampled(lines: Sequence[Floats]) -> Floats:
    """Points (n, 2) in mm on lines (k, 2), ``INK_CELL_MM`` apart or less."""
    starts = np.concatenate([np.zeros((0, 2)), *(line[:-1] for line in lines)])
    ways = np.concatenate([np.zeros((0, 2)), *(np.diff(line, axis=0) for line in lines)])
    steps = (np.hypot(*ways.T) / INK_CELL_MM).astype(int) + 1
    counts = steps + 1
    of = np.repeat(np.arange(counts.size), counts)
    step = np.arange(of.size) - np.repeat(counts.cumsum() - counts, counts)
    points: Floats = starts[of] + (step / steps[of])[:, None] * ways[of]
    return points
