"""The cut list: which blank from which bar, tube stock by tube stock."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from coper.arrays import OneLine
from coper.bench.cut_list.packing import Packing, pack
from coper.bench.cut_list.stock import KERF_MM, Rack, Shelf, stock_shape
from coper.bench.cut_list.tapered_blank import TaperedBlank, sides_label, tapered_blank
from coper.errors import CoperError, ShapeError
from coper.frame.alike import Alike, find_alike
from coper.frame.piece import Piece
from coper.frame.tube import Side
from coper.shapes.bent import Bent
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
    length : float, mm
        Length to cut, with what is left for dressing.
    shaped : float, mm
        Overall length of the tube once it is shaped.
    bent : bool
        Whether it is bent afterwards.
    """

    name: str
    side: Side
    length: float
    shaped: float
    bent: bool = False

    @property
    def label(self) -> str:
        """The tube's name, and its side where it has a twin."""
        return sides_label(self.name, (self.side,))


@dataclass(frozen=True, slots=True)
class StockCuts:
    """All that is cut from one tube stock.

    Attributes
    ----------
    shape : a shape
    blanks : tuple of Blank
        In the order of the pieces.
    packing : Packing or None
        ``None`` where no stock length is known.
    needed : float, mm
        All blanks and the kerfs between them, in one line.
    """

    shape: Shape
    blanks: tuple[Blank, ...]
    packing: Packing | None
    needed: float


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
    plates : tuple of str
        Names of the plates, which are cut to their drawing and not from a bar.
    existing : tuple of str
        Names of the pieces that stand already: nothing is cut for them.
    alike : tuple of Alike
        Every piece that is cut, those that are the same together.
    """

    kerf: float
    allowance: float
    stocks: tuple[StockCuts, ...]
    tapered: tuple[TaperedBlank, ...]
    plates: tuple[str, ...]
    existing: tuple[str, ...] = ()
    alike: tuple[Alike, ...] = ()


class StockError(ShapeError):
    """Blanks that cannot be cut from the stock that is to be had.

    Attributes
    ----------
    faults : tuple of CoperError
        One a tube stock, each with where its lengths are given.
    """

    def __init__(self, faults: tuple[CoperError, ...]) -> None:
        super().__init__(faults[0].fault, faults[0].cure, faults[0].where)
        self.faults = faults


def cut_list(
    pieces: Iterable[Piece], rack: Rack | None = None, kerf: float = KERF_MM
) -> CutList:
    """The cut list of ``pieces``; ``kerf`` in mm.

    Raises
    ------
    StockError
        With every tube stock that the blanks cannot be cut from.
    """
    pieces = tuple(pieces)
    straight: dict[Shape, list[Blank]] = {}
    tapered: list[TaperedBlank] = []
    plates: list[str] = []
    existing: list[str] = []
    allowance = 0.0
    for piece in pieces:
        allowance = max(allowance, piece.allowance)
        shape = piece.tube.shape
        if piece.tube.existing:
            existing.append(piece.label)
        elif isinstance(shape, Plate):
            plates.append(piece.label)
        elif isinstance(shape, Tapered | TaperedOval):
            tapered.append(tapered_blank(piece, shape))
        else:
            straight.setdefault(stock_shape(shape), []).append(_blank(piece))
    alike = find_alike(pieces)
    stocks = _all_stocks(straight, rack or Rack(), kerf)
    return CutList(kerf, allowance, stocks, _batched(tapered, alike), tuple(plates),
                   tuple(existing), alike)


def _blank(piece: Piece) -> Blank:
    tube = piece.tube
    return Blank(tube.name, tube.side, piece.blank, piece.shaped, isinstance(tube.shape, Bent))


def _all_stocks(
    straight: dict[Shape, list[Blank]], rack: Rack, kerf: float
) -> tuple[StockCuts, ...]:
    found: list[StockCuts] = []
    faults: list[CoperError] = []
    for shape, blanks in straight.items():
        shelf = rack.shelf(shape)
        try:
            found.append(stock_cuts(shape, tuple(blanks), shelf, kerf))
        except ShapeError as error:
            faults.append(CoperError(f"{shape.words()}: {error.fault}", error.cure, shelf.where))
    if faults:
        raise StockError(tuple(faults))
    return tuple(found)


def stock_cuts(shape: Shape, blanks: tuple[Blank, ...], shelf: Shelf, kerf: float) -> StockCuts:
    """What is cut from one tube stock.

    Raises
    ------
    ShapeError
        Where the shelf's lengths do not give the blanks.
    """
    lengths = [blank.length for blank in blanks]
    needed = sum(lengths) + (len(lengths) - 1) * kerf
    if not shelf.stocks:
        return StockCuts(shape, blanks, None, needed)
    packing = pack(lengths, shelf.stocks, kerf, [blank.label for blank in blanks])
    return StockCuts(shape, blanks, packing, needed)


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
