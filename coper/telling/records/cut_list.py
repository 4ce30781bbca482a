"""A cut list as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from coper.bench.cut_list.cut_list import Blank, CutList, Shortage, StockCuts
from coper.bench.cut_list.packing import Bar
from coper.bench.cut_list.tapered_blank import TaperedBlank
from coper.telling.records.joint import shape_record
from coper.telling.words.cut_list import cut_steps, donor_shortages, shortage_words


def cut_list_record(cuts: CutList) -> dict[str, Any]:
    """The whole list; lengths in mm."""
    return {
        "kerf": cuts.kerf,
        "allowance": cuts.allowance,
        "stocks": [_stock_record(stock) for stock in cuts.stocks],
        "tapered": [_tapered_record(blank) for blank in cuts.tapered],
        "plates": [plate.label for plate in cuts.plates],
        "plate_blanks": [{"name": plate.label, "thickness": plate.shape.thickness,
                          "width": plate.shape.width, "length": plate.length}
                         for plate in cuts.plates],
        "existing": list(cuts.existing),
    }


def _stock_record(stock: StockCuts) -> dict[str, Any]:
    """One tube stock; ``bars`` and what they take are ``None`` where no stock length is known."""
    packing = stock.packing
    return {
        "shape": shape_record(stock.shape),
        "blanks": [{**asdict(blank), "blank": blank.length} for blank in stock.blanks],
        "needed": stock.needed,
        "bars": None if packing is None else [_bar_record(bar, stock.blanks)
                                              for bar in packing.bars],
        "total": None if packing is None else packing.total,
        "least_possible": None if packing is None else packing.least,
        "shortages": [_shortage_record(stock, one) for one in stock.shortages],
    }


def _shortage_record(stock: StockCuts, shortage: Shortage) -> dict[str, Any]:
    """Blanks that the stock lengths do not give, and the longest of those, mm."""
    return {
        "blanks": [{"number": one.number, "name": one.name, "side": one.side,
                    "length": one.length}
                   for one in shortage.blanks],
        "longest": shortage.longest,
        "too_few": shortage.too_few,
        "words": shortage_words(stock, shortage),
    }


def _bar_record(bar: Bar, blanks: tuple[Blank, ...]) -> dict[str, Any]:
    cut = [blanks[index] for index in bar.pieces]
    return {
        "length": bar.length,
        "pieces": [{"number": one.number, "name": one.name, "side": one.side,
                    "length": one.length} for one in cut],
        "rest": bar.rest,
    }


def _tapered_record(blank: TaperedBlank) -> dict[str, Any]:
    return {
        "name": blank.name,
        "sides": list(blank.sides),
        "others": list(blank.others),
        "numbers": list(blank.numbers),
        "shape": shape_record(blank.shape),
        "blank": blank.length,
        "length": blank.length,
        "shaped": blank.shaped,
        "ends": [{"end": f"{name} end", "off": off}
                 for name, off in zip(blank.end_names, blank.off, strict=True)],
        "stock": {"length": blank.bought, "begins": blank.begins, "straight": blank.straight,
                  "reaches": not any(donor_shortages(blank))} if blank.owned else None,
        "shortages": list(donor_shortages(blank)),
        "first": blank.first,
        "steps": list(cut_steps(blank)),
    }
