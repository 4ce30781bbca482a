"""The cut list: which blank from which bar, tube stock by tube stock."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from coper.arrays import OneLine
from coper.bench.cut_list.donor import from_donors
from coper.bench.cut_list.packing import Packing, fits, pack
from coper.bench.cut_list.stock import KERF_MM, Rack, Shelf, stock_shape
from coper.bench.cut_list.tapered_blank import TaperedBlank, sides_label, tapered_blank
from coper.errors import ShapeError
from coper.frame.alike import Alike, find_alike
from coper.frame.piece import Piece
from coper.frame.tube import Side
from coper.shapes.plate import Plate
from coper.shapes.read import Shape
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval


@dataclass(frozen=True, slots=True)
class Blank:
    """One straight blank.

    Attributes
    ----------
    name : str
    side : ``left``, ``right`` or ``centre``
    number : int
        Its own in the whole list.
    length : float, mm
        Length to cut, with what is left for dressing.
    shaped : float, mm
        Overall length of the tube once it is shaped.
    bent : bool
        Whether it is bent afterwards.
    """

    name: str
    side: Side
    number: int
    length: float
    shaped: float
    bent: bool = False

    @property
    def label(self) -> str:
        """The tube's name, and its side where it has a twin."""
        return sides_label(self.name, (self.side,))


@dataclass(frozen=True, slots=True)
class Shortage:
    """Blanks that a tube's stock lengths do not give.

    Attributes
    ----------
    blanks : tuple of Blank
    longest : float, mm
        The longest of the stock lengths.
    where : str
        Where they are given.
    too_few : bool
        Whether there are too few bars; each blank is longer than all of them otherwise.
    """

    blanks: tuple[Blank, ...]
    longest: float
    where: str
    too_few: bool = False


@dataclass(frozen=True, slots=True)
class PlateBlank:
    """A plate to be cut.

    Attributes
    ----------
    label : str
        Its name, and its side where it has a twin.
    shape : Plate
    length : float, mm
    """

    label: str
    shape: Plate
    length: float


@dataclass(frozen=True, slots=True)
class StockCuts:
    """All that is cut from one tube stock.

    Attributes
    ----------
    shape : a shape
    blanks : tuple of Blank
        In the order of the pieces.
    packing : Packing or None
        ``None`` where no stock length is known, or none of the blanks can be shared out.
    needed : float, mm
        All blanks and the kerfs between them, in one line.
    shortages : tuple of Shortage
        What the stock lengths do not give; the bars are planned without that.
    """

    shape: Shape
    blanks: tuple[Blank, ...]
    packing: Packing | None
    needed: float
    shortages: tuple[Shortage, ...] = ()


@dataclass(frozen=True, slots=True, repr=False)
class CutList(OneLine):
    """All blanks of a frame.

    Attributes
    ----------
    kerf : float, mm
    allowance : float, mm
        What each blank has more at each end, for dressing.
    stocks : tuple of StockCuts
        In the order in which the pieces first name them.
    tapered : tuple of TaperedBlank
    plates : tuple of PlateBlank
        Cut to their drawing and not from a bar.
    existing : tuple of str
        Names of the pieces that stand already: nothing is cut for them.
    alike : tuple of Alike
        Every piece that is cut, those that are the same together.
    """

    kerf: float
    allowance: float
    stocks: tuple[StockCuts, ...]
    tapered: tuple[TaperedBlank, ...]
    plates: tuple[PlateBlank, ...]
    existing: tuple[str, ...] = ()
    alike: tuple[Alike, ...] = ()

    @property
    def numbers(self) -> dict[str, int]:
        """The number of every blank, by its name and side."""
        straight = {blank.label: blank.number for stock in self.stocks for blank in stock.blanks}
        return straight | {label: number for blank in self.tapered
                           for label, number in zip(blank.labels, blank.numbers, strict=True)}


