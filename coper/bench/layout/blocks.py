"""Stacks of set-up blocks: which of the shop's own blocks make up a height."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats, Whole
from coper.errors import CoperError
from coper.shapes.checks import check_size

MOST_BLOCKS = 24
"""All stacks of as many are looked through, in two halves of 4096; more than are on one bench."""

FLUSH_MM = 0.1
"""A stack that is off by no more is right: no shim is thinner than a sheet of paper."""

SAME_MM = 1e-6
"""Two stacks that differ by less are equally high: rounding of a sum."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Blocks on each other that come to a height.

    Attributes
    ----------
    height : float, mm
        What was asked for.
    blocks : tuple of float, mm
        The largest first; empty where none is needed, or all are too thick.
    shim : float, mm
        What is to be added; 0 where the stack is flush.
    """

    height: float
    blocks: tuple[float, ...]
    shim: float


@dataclass(frozen=True, slots=True, eq=False)
class _Half:
    """Every stack of half of the blocks, the lowest first, one a height: that of fewest blocks."""

    sums: Floats
    counts: Whole
    picked: Whole


@dataclass(frozen=True, slots=True, eq=False)
class BlockSet:
    """The blocks of a shop, each there once; two alike are given twice.

    Every stack of one half of them is joined with the stack of the other half that suits it best,
    so that no stack is left out (derived: the best of all is the best of those pairs).

    Attributes
    ----------
    sizes : tuple of float, mm

    Raises
    ------
    CoperError
        Where there are more than ``MOST_BLOCKS``, or one has no size.
    """

    sizes: tuple[float, ...]
    _halves: tuple[_Half, _Half] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        for size in self.sizes:
            check_size(size, "block")
        if len(self.sizes) > MOST_BLOCKS:
            raise CoperError(f"{len(self.sizes)} blocks are more than the {MOST_BLOCKS} whose "
                             "stacks can all be tried", "list those that lie at the table",
                             "shop.blocks")
        middle = len(self.sizes) // 2
        halves = _half(self.sizes[:middle]), _half(self.sizes[middle:])
        object.__setattr__(self, "_halves", halves)

    def stack(self, height: float) -> Stack:
        """The stack nearest under ``height`` mm and its shim, or one flush with it.

        Of two equally high ones that of fewer blocks.
        """
        under, blocks = self._best(height, over=False)
        over, higher = self._best(height, over=True)
        if over - height <= FLUSH_MM and over - height < height - under:
            under, blocks = over, higher
        rest = height - under
        return Stack(height, blocks, rest if rest > FLUSH_MM else 0.0)

    def next_up(self, height: float) -> float | None:
        """The lowest that a stack comes to, at or above ``height`` mm; ``None`` beyond them all."""
        found = self._best(height, over=True)[0]
        return found if np.isfinite(found) else None

    def _best(self, height: float, over: bool) -> tuple[float, tuple[float, ...]]:
        """The stack nearest ``height`` mm from above or from below, and its blocks."""
        one, other = self._halves
        rest = height - one.sums
        if over:
            at = np.searchsorted(other.sums, rest - SAME_MM)
            there = at < other.sums.size
        else:
            at = np.searchsorted(other.sums, rest + SAME_MM, side="right") - 1
            there = at >= 0
        if not there.any():
            return (np.inf, ()) if over else (0.0, ())
        mine, theirs = np.flatnonzero(there), at[there]
        sums = one.sums[mine] + other.sums[theirs]
        off = np.abs(sums - height)
        count = np.where(off <= off.min() + SAME_MM, one.counts[mine] + other.counts[theirs],
                         len(self.sizes) + 1)
        best = int(count.argmin())
        middle = len(self.sizes) // 2
        taken = (*_taken(self.sizes[:middle], int(one.picked[mine[best]])),
                 *_taken(self.sizes[middle:], int(other.picked[theirs[best]])))
        return float(sum(taken)), tuple(sorted(taken, reverse=True))


def _half(sizes: Sequence[float]) -> _Half:
    picked = np.arange(2 ** len(sizes))
    bits = (picked[:, None] >> np.arange(len(sizes))) & 1
    sums, counts = bits @ np.array(sizes, dtype=np.float64), bits.sum(axis=1)
    order = np.lexsort((counts, np.round(sums / SAME_MM)))
    rounded = np.round(sums[order] / SAME_MM)
    first = order[np.append(True, np.diff(rounded) > 0)]
    return _Half(sums[first], counts[first], picked[first])


def _taken(sizes: Sequence[float], picked: int) -> list[float]:
    return [size for index, size in enumerate(sizes) if picked >> index & 1]
