"""What ``coper job`` says of the cut list."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bench.cut_list.cut_list import (
    BENT_NOTE,
    Blank,
    CutList,
    StockCuts,
    bars_words,
    near_words,
)
from coper.bench.cut_list.packing import Bar
from coper.bench.cut_list.tapered_blank import TAPER_NOTE, TaperedBlank
from coper.units import format_length, format_mm


def cut_list_summary(cuts: CutList) -> Iterator[str]:
    """The lines of the cut list, an empty one first; none where there is nothing to cut."""
    if not (cuts.stocks or cuts.tapered):
        return
    yield ""
    left = f", {format_mm(cuts.allowance)} left on at each end" if cuts.allowance else ""
    yield f"cut list, kerf {format_mm(cuts.kerf)}{left}; the longest of each bar first"
    for stock in cuts.stocks:
        yield from _stock(stock)
    if any(blank.bent for stock in cuts.stocks for blank in stock.blanks):
        yield f"  {BENT_NOTE}"
    for blank in cuts.tapered:
        yield from _tapered(blank)
    if cuts.tapered:
        yield f"  {TAPER_NOTE}"
    if cuts.plates:
        yield f"  by its drawing, not from a bar: {', '.join(cuts.plates)}"


def _stock(stock: StockCuts) -> Iterator[str]:
    words, packing = stock.shape.words(), stock.packing
    if packing is None:
        yield (f"  {words}: {format_length(stock.needed)} in all; give stock lengths to share it "
               "out")
        yield f"    {', '.join(_blank(blank) for blank in stock.blanks)}"
        return
    yield (f"  {words}: {bars_words(len(packing.bars))}, {format_length(packing.total)} of stock; "
           f"{near_words(packing)}")
    yield from (f"    {_bar(bar, stock.blanks)}" for bar in packing.bars)


def _bar(bar: Bar, blanks: tuple[Blank, ...]) -> str:
    cut = ", ".join(_blank(blanks[index]) for index in bar.pieces)
    return f"{format_mm(bar.length)}: {cut}; rest {format_mm(bar.rest)}"


def _blank(blank: Blank) -> str:
    return f"{blank.label} {format_mm(blank.length)}"


def _tapered(blank: TaperedBlank) -> Iterator[str]:
    each = " each" if len(blank.sides) > 1 else ""
    yield (f"  {blank.shape.words()}, {blank.label}: a tube of its own{each}, "
           f"{format_length(blank.length)}")
    yield from (f"    {number}. {step}" for number, step in enumerate(blank.steps, 1))
