"""The best dual prices of :mod:`coper.bench.cut_list.bound`, by column generation.

Gilmore and Gomory (Operations Research 9, 1961, from memory): let bars be cut in shares, any share
of any pattern, so that together they give all pieces. The cheapest such mixture, a basis of the
linear programme, has one dual price a piece; a pattern worth more than its bar at these prices
comes into the basis, until there is none: finding it is a bounded knapsack. Prices at any step,
divided by how much the best pattern is worth over its bar, are dual feasible (Farley, Operations
Research 38, 1990, from memory), so stopping early is honest.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.bench.cut_list.bound import Prices, worth
from coper.bench.cut_list.task import Pattern, Task

MOST_SIZES = 60
"""With more different sizes than this those in closed form are as near, and these slow to find."""

MOST_STEPS = 150_000
"""Steps of all knapsacks together: a fraction of a second."""

MOST_KNAPSACK_STEPS = 20_000
"""Steps of one knapsack; past it, what it may have missed counts."""

ROUNDING = 1e-9
"""Share by which prices are lowered: more than the rounding of their sums."""


def best_dual_prices(task: Task) -> Prices:
    """The dual prices that sum to the most, or as near as the steps lead."""
    nothing = tuple(0 for _ in task.sizes)
    if len(task.sizes) > MOST_SIZES:
        return nothing
    basis, best, steps = _Basis.of_singles(task), nothing, 0
    while steps < MOST_STEPS:
        prices = basis.prices()
        columns = [_knapsack(task, prices, kind.room) for kind in task.kinds]
        steps += sum(column.steps for column in columns)
        pairs = list(zip(columns, task.kinds, strict=True))
        over = max(column.most / kind.length for column, kind in pairs)
        best = max(best, _dual_feasible(prices, over),
                   key=lambda prices: worth(prices, task.counts))
        column, kind = max(pairs, key=lambda pair: pair[0].worth / pair[1].length)
        if column.worth <= kind.length * (1 + ROUNDING):
            break
        if not basis.bring(column.pattern, kind.length):
            break
    return best


def _dual_feasible(prices: Floats, over: float) -> Prices:
    """Prices, grains, at which no bar holds more than its length; ``over`` is what it did."""
    return tuple(int(price) for price in np.maximum(prices, 0.0) / over * (1 - ROUNDING))


class _Basis:
    """A basis: as many patterns as there are sizes, which in shares give every piece wanted."""

    def __init__(self, wanted: Floats, patterns: Floats, lengths: Floats) -> None:
        self.wanted = wanted
        self.patterns = patterns
        self.lengths = lengths

    @classmethod
    def of_singles(cls, task: Task) -> _Basis:
        """Each size alone, on the shortest bar that holds it."""
        lengths = [min(kind.length for kind in task.kinds if kind.room >= size)
                   for size in task.sizes]
        return cls(np.array(task.counts, dtype=float), np.eye(len(task.sizes)),
                   np.array(lengths, dtype=float))

    def prices(self) -> Floats:
        """The dual prices of the basis: at them every pattern of it is worth its bar."""
        return np.asarray(np.linalg.solve(self.patterns.T, self.lengths), dtype=np.float64)

    def bring(self, pattern: Floats, length: int) -> bool:
        """Bring a pattern into the basis for the one that runs out first; whether one does."""
        shares = np.linalg.solve(self.patterns, self.wanted)
        change = np.linalg.solve(self.patterns, pattern)
        falling = change > ROUNDING
        if not falling.any():
            return False
        last = np.where(falling, shares / np.where(falling, change, 1.0), np.inf)
        out = int(np.argmin(last))
        self.patterns[:, out] = pattern
        self.lengths[out] = length
        return True


@dataclass(frozen=True, slots=True, eq=False)
class _Column:
    """A pattern (n,), what it is worth, the most that any may be worth, and the search's steps."""

    pattern: Floats
    worth: float
    most: float
    steps: int


def _knapsack(task: Task, prices: Floats, room: int) -> _Column:
    """The pattern worth most on a bar with ``room``: a bounded knapsack, by branch and bound.

    The dearest for its size comes first; a branch is pruned where the room that remains, filled
    with the dearest piece to come, cannot beat the best.
    """
    rate = prices / np.array(task.sizes)
    order = [int(i) for i in np.argsort(-rate, kind="stable") if prices[i] > 0]
    size, count = [task.sizes[i] for i in order], [task.counts[i] for i in order]
    price, dear = [float(prices[i]) for i in order], [float(rate[i]) for i in order] + [0.0]
    best = 0.0
    chosen: Pattern = ()
    waiting: list[tuple[int, int, float, Pattern]] = [(0, room, 0.0, ())]
    steps = 0
    while waiting and steps < MOST_KNAPSACK_STEPS:
        steps += 1
        at, rest, value, taken = waiting.pop()
        if value > best:
            best, chosen = value, taken
        if at == len(order) or value + rest * dear[at] <= best:
            continue
        for many in range(min(count[at], rest // size[at]) + 1):
            more = (*taken, (order[at], many)) if many else taken
            waiting.append((at + 1, rest - many * size[at], value + many * price[at], more))
    pattern = np.zeros(len(task.sizes))
    for index, many in chosen:
        pattern[index] = many
    most = max([best, *(value + rest * dear[at] for at, rest, value, _ in waiting)])
    return _Column(pattern, best, most, steps)
