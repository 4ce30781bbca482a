"""Where along the clock a cope is sampled: even steps, kinks, ends of open stretches.

Clocks are degrees in 0 to 360; a stretch that runs over 0 has its end below its start.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from coper.arrays import Floats, Whole
from coper.joint.cluster import OPEN, Cluster
from coper.search import changes
from coper.tolerances import (
    BREAK_INSIDE_DEG,
    DRAWN_ROUNDS,
    DRAWN_SAG_MM,
    SAME_CLOCK_DEG,
)

STEPS = 720
"""Even clocks of a cope unless the caller wants another number; breaks are looked for on these."""

CHANGES_IN_A_CELL = 24
"""Changes of label looked for in half a degree: pieces of mains and branch make a few at most."""

SPAN_STEPS = 360
"""Chords that a smooth span's length is measured with, before they are halved once."""


@dataclass(frozen=True, slots=True, eq=False)
class Breaks:
    """Where a cope's curve is not smooth.

    Attributes
    ----------
    kinks : (k,) float, degrees
        Where the winning main, the piece of its skin, or the piece of the branch's changes.
    starts, ends : (m,) float, degrees
        Open stretch ``i`` runs from ``starts[i]`` to ``ends[i]``; both still lie on the curve.
    """

    kinks: Floats
    starts: Floats
    ends: Floats

    @property
    def all(self) -> Floats:
        """Every break (k,), sorted, in degrees."""
        return merged(self.kinks % 360, self.starts % 360, self.ends % 360)


@lru_cache(maxsize=16)
def even_clocks(steps: int) -> Floats:
    """``steps`` even clocks (steps,) from 0, in degrees."""
    clocks: Floats = np.arange(steps, dtype=np.float64) * (360.0 / steps)
    clocks.setflags(write=False)
    return clocks


def grid_edges(cluster: Cluster) -> Floats:
    """Along (2, STEPS) in mm of the outside and the inside edge at even clocks."""
    return cluster.entry(even_clocks(STEPS), np.array(((0.0,), (cluster.wall(),))))


def find_breaks(cluster: Cluster, along: Floats, depth: float = 0.0) -> Breaks:
    """The kinks and open stretches of one edge, given as ``along`` (STEPS,) at even clocks."""
    grid = even_clocks(STEPS)
    label = cluster.piece(grid, along, depth)
    changed = label != np.roll(label, -1)
    corners = cluster.branch.corners()
    if not changed.any():
        return Breaks(corners, np.empty(0), np.empty(0))
    low = grid[changed]
    cells = _Cells(low, low + 360.0 / STEPS, label[changed], np.roll(label, -1)[changed])
    return _sorted_breaks(_halved(cluster, depth, cells), corners)


@dataclass(frozen=True, slots=True, eq=False)
class _Cells:
    """Cells (k,) of the clock in degrees, the labels (k,) before and after each."""

    low: Floats
    high: Floats
    before: Whole
    after: Whole


def _halved(cluster: Cluster, depth: float, cells: _Cells) -> _Cells:
    """Each cell narrowed to its change of label; one that holds several gives several.

    A label is found once and carried on: a generator that only just touches may have another
    label when it is looked at again among others, and stretches would begin that never end.
    """

    def piece(clock: Floats) -> Whole:
        return cluster.piece(clock, cluster.entry(clock, depth), depth)

    found: list[_Cells] = []
    for _ in range(CHANGES_IN_A_CELL):
        left, right, beyond = changes(piece, cells.low, cells.high, cells.before, cells.after)
        found.append(_Cells(left, right, cells.before, beyond))
        more = beyond != cells.after
        cells = _Cells(right[more], cells.high[more], beyond[more], cells.after[more])
        if not more.any():
            break
    found.append(cells)  # a touch that is noise for longer than that: its end is its cell's
    return _Cells(*(np.concatenate([getattr(one, name) for one in found])
                    for name in ("low", "high", "before", "after")))


