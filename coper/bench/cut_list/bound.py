"""What no packing can do better than: dual prices of pieces.

Prices are dual feasible where no bar can hold pieces of a higher price than its own length. All
pieces' prices together are then a length of stock that no packing goes below, and so are those of
the pieces that are still to cut. Two kinds of such prices are known in closed form:

- by length: ``size * length / room`` of the shortest bar, whose share of length to room is the
  smallest;
- for a threshold t up to half the longest room: pieces above ``longest room - t`` cost the shortest
  bar that holds them, those below t nothing, those between by length. A bar with one of the first
  has no room for anything else that costs. (The threshold is that of Martello and Toth's second
  bound for bins of one size, Discrete Applied Mathematics 28, 1990, from memory; for several
  lengths derived here.)

:mod:`coper.bench.cut_list.dual_prices` finds the best, by a linear programme.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from coper.bench.cut_list.task import Task

Prices = tuple[int, ...]
"""The dual price of each size, in grains of stock."""

MOST_SUMS = 200_000
"""Sums of bars that are looked through at most; the bound stays honest without."""


def plain_dual_prices(task: Task) -> Prices:
    """Of the dual prices in closed form, those that sum to the most."""
    longest = task.kinds[0].room
    thresholds = {0, longest // 2}
    thresholds.update(longest - size + 1 for size in task.sizes if 2 * size > longest + 1)
    return max((_threshold_prices(task, threshold) for threshold in sorted(thresholds)),
               key=lambda prices: worth(prices, task.counts))


def _threshold_prices(task: Task, threshold: int) -> Prices:
    longest, shortest = task.kinds[0].room, task.kinds[-1]
    return tuple(
        _shortest_for(task, size) if size > longest - threshold
        else size * shortest.length // shortest.room if size >= threshold else 0
        for size in task.sizes)


def _shortest_for(task: Task, size: int) -> int:
    """Length of the shortest bar that holds ``size``."""
    return min(kind.length for kind in task.kinds if kind.room >= size)


def worth(prices: Prices, counts: Sequence[int]) -> int:
    """The price of ``counts`` of each size."""
    return sum([price * count for price, count in zip(prices, counts, strict=True)])


def least_bars(task: Task, counts: Sequence[int]) -> int:
    """The fewest bars that hold ``counts`` of each size: none is longer than the longest."""
    return -(-worth(task.sizes, counts) // task.kinds[0].room)


def bar_step(task: Task) -> int:
    """Every sum of bars is a multiple of this, grains."""
    return math.gcd(*(kind.length for kind in task.kinds))


def next_sum(task: Task, least: int) -> int:
    """The smallest length from ``least`` up that bars make together, grains.

    Where there are too many sums to look through, or none is long enough, the next multiple of
    their step.
    """
    step = bar_step(task)
    low = -(-least // step)
    top = low + task.kinds[0].length // step
    if top > MOST_SUMS:
        return low * step
    reach = np.zeros(top + 1, dtype=bool)
    reach[0] = True
    for kind in task.kinds:
        length = kind.length // step
        for _ in range(top // length if kind.count is None else min(kind.count, top // length)):
            further = reach.copy()
            further[length:] |= reach[:-length]
            if (further == reach).all():
                break
            reach = further
    found = np.flatnonzero(reach[low:])
    return (low + (int(found[0]) if len(found) else 0)) * step
