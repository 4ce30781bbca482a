"""What a packing is asked for, in whole numbers, and the plain way to do it: first fit."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """One stock length.

    Attributes
    ----------
    length : int, grains
    room : int, grains
        What it holds of pieces that have the kerf added.
    count : int or None
        How many bars there are; ``None`` for no end of them.
    """

    length: int
    room: int
    count: int | None


@dataclass(frozen=True, slots=True)
class Task:
    """Pieces and bars.

    Attributes
    ----------
    sizes : tuple of int, grains
        The pieces' different lengths, the kerf added, the longest first.
    counts : tuple of int
        How many of each.
    kinds : tuple of Kind
        The longest first, no two alike.
    """

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    kinds: tuple[Kind, ...]


Pattern = tuple[tuple[int, int], ...]
"""What one bar gives: the index of a size and how many of it, the longest first."""


@dataclass(frozen=True, slots=True)
class PackedBar:
    """One bar: the index of its kind, and its pattern."""

    kind: int
    pattern: Pattern

    def used(self, task: Task) -> int:
        """What its pieces take of the room, grains."""
        return sum(task.sizes[size] * count for size, count in self.pattern)


@dataclass(frozen=True, slots=True)
class PackedBars:
    """All bars of a packing.

    Attributes
    ----------
    cuts : tuple of PackedBar
    cost : (length in grains, number of bars)
        The smaller the better.
    """

    cuts: tuple[PackedBar, ...]
    cost: tuple[int, int]


def packed_bars(task: Task, cuts: tuple[PackedBar, ...]) -> PackedBars:
    """These bars and what they cost."""
    return PackedBars(cuts, (sum(task.kinds[cut.kind].length for cut in cuts), len(cuts)))


def first_fit(task: Task, favoured: int) -> PackedBars | None:
    """The longest piece first, each into the first bar that has room, else into a new one.

    New bars are of the ``favoured`` kind while there are any that hold the piece, else the
    shortest that does; at the end each bar becomes the shortest one that holds its pieces.
    ``None`` where the bars run out.
    """
    left = [kind.count for kind in task.kinds]
    kinds: list[int] = []
    rooms: list[int] = []
    patterns: list[dict[int, int]] = []
    for index, size in enumerate(task.sizes):
        bar = 0  # where one piece found no room, the next of its size finds none either
        for _ in range(task.counts[index]):
            while bar < len(rooms) and rooms[bar] < size:
                bar += 1
            if bar == len(rooms):
                kind = _new_bar(task, left, favoured, size)
                if kind is None:
                    return None
                kinds.append(kind)
                rooms.append(task.kinds[kind].room)
                patterns.append({})
            rooms[bar] -= size
            patterns[bar][index] = patterns[bar].get(index, 0) + 1
    cuts = (PackedBar(kind, tuple(pattern.items()))
            for kind, pattern in zip(kinds, patterns, strict=True))
    return packed_bars(task, tuple(_shortest(task, left, cut) for cut in cuts))


def _new_bar(task: Task, left: list[int | None], favoured: int, size: int) -> int | None:
    """The kind of a new bar, taken from what is left; ``None`` where none holds ``size``."""
    for kind in (favoured, *reversed(range(len(task.kinds)))):
        if task.kinds[kind].room >= size and _take(left, kind):
            return kind
    return None


def _shortest(task: Task, left: list[int | None], cut: PackedBar) -> PackedBar:
    """The same pieces from the shortest bar that is left and holds them."""
    used = cut.used(task)
    for kind in range(len(task.kinds) - 1, cut.kind, -1):
        if task.kinds[kind].room >= used and _take(left, kind):
            if (former := left[cut.kind]) is not None:
                left[cut.kind] = former + 1
            return PackedBar(kind, cut.pattern)
    return cut


def _take(left: list[int | None], kind: int) -> bool:
    """Whether a bar of ``kind`` was left; it is taken."""
    count = left[kind]
    if count is None:
        return True
    if count == 0:
        return False
    left[kind] = count - 1
    return True
