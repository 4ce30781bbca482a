"""The cut list on paper: a table of blanks, and the bars drawn to one scale.

::

    28.6 x 0.9: 1 bar, …
    1000 mm; rest 155 mm
    +----------+-+------+-+////////////+
    |    4     | |  7   | |////////////|    the kerfs are black, at the same scale
    +----------+-+------+-+////////////+
    [] 4  seat-tube  420.75 mm (…)     [] 7  …    a blank's own number in the whole list
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.bench.cut_list.cut_list import Blank, CutList, StockCuts
from coper.bench.cut_list.packing import Bar
from coper.bench.cut_list.tapered_blank import TaperedBlank
from coper.drawing.letters import shortened, text_width
from coper.drawing.marks import FINE, GAP_MM, LINE, NOTE_HEIGHT, Hatch, Mark, Text
from coper.frame.alike import Alike
from coper.pages.boxes import box_path, tick
from coper.pages.compose import Block, parts
from coper.pages.grid import grid_blocks
from coper.pages.text import LINE_MM, TICK_STEP_MM, TextColumn
from coper.shapes.words import tube_words
from coper.sheets.tapered_blank import tapered_blocks
from coper.telling.cells import length_cells, length_heads, short_cell
from coper.telling.grid import Grid
from coper.telling.lines import sentence
from coper.telling.words.alike import Titles, alike_lines, batch_titles, group_title
from coper.telling.words.cap import caps_words
from coper.telling.words.cut_list import (
    BENT_NOTE,
    bars_words,
    existing_words,
    near_words,
    numbers_words,
    offcut_words,
    plates_words,
    shortage_words,
    taper_notes,
    unplanned_words,
)
from coper.units import first_unit, format_length, format_short

WIDE_MM = 177.0
"""Width of the longest bar: it fits the narrowest page upright."""

BAR_MM = 7.0
"""Height of a bar."""

COLUMNS = 2
"""Columns of a bar's list of pieces, where their names are short enough."""

ROWS_ALONE = 24
"""A list with more pieces than this would not fit the page in one column."""

BARS_A_BLOCK_MM = 120.0
"""A higher block of bars continues in another: two fit a page."""

HATCH_MM = 2.0
"""Distance between the strokes over the offcut."""

HOW = ("Measure each blank from the last cut: marks made all at once leave out the kerf. Cut each "
       "bar's longest blank first: one cut too short still makes a shorter blank. Write its "
       "number, as on its sheets, on the blank and tick the box.")


def cut_list_blocks(cuts: CutList) -> list[Block]:
    """The whole list; no block is wider or higher than a page."""
    if not (cuts.stocks or cuts.tapered):
        return []
    blocks = [*parts("cut list", grid_blocks(_blanks_grid(cuts)))]
    longest = max((bar.length for stock in cuts.stocks if stock.packing
                   for bar in stock.packing.bars), default=0.0)
    for stock in cuts.stocks:
        drawn = _stock_marks(stock, cuts.kerf, WIDE_MM / (longest or WIDE_MM))
        blocks += parts(f"cut list {tube_words(stock.shape)}", drawn)
    return [*blocks, *tapered_blocks(cuts.tapered, taper_notes(cuts))]


def _labels(group: Alike) -> tuple[str, ...]:
    return tuple(label for batch in group.batches for label in batch.labels)


def _taper_title(blank: TaperedBlank, group: Alike, titles: Titles) -> str:
    """The title of all that are alike, or the names of those that come from one donor."""
    return group_title(group, titles) if blank.count == len(_labels(group)) else blank.label


def _blanks_grid(cuts: CutList) -> Grid:
    """Every blank on its row, those that are the same, and mirror images, together."""
    titles = batch_titles(cuts.alike)
    notes = [f"Kerf {format_short(cuts.kerf)}."]
    if cuts.allowance:
        notes.append(f"{format_short(cuts.allowance)} is left on at each end for dressing.")
    notes.append(HOW)
    if any(blank.bent for stock in cuts.stocks for blank in stock.blanks):
        notes.append(BENT_NOTE)
    if cuts.plates:
        notes.append(sentence(plates_words(cuts)))
    if caps := caps_words(cuts.alike):
        notes.append(sentence(caps))
    if cuts.existing:
        notes.append(sentence(existing_words(cuts)))
    notes += map(sentence, alike_lines(cuts.alike, titles))
    rows = [row for stock in cuts.stocks for row in _blank_rows(stock, cuts.alike, titles)]
    rows += [_row(blank.numbers, _taper_title(blank, group, titles), blank.length,
                  blank.shaped, tube_words(blank.shape))
             for group in cuts.alike for blank in cuts.tapered
             if blank.labels[0] in _labels(group)]
    heads = ("number", "blank", *length_heads("to cut"), f"shaped {first_unit()}", "from")
    return Grid("Cut list", heads, tuple(rows), " ".join(notes))


def _blank_rows(
    stock: StockCuts, alike: Sequence[Alike], titles: Titles
) -> Iterator[tuple[str, ...]]:
    blanks = {blank.label: blank for blank in stock.blanks}
    for group in alike:
        first = blanks.get(group.batch.first.label)
        if first is not None:
            numbers = [blanks[label].number for label in _labels(group)]
            yield _row(numbers, group_title(group, titles), first.length, first.shaped,
                       tube_words(stock.shape))


