"""What the shop cuts tubes from: ``[stock]``, and what ``[shop]`` says of sawing."""

from __future__ import annotations

from functools import partial

from coper.bench.cut_list.cut_list import CutList, cut_list
from coper.bench.cut_list.donor import Donor
from coper.bench.cut_list.packing import Stock
from coper.bench.cut_list.stock import KERF_MM, Rack, Shelf, stock_shape
from coper.errors import CoperError
from coper.frame.alike import bought
from coper.frame.piece import Piece
from coper.job.faults import dotted
from coper.job.job import Job
from coper.job.schema import MOST_WHOLE, Checker, TomlTable, as_written
from coper.shapes.plate import Plate
from coper.shapes.read import Shape, parse_tube
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.units import format_size, shown

STOCK_KEYS = ("length", "count")

DONOR_KEYS = ("from", "straight")
"""Where on a tapered tube its first size was measured, and how long it runs straight before."""

DONOR_EXAMPLE = '[{ length = "400mm", from = 12, straight = 60, count = 2 }]'

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
    donors: dict[Shape, tuple[Donor, ...]] = {}
    for words, value in table.items():
        path = f"stock.{dotted(words)}"
        if value == []:
            check.faults.add(path, "lists no length", f"list some, such as {EXAMPLE}, or take "
                             "it out")
        shape = _shape(check, path, words)
        if isinstance(shape, Tapered | TaperedOval):
            given = check.list_of(path, value, partial(_donor, check, shape), DONOR_EXAMPLE)
            donors[bought(shape)] = (*donors.get(bought(shape), ()), *given)
            continue
        stocks = check.list_of(path, value, lambda where, item: _stock(check, where, item), EXAMPLE)
        if shape is None:
            continue
        if shape in own:
            check.faults.add(path, f"the same tube as {own[shape].where}", "list it once")
        own[shape] = Shelf(stocks, path)
    return Rack(Shelf(tuple(Stock(length) for length in any_tube), "shop.stock"), own, donors)


def _shape(check: Checker, path: str, words: str) -> Shape | None:
    """The tube that a key names."""
    def read() -> Shape:
        shape = parse_tube(words, check.unit)
        if isinstance(shape, Plate):
            raise CoperError(f"{shown(words)} is a plate: it has no bars to share out",
                             "take it out; the cut list shows it anyway")
        return shape if isinstance(shape, Tapered | TaperedOval) else stock_shape(shape)
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


def _donor(
    check: Checker, shape: Tapered | TaperedOval, path: str, value: object
) -> Donor | None:
    """A tapered tube that is there: how long, and where on it the taper stands."""
    table = value if isinstance(value, dict) else {"length": value}
    table = check.table(path, table, (*STOCK_KEYS, *DONOR_KEYS))
    given = check.needed(path, table, "length", '"400mm"')
    length = None if given is None else check.size(f"{path}.length", given)
    count = _count(check, f"{path}.count", table["count"]) if "count" in table else None
    first, straight = (_not_below_0(check, f"{path}.{key}", table[key]) if key in table else 0.0
                       for key in DONOR_KEYS)
    if length is None:
        return None
    for key, place in zip(DONOR_KEYS, (first, straight), strict=True):
        if place > length:
            check.faults.add(f"{path}.{key}", f"{format_size(place)} is past the end of a tube of "
                             f"{format_size(length)}", f"give one up to {format_size(length)}")
    begins = max(first, straight)
    if isinstance(shape, Tapered) and shape.start < shape.end:  # counted from the thin end
        return Donor(length, length - begins - shape.length, None, count, path)
    return Donor(length, begins, straight if "straight" in table else None, count, path)


def _count(check: Checker, path: str, value: object) -> int | None:
    if isinstance(value, int) and not isinstance(value, bool) and 0 < value <= MOST_WHOLE:
        return value
    check.faults.add(path, f"{as_written(value)} is not a number of pieces",
                     "write a whole number above 0, or leave it out where more can be bought")
    return None
