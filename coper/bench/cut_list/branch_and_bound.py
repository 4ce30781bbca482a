"""The best packing by branch and bound: bar by bar, each with the longest piece that is left.

Each branch is one bar more. The search goes through every way to fill a bar that leaves no room for
any piece still waiting (a packing with such room can be had from one without at no more stock), the
fullest first, and prunes where the bound by dual prices says that nothing better can come. Steps
are counted, never time: the same task always ends with the same packing.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate

from coper.bench.cut_list.bound import Prices, bar_step, least_bars, worth
from coper.bench.cut_list.task import PackedBar, PackedBars, Pattern, Task, packed_bars

MOST_STEPS = 200_000
"""Steps of the whole search: enough to be exact on a frame, over in a fraction of a second."""

SIZES_A_STEP = 4
"""Sizes that are looked at in the time of a step, where a bound is worked out."""

MOST_BAR_STEPS = 2_000
"""Steps of the search for ways to fill one bar."""


@dataclass(frozen=True, slots=True)
class _Node:
    """What is still to cut, the bars left of each kind, and the bars so far."""

    counts: tuple[int, ...]
    left: tuple[int | None, ...]
    cuts: tuple[PackedBar, ...]
    cost: tuple[int, int]


def branch_and_bound(
    task: Task, known: PackedBars | None, prices: Prices, least: int
) -> tuple[PackedBars | None, bool]:
    """The best packing, and whether no other takes less stock.

    Parameters
    ----------
    task : Task
        What is asked for.
    known : PackedBars or None
        One to start from.
    prices : tuple of int, grains
        Dual ones: what is still to cut takes no less stock.
    least : int, grains
        No packing takes less.
    """
    tree = _Tree(task, known, prices, least)
    tree.search()
    return tree.best, tree.complete or (tree.best is not None and tree.best.cost[0] == least)


class _Tree:
    """The tree of a search, and the best packing found in it so far."""

    def __init__(self, task: Task, known: PackedBars | None, prices: Prices, least: int) -> None:
        self.task = task
        self.best = known
        self.prices = prices
        self.step = bar_step(task)
        self.goal = (least, least_bars(task, task.counts))
        self.steps = 0
        self.complete = True
        self.seen: dict[tuple[tuple[int, ...], tuple[int | None, ...]], tuple[int, int]] = {}

    def search(self) -> None:
        """Go through the tree, the likeliest branch first, until it ends or the steps do."""
        first = _Node(self.task.counts, tuple(kind.count for kind in self.task.kinds), (), (0, 0))
        open_nodes = [self._branches(first)]
        while open_nodes and not self._reached():
            node = next(open_nodes[-1], None)
            if node is None:
                open_nodes.pop()
            elif self.steps > MOST_STEPS:
                self.complete = False
                return
            elif any(node.counts):
                open_nodes.append(self._branches(node))
            else:
                self.best = packed_bars(self.task, node.cuts)

    def _reached(self) -> bool:
        """Whether nothing better can be."""
        if self.best is None:
            return False
        alike = len(self.task.kinds) == 1
        return self.best.cost[0] <= self.goal[0] and (alike or self.best.cost[1] <= self.goal[1])

    def _branches(self, node: _Node) -> Iterator[_Node]:
        """One bar more, each way that may improve on the best."""
        ways: list[tuple[float, int, Pattern]] = []
        for kind, count in enumerate(node.left):
            if count != 0:
                room = self.task.kinds[kind].room
                ways += [(rest / room, kind, pattern)
                         for rest, pattern in self._fillings(node.counts, room)]
        ways.sort(key=lambda way: way[0])
        for _, kind, pattern in ways:
            following = self._after(node, kind, pattern)
            if self._may_improve(following):
                yield following

    def _after(self, node: _Node, kind: int, pattern: Pattern) -> _Node:
        counts, left = list(node.counts), list(node.left)
        for size, count in pattern:
            counts[size] -= count
        if (bars := left[kind]) is not None:
            left[kind] = bars - 1
        cost = (node.cost[0] + self.task.kinds[kind].length, node.cost[1] + 1)
        return _Node(tuple(counts), tuple(left), (*node.cuts, PackedBar(kind, pattern)), cost)

    def _may_improve(self, node: _Node) -> bool:
        """Whether the bound is below the best, and it was not met before at no more cost."""
        self.steps += 1 + len(node.counts) // SIZES_A_STEP
        if self.best is not None and self._bound(node) >= self.best.cost:
            return False
        state = (node.counts, node.left)
        if state in self.seen and self.seen[state] <= node.cost:
            return False
        self.seen[state] = node.cost
        return True

    def _bound(self, node: _Node) -> tuple[int, int]:
        further = -(-worth(self.prices, node.counts) // self.step) * self.step
        return node.cost[0] + further, node.cost[1] + least_bars(self.task, node.counts)

    def _fillings(self, counts: tuple[int, ...], room: int) -> list[tuple[int, Pattern]]:
        """Every full pattern with the longest piece left, and what it leaves of ``room``."""
        filler = _Filler(self.task.sizes, counts)
        found = filler.fill(room)
        self.steps += filler.steps
        self.complete &= not filler.stopped
        return found


class _Filler:
    """Ways to fill a bar from ``counts`` pieces of each of ``sizes``, the longest first."""

    def __init__(self, sizes: tuple[int, ...], counts: tuple[int, ...]) -> None:
        self.sizes = sizes
        self.counts = counts
        self.rising = [-size for size in sizes]
        every = [size * count for size, count in zip(sizes, counts, strict=True)]
        self.behind = [*reversed([*accumulate(reversed(every))]), 0]
        self.steps = 0
        self.stopped = False

    def fill(self, room: int) -> list[tuple[int, Pattern]]:
        """Patterns with the longest piece and no room for another, each with its rest."""
        first = next(index for index, count in enumerate(self.counts) if count)
        if self.sizes[first] > room:
            return []
        found: list[tuple[int, Pattern]] = []
        waiting: list[tuple[int, int, Pattern, int]] = [(first, room, (), room + 1)]
        while waiting:
            self.steps += 1
            if self.steps > MOST_BAR_STEPS:
                self.stopped = True
                break
            index, rest, chosen, unused = waiting.pop()
            index = self._next(index, rest)
            if index == len(self.sizes):
                if rest < unused:
                    found.append((rest, chosen))
            elif rest - self.behind[index] < unused:
                waiting += self._choices(index, rest, chosen, unused, index == first)
        return found

    def _next(self, index: int, rest: int) -> int:
        """The first size from ``index`` on of which there is a piece that fits ``rest``."""
        index = max(index, bisect_left(self.rising, -rest))
        while index < len(self.sizes) and not self.counts[index]:
            index += 1
        return index

    def _choices(
        self, index: int, rest: int, chosen: Pattern, unused: int, needed: bool
    ) -> Iterator[tuple[int, int, Pattern, int]]:
        """Each number of one size, the most last; ``unused`` is the shortest piece left out."""
        size, count = self.sizes[index], self.counts[index]
        for taken in range(int(needed), min(count, rest // size) + 1):
            yield (index + 1, rest - taken * size, (*chosen, (index, taken)) if taken else chosen,
                   unused if taken == count else size)
