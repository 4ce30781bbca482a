"""What the shop cuts tubes from: ``[stock]``, and what ``[shop]`` says of sawing."""

from __future__ import annotations

from coper.bench.cut_list.cut_list import CutList, cut_list
from coper.bench.cut_list.packing import Stock
from coper.bench.cut_list.stock import KERF_MM, Rack, Shelf, stock_shape
from coper.errors import CoperError
from coper.frame.piece import Piece
from coper.job.faults import dotted
from coper.job.job import Job
from coper.job.schema import MOST_WHOLE, Checker, TomlTable, as_written
from coper.shapes.plate import Plate
from coper.shapes.read import Shape, parse_tube
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.units import shown

STOCK_KEYS = ("length", "count")

EXAMPLE = '["2m", { length = "700mm", count = 2 }]'


def job_cut_list(job: Job, pieces: tuple[Piece, ...]) -> CutList:
    """The cut list of a job's pieces."""
    return cut_list(pieces, job.rack, job.shop.kerf)


def read_sawing(check: Checker, shop: TomlTable) -> tuple[float, float]:
    """The shop's kerf, and what it leaves at each end of a blank for dressing, mm."""
    kerf, allowance = (_not_below_0(check, f"shop.{key}", shop[key]) if key in shop else usual
                       for key, usual in (("kerf", KERF_MM), ("allowance", 0.0)))
    return kerf, allowance


def _not_below_0(check: Checker, path: str, value: object) -> float:
    length = check.length(path, value)
    if length is not None and length < 0:
        check.faults.add(path, f"{as_written(value)} is below 0", "give 0, or a length above it")
    return length or 0.0


def read_rack(check: Checker, job: TomlTable) -> Rack:
    """Every stock length of a job; what cannot be read is noted."""
    shop, table = job.get("shop"), check.table("stock", job.get("stock", {}))
    any_tube = (check.list_of("shop.stock", shop["stock"], check.size, '["2m", "1m"]')
                if isinstance(shop, dict) and "stock" in shop else ())
    own: dict[Shape, Shelf] = {}
    for words, value in table.items():
        path = f"stock.{dotted(words)}"
        shape = _shape(check, path, words)
        stocks = check.list_of(path, value, lambda where, item: _stock(check, where, item), EXAMPLE)
        if value == []:
            check.faults.add(path, "lists no length", f"list some, such as {EXAMPLE}, or take "
                             "it out")
        if shape is None:
            continue
        if shape in own:
            check.faults.add(path, f"the same tube as {own[shape].where}", "list it once")
        own[shape] = Shelf(stocks, path)
    return Rack(Shelf(tuple(Stock(length) for length in any_tube), "shop.stock"), own)


def _shape(check: Checker, path: str, words: str) -> Shape | None:
    """The tube that a key names."""
    def read() -> Shape:
        shape = parse_tube(words, check.unit)
        if isinstance(shape, Tapered | TaperedOval | Plate):
            kind = "a plate" if isinstance(shape, Plate) else "tapered, each tube a blank by itself"
            raise CoperError(f"{shown(words)} is {kind}: it has no bars to share out",
                             "take it out; the cut list shows it anyway")
        return stock_shape(shape)
    return check.faults.caught(path, read)


def _stock(check: Checker, path: str, value: object) -> Stock | None:
    """A length to be had without limit, or a number of pieces of one."""
    if not isinstance(value, dict):
        length = check.size(path, value)
        return None if length is None else Stock(length)
    table = check.table(path, value, STOCK_KEYS)
    given = check.needed(path, table, "length", '"700mm"')
    length = None if given is None else check.size(f"{path}.length", given)
    count = _count(check, f"{path}.count", table["count"]) if "count" in table else None
    return None if length is None else Stock(length, count)


def _count(check: Checker, path: str, value: object) -> int | None:
    if isinstance(value, int) and not isinstance(value, bool) and 0 < value <= MOST_WHOLE:
        return value
    check.faults.add(path, f"{as_written(value)} is not a number of pieces",
                     "write a whole number above 0, or leave it out where more can be bought")
    return None