def _row(
    numbers: Sequence[int], label: str, length: float, shaped: float, words: str
) -> tuple[str, ...]:
    return numbers_words(numbers), label, *length_cells(length), short_cell(shaped), words


def _stock_marks(stock: StockCuts, kerf: float, scale: float) -> Iterator[tuple[Mark, ...]]:
    """One tube stock in blocks; ``scale`` is mm of paper to a mm of bar."""
    words = tube_words(stock.shape)
    if stock.packing is None:
        lines = TextColumn(WIDE_MM)
        lines.head(f"{words}: {format_length(stock.needed)} in total")
        lines.line(f"Kerfs included; {unplanned_words(stock)}.")
        _lacking(lines, stock)
        _pieces(lines, sorted(stock.blanks, key=lambda blank: blank.number))
        yield lines.marks
        return
    packing = stock.packing
    lines = _begun(f"{words}: {bars_words(len(packing.bars))}")
    lines.line(f"{format_length(packing.total)} of stock; {near_words(packing)}.")
    _lacking(lines, stock)
    lines.skip(GAP_MM)
    begun = False
    for bar in packing.bars:
        cut = [stock.blanks[index] for index in bar.pieces]
        if begun and lines.depth + _bar_high(cut) > BARS_A_BLOCK_MM:
            yield lines.marks
            lines = _begun(f"{words}, continued")
        _bar(lines, bar, cut, kerf, scale)
        begun = True
    yield lines.marks


def _lacking(lines: TextColumn, stock: StockCuts) -> None:
    """The blanks that no bar gives, over the bars."""
    for shortage in stock.shortages:
        lines.line(shortage_words(stock, shortage), name="shortage")


def _begun(head: str) -> TextColumn:
    lines = TextColumn(WIDE_MM)
    lines.head(head)
    return lines


def _bar_high(cut: Sequence[Blank]) -> float:
    """What a bar takes with its line of words and its pieces, mm."""
    rows = 1 + -(-len(cut) // _columns(cut))
    return GAP_MM + BAR_MM + rows * LINE_MM + NOTE_HEIGHT


def _bar(lines: TextColumn, bar: Bar, cut: Sequence[Blank], kerf: float, scale: float) -> None:
    lines.line(f"{format_length(bar.length)}; {offcut_words(bar)}")
    lines.skip(GAP_MM)
    lines.put(_drawn(bar, cut, kerf, scale), BAR_MM)
    _pieces(lines, cut)
    lines.skip(NOTE_HEIGHT)


def _drawn(bar: Bar, cut: Sequence[Blank], kerf: float, scale: float) -> Iterator[Mark]:
    """The bar with its lower left corner at the origin."""
    yield box_path(0.0, 0.0, bar.length * scale, BAR_MM, LINE)
    at = 0.0
    for blank in cut:
        end = at + blank.length
        yield box_path(at * scale, 0.0, blank.length * scale, BAR_MM, LINE, name="piece")
        yield from _called((at + end) / 2 * scale, blank.length * scale, blank)
        dust = min(kerf, bar.length - end)
        if dust > 0:
            yield box_path(end * scale, 0.0, dust * scale, BAR_MM, FINE, fill=True, name="kerf")
        at = end + dust
    if bar.rest > 0:
        outline = box_path(at * scale, 0.0, (bar.length - at) * scale, BAR_MM, FINE, name="rest")
        yield outline
        yield Hatch((outline.points,), HATCH_MM)


def _called(middle: float, width: float, blank: Blank) -> Iterator[Mark]:
    """The number and the name of a piece, or as much of them as it has room for."""
    for words in (_name(blank), str(blank.number)):
        if text_width(words, NOTE_HEIGHT) <= width - GAP_MM:
            yield Text((middle, (BAR_MM - NOTE_HEIGHT) / 2), words, NOTE_HEIGHT, "middle")
            return


def _pieces(lines: TextColumn, cut: Sequence[Blank]) -> None:
    """The pieces by their number, each with a box to tick."""
    columns = _columns(cut)
    wide = WIDE_MM / columns
    for first in range(0, len(cut), columns):
        marks: list[Mark] = []
        for column, blank in enumerate(cut[first:first + columns]):
            left, tail = column * wide, _tail(blank)
            name = shortened(_name(blank), _room(columns, tail), NOTE_HEIGHT)
            at = (left + TICK_STEP_MM, 0.0)
            marks += [tick(left), Text(at, name + tail, NOTE_HEIGHT)]
        lines.put(marks, LINE_MM)


def _columns(cut: Sequence[Blank]) -> int:
    """All columns, or one where a name would have to be cut short and the list is low enough."""
    fit = all(text_width(_name(blank), NOTE_HEIGHT) <= _room(COLUMNS, _tail(blank))
              for blank in cut)
    return COLUMNS if fit or len(cut) > ROWS_ALONE else 1


def _room(columns: int, tail: str) -> float:
    """What a column has for a name, mm."""
    return WIDE_MM / columns - TICK_STEP_MM - GAP_MM - text_width(tail, NOTE_HEIGHT)


def _name(blank: Blank) -> str:
    return f"{blank.number}  {blank.label}"


def _tail(blank: Blank) -> str:
    return f"  {format_length(blank.length)}"