def _sorted_breaks(cells: _Cells, corners: Floats) -> Breaks:
    """Breaks from narrow cells (k,)."""
    opens, closes = cells.after == OPEN, cells.before == OPEN
    kinks = merged(cells.low[~opens & ~closes] % 360, corners)
    starts = np.sort((cells.low[opens] - BREAK_INSIDE_DEG) % 360)
    ends = np.sort((cells.high[closes] + BREAK_INSIDE_DEG) % 360)
    if starts.size and ends[0] < starts[0]:
        ends = np.roll(ends, -1)
    return Breaks(kinks, *_joined(starts, ends))


def _joined(starts: Floats, ends: Floats) -> tuple[Floats, Floats]:
    """The open stretches (m,), those made one between which no curve is left to stand on."""
    if starts.size < 2:
        return starts, ends
    apart = (np.roll(starts, -1) - ends + 1) % 360 - 1 > SAME_CLOCK_DEG
    if not apart.any():
        apart[-1] = True  # it touches at single places only
    return starts[np.roll(apart, 1)], ends[apart]


def merged(*clocks: ArrayLike) -> Floats:
    """Clocks of several lists as one sorted list (n,) without repeats, in degrees.

    The same corner found twice differs by its rounding: it is one clock. (``np.unique`` would
    load masked arrays besides.)
    """
    every: Floats = np.sort(np.concatenate(clocks))
    return every[np.diff(every, prepend=-np.inf) > SAME_CLOCK_DEG]


def drawn_clocks(curve: Callable[[Floats], Floats], clock: Floats, girth: float) -> Floats:
    """Clocks (m,) dense enough to draw ``curve`` (clock to along, mm) with straight chords.

    Chords are halved until none leaves the curve by more than ``DRAWN_SAG_MM``, measured square
    to the chord on a sheet that is ``girth`` mm round.
    """
    low, high = clock, np.append(clock[1:], clock[0] + 360)
    start = curve(low)
    stop = np.roll(start, -1)
    added = [clock]
    for _ in range(DRAWN_ROUNDS):
        middle, wide = (low + high) / 2, (high - low) / 360 * girth
        between = curve(middle)
        sag = np.abs(between - (start + stop) / 2) * wide / np.hypot(wide, stop - start)
        bent = np.nan_to_num(sag) > DRAWN_SAG_MM
        if not bent.any():
            break
        added.append(middle[bent] % 360)
        low, high = (np.concatenate((low[bent], middle[bent])),
                     np.concatenate((middle[bent], high[bent])))
        start, stop = (np.concatenate((start[bent], between[bent])),
                       np.concatenate((between[bent], stop[bent])))
    return merged(*added)


def edge_length(cluster: Cluster, breaks: Breaks) -> float:
    """Length in mm of the edge on the branch's outside, its open stretches left out.

    Each smooth span is sampled more closely towards its ends, where an open edge turns up
    steeply, and chord sums with whole and halved steps are combined (Richardson): their error
    falls with the fourth power of the step.
    """
    share = np.linspace(0.0, 1.0, 2 * SPAN_STEPS + 1)
    ends = breaks.all
    if ends.size:
        share = (1 - np.cos(np.pi * share)) / 2
    else:
        ends = np.zeros(1)
    total = 0.0
    for low, high in zip(ends, np.append(ends[1:], ends[0] + 360), strict=True):
        clock = low + (high - low) * share
        points = cluster.skin(clock, cluster.entry(clock))
        if np.isfinite(points[1:-1]).all():
            total += (4 * _chords(points) - _chords(points[::2])) / 3
    return total


def _chords(points: Floats) -> float:
    """Length in mm of the straight steps between points (n, 3), those that are ``nan`` left out."""
    steps = np.diff(points[np.isfinite(points).all(axis=-1)], axis=0)
    return float(np.sqrt((steps * steps).sum(axis=-1)).sum())