def cut_list(
    pieces: Iterable[Piece], rack: Rack | None = None, kerf: float = KERF_MM
) -> CutList:
    """The cut list of ``pieces``; ``kerf`` in mm.

    Blanks are numbered stock by stock, those that are the same, and mirror images, in a row.
    """
    pieces = tuple(pieces)
    straight: dict[Shape, list[Piece]] = {}
    tapered: list[TaperedBlank] = []
    plates: list[PlateBlank] = []
    existing: list[str] = []
    allowance = 0.0
    for piece in pieces:
        allowance = max(allowance, piece.allowance)
        shape = piece.tube.shape
        if piece.tube.existing:
            existing.append(piece.label)
        elif isinstance(shape, Plate):
            plates.append(PlateBlank(piece.label, shape, piece.blank))
        elif isinstance(shape, Tapered | TaperedOval):
            tapered.append(tapered_blank(piece, shape))
        else:
            straight.setdefault(stock_shape(shape), []).append(piece)
    alike = find_alike(pieces)
    rack = rack or Rack()
    count = itertools.count(1)
    place = {label: at for at, label in enumerate(
        label for group in alike for batch in group.batches for label in batch.labels)}
    stocks = tuple(stock_cuts(shape, _blanks(some, place, count), rack.shelf(shape), kerf)
                   for shape, some in straight.items())
    own = tuple(replace(blank, numbers=tuple(itertools.islice(count, blank.count)))
                for blank in from_donors(_batched(tapered, alike), rack.donors))
    return CutList(kerf, allowance, stocks, own, tuple(plates),
                   tuple(existing), alike)


def _blanks(
    pieces: Sequence[Piece], place: Mapping[str, int], count: Iterator[int]
) -> tuple[Blank, ...]:
    """The blanks of one tube stock; ``place`` is whose number comes first, by name and side."""
    ordered = sorted((piece.label for piece in pieces), key=place.__getitem__)
    numbers = dict(zip(ordered, count, strict=False))  # the count has no end
    return tuple(
        Blank(piece.tube.name, piece.tube.side, numbers[piece.label], piece.blank, piece.shaped,
              piece.tube.is_bent) for piece in pieces)


def stock_cuts(shape: Shape, blanks: tuple[Blank, ...], shelf: Shelf, kerf: float) -> StockCuts:
    """What is cut from one tube stock, and what its lengths do not give."""
    lengths = [blank.length for blank in blanks]
    needed = sum(lengths) + (len(lengths) - 1) * kerf
    if not shelf.stocks:
        return StockCuts(shape, blanks, None, needed)
    longest = max(stock.length for stock in shelf.stocks)
    fitting = [index for index, length in enumerate(lengths) if fits(length, longest)]
    too_long = tuple(blank for index, blank in enumerate(blanks) if index not in fitting)
    shortages = [Shortage(too_long, longest, shelf.where)] if too_long else []
    try:
        packing = pack([lengths[index] for index in fitting], shelf.stocks, kerf)
    except ShapeError:
        left = tuple(blanks[index] for index in fitting)
        shortages.append(Shortage(left, longest, shelf.where, too_few=True))
        return StockCuts(shape, blanks, None, needed, tuple(shortages))
    bars = tuple(replace(bar, pieces=tuple(fitting[piece] for piece in bar.pieces))
                 for bar in packing.bars)
    return StockCuts(shape, blanks, replace(packing, bars=bars) if bars else None, needed,
                     tuple(shortages))


def _batched(blanks: list[TaperedBlank], alike: tuple[Alike, ...]) -> tuple[TaperedBlank, ...]:
    """Tapered pieces that are the same, or mirror images, as one: cut from the taper alike."""
    by_label = {blank.label: blank for blank in blanks}
    rows = ([by_label[label] for batch in group.batches for label in batch.labels]
            for group in alike if group.batch.first.label in by_label)
    return tuple(_joined(row) for row in rows)


def _joined(row: list[TaperedBlank]) -> TaperedBlank:
    """The first of a row with its twin, and the names of all others."""
    first = row[0]
    twins = [blank for blank in row if blank.name == first.name]
    others = tuple(blank.label for blank in row if blank.name != first.name)
    return replace(first, sides=tuple(side for blank in twins for side in blank.sides),
                   others=others)
