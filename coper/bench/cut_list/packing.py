"""Pieces cut from stock lengths: which from which bar, so that little stock is used.

::

    +--------+-+--------+-+-----+-+-------+
    | piece  |k| piece  |k|piece|k| rest  |     k: the kerf, what the saw turns to dust
    +--------+-+--------+-+-----+-+-------+

Derived: n pieces and the kerfs between them fit a bar where ``sum + (n - 1) kerf <= bar``, that is
``sum of (piece + kerf) <= bar + kerf``: with the kerf added to both, pieces fit bars without one.
Where less than a kerf would be left the last cut only trims the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coper.bench.cut_list.bound import next_sum, plain_dual_prices, worth
from coper.bench.cut_list.branch_and_bound import branch_and_bound
from coper.bench.cut_list.dual_prices import best_dual_prices
from coper.bench.cut_list.task import Kind, PackedBar, PackedBars, Task, first_fit
from coper.errors import ShapeError
from coper.units import format_size

GRAINS = 1_000_000
"""Lengths are packed as whole numbers of this many to a mm: the accuracy that coper promises.

The rounding of a computed length then never keeps two pieces from a bar that they just fill, and
every 1/64 inch is a whole number of grains.
"""


@dataclass(frozen=True, slots=True)
class Stock:
    """A length that bars come in.

    Attributes
    ----------
    length : float, mm
    count : int or None
        How many there are; ``None`` for as many as are needed.
    """

    length: float
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar and what is cut from it.

    Attributes
    ----------
    length : float, mm
    pieces : tuple of int
        Which of the lengths that were asked for, the longest first.
    rest : float, mm
        What is left after the last kerf.
    """

    length: float
    pieces: tuple[int, ...]
    rest: float


@dataclass(frozen=True, slots=True)
class Packing:
    """Every piece on a bar.

    Attributes
    ----------
    bars : tuple of Bar
        The longest first.
    total : float, mm
        Length of all bars.
    least : float, mm
        No packing takes less than this, by an honest bound; ``total`` where this one is the best.
    """

    bars: tuple[Bar, ...]
    total: float
    least: float

    @property
    def over(self) -> float:
        """The most by which a better packing could be shorter, as a share of ``least``."""
        return self.total / self.least - 1 if self.least else 0.0


def pack(
    lengths: Sequence[float], stocks: Sequence[Stock], kerf: float, names: Sequence[str] = ()
) -> Packing:
    """Cut ``lengths`` (mm) from ``stocks``: the least total length of bars, then the fewest bars.

    Few pieces, or pieces of few lengths, are packed exactly; of many the best of a search that
    stops after a fixed number of steps is taken, and ``least`` says how near it is. The same input
    always gives the same packing. ``names`` says what each length is called in a message.

    Raises
    ------
    ShapeError
        Where a piece is longer than every stock length, or no way was found to cut all of them
        from as many bars as there are.
    """
    if not lengths:
        return Packing((), 0.0, 0.0)
    task, places = _task(lengths, stocks, kerf)
    _check_longest(task, lengths, names)
    fitted = [packed for kind in range(len(task.kinds))
              if (packed := first_fit(task, kind)) is not None]
    first = min(fitted, key=lambda packed: packed.cost, default=None)
    prices = plain_dual_prices(task)
    least = next_sum(task, worth(prices, task.counts))
    if first is None or first.cost[0] > least:
        prices = max(prices, best_dual_prices(task),
                     key=lambda prices: worth(prices, task.counts))
        least = next_sum(task, worth(prices, task.counts))
    best, complete = branch_and_bound(task, first, prices, least)
    if best is None:
        raise ShapeError(
            f"no way was found to cut all pieces ({len(lengths)}, together "
            f"{format_size(round(sum(lengths), 2))}) from as many bars as there are",
            "list more of them, or a length without a count, which can be bought")
    total = best.cost[0]
    return Packing(_bars(task, best, places), total / GRAINS,
                   (total if complete else least) / GRAINS)


def fits(length: float, bar: float) -> bool:
    """Whether a piece can be cut from a bar, both in mm."""
    return round(length * GRAINS) <= round(bar * GRAINS)


def _task(
    lengths: Sequence[float], stocks: Sequence[Stock], kerf: float
) -> tuple[Task, dict[int, list[int]]]:
    """In grains, the kerf added; and which pieces are of each size."""
    dust = round(kerf * GRAINS)
    places: dict[int, list[int]] = {}
    for index, length in enumerate(lengths):
        places.setdefault(round(length * GRAINS) + dust, []).append(index)
    sizes = tuple(sorted(places, reverse=True))
    counts: dict[int, int | None] = {}
    for stock in stocks:
        length = round(stock.length * GRAINS)
        known = counts.get(length, 0)
        counts[length] = None if known is None or stock.count is None else known + stock.count
    kinds = tuple(Kind(length, length + dust, counts[length])
                  for length in sorted(counts, reverse=True))
    return Task(sizes, tuple(len(places[size]) for size in sizes), kinds), places


def _check_longest(task: Task, lengths: Sequence[float], names: Sequence[str]) -> None:
    bar = max((kind.length for kind in task.kinds), default=0) / GRAINS
    index = max(range(len(lengths)), key=lambda index: lengths[index])
    if task.sizes[0] > max((kind.room for kind in task.kinds), default=0):
        name = f" ({names[index]})" if names else ""
        raise ShapeError(
            f"a piece of {format_size(round(lengths[index], 2))}{name} is longer than every stock "
            f"length; the longest is {format_size(round(bar, 2))}", "list a longer one")


def _bars(task: Task, packed: PackedBars, places: dict[int, list[int]]) -> tuple[Bar, ...]:
    waiting = {size: list(indices) for size, indices in places.items()}
    bars = [_bar(task, cut, waiting) for cut in packed.cuts]
    bars.sort(key=lambda bar: (-bar.length, bar.rest))
    return tuple(bars)


def _bar(task: Task, cut: PackedBar, waiting: dict[int, list[int]]) -> Bar:
    kind = task.kinds[cut.kind]
    pieces = [waiting[task.sizes[size]].pop(0) for size, count in cut.pattern
              for _ in range(count)]
    rest = max(0, kind.length - cut.used(task))  # below 0 where the last piece needs no whole kerf
    return Bar(kind.length / GRAINS, tuple(pieces), rest / GRAINS)
