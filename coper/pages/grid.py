"""A table of words on paper: its head, a line, its rows; on as many blocks as it needs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from coper.drawing.letters import text_width, wrap_text
from coper.drawing.marks import NOTE_HEIGHT, PLAIN_HEIGHT, THIN, Mark, Path, Text
from coper.pages.text import LEADING, LINE_MM, TextColumn, set_lines
from coper.telling.grid import Grid, holds_numbers

WIDE_MM = 177.0
"""A table is no wider: it fits the narrowest page upright."""

HIGH_MM = 215.0
"""A table that is higher goes on in another block: it fits the lowest page."""

APART_MM = 3.5
"""Between two columns."""

LEAST_MM = 15.0
"""A column of words is wrapped, but not narrower than this."""

STEP_MM = 1.0
"""By this much a column goes below the next widest before that one gives way in turn."""

_SLACK_MM = 1e-9
"""Words that are exactly as wide as their column fit it."""

Cells = tuple[tuple[str, ...], ...]


def grid_blocks(grid: Grid) -> Iterator[tuple[Mark, ...]]:
    """The table, top at ``y`` 0, cut between rows where it is too high."""
    widths = _widths(grid)
    note = wrap_text(grid.note, WIDE_MM, NOTE_HEIGHT)
    over = _wrapped(grid.columns, widths)
    rows = [_wrapped(row, widths) for row in grid.rows]
    top = PLAIN_HEIGHT * (1 + LEADING) + LINE_MM * (len(note) + _lines(over) + 1)
    part: list[Cells] = []
    high, head = top, grid.head
    for row in rows:
        if part and high + LINE_MM * _lines(row) > HIGH_MM:
            yield _marks(replace(grid, head=head), note, over, part, widths)
            part, high, note, head = [], top, [], f"{grid.head}, continued"
        part.append(row)
        high += LINE_MM * _lines(row)
    yield _marks(replace(grid, head=head), note, over, part, widths)


def _lines(cells: Cells) -> int:
    return max(len(cell) for cell in cells)


def _widths(grid: Grid) -> list[float]:
    """Of every column what its widest cell takes; columns of words give way where that is much.

    Heads take one line where there is room for that, else two, else as many as it needs.
    """
    cells = [max((text_width(cell, NOTE_HEIGHT) for cell in cells), default=0.0)
             for cells in zip(*grid.rows, strict=True)]
    for lines in (1, 2):
        widths = [max(width, _head_width(head, lines))
                  for width, head in zip(cells, grid.columns, strict=True)]
        if lines > 1:
            widths = _given_way(grid, widths)
        if _over(widths) <= _SLACK_MM:
            return widths
    return _given_way(grid, [
        max(width, *(text_width(word, NOTE_HEIGHT) for word in head.split()))
        for width, head in zip(cells, grid.columns, strict=True)])


def _head_width(head: str, lines: int) -> float:
    """What a column's head takes in one line or in two, mm."""
    words = head.split()
    return min(max(text_width(" ".join(part), NOTE_HEIGHT) for part in (words[:at], words[at:]))
               for at in range(1 if lines > 1 else len(words), len(words) + 1))


def _over(widths: Sequence[float]) -> float:
    """How much wider than a page the table is, mm."""
    return sum(widths) + APART_MM * (len(widths) - 1) - WIDE_MM


def _given_way(grid: Grid, widths: list[float]) -> list[float]:
    """The widths when columns of words, all or one of them, have given way: the lowest table."""
    words = [at for at, column in enumerate(grid.columns) if not holds_numbers(column)]
    ways = [_narrowed(widths, some) for some in (words, *([at] for at in words))]
    return min(ways, key=lambda way: (
        _over(way) > _SLACK_MM, sum(_lines(_wrapped(row, way)) for row in grid.rows)))


def _narrowed(widths: list[float], words: Sequence[int]) -> list[float]:
    """The widths when the columns ``words`` have given way, the widest first."""
    widths = [*widths]
    over = _over(widths)
    while over > _SLACK_MM and words:
        widest = max(words, key=lambda at: widths[at])
        next_one = max((widths[at] for at in words if at != widest), default=0.0)
        less = max(widths[widest] - over, min(next_one - STEP_MM, widths[widest] - STEP_MM),
                   LEAST_MM)
        if less >= widths[widest]:
            break
        over -= widths[widest] - less
        widths[widest] = less
    return widths


def _wrapped(row: Sequence[str], widths: Sequence[float]) -> Cells:
    """The lines of every cell, one at least."""
    return tuple(tuple(wrap_text(cell, width + _SLACK_MM, NOTE_HEIGHT)) or ("",)
                 for cell, width in zip(row, widths, strict=True))


def _marks(
    grid: Grid, note: Sequence[str], over: Cells, rows: Sequence[Cells], widths: Sequence[float]
) -> tuple[Mark, ...]:
    table = TextColumn(sum(widths) + APART_MM * (len(widths) - 1))
    table.put([Text((0.0, 0.0), grid.head, PLAIN_HEIGHT, bold=True)], PLAIN_HEIGHT)
    table.lines(note)
    table.skip(PLAIN_HEIGHT / 2)
    table.put(_row(grid, over, widths), 0.0)
    table.skip(LINE_MM * _lines(over))
    table.put([Path(np.array(((0.0, 0.0), (table.wide, 0.0))), THIN)], NOTE_HEIGHT / 2)
    for cells in rows:
        table.put(_row(grid, cells, widths), 0.0)
        table.skip(LINE_MM * _lines(cells))
    return table.marks


def _row(grid: Grid, cells: Cells, widths: Sequence[float]) -> Iterator[Mark]:
    """The cells side by side from ``y`` 0 down; numbers to the right."""
    x = 0.0
    for column, lines, width in zip(grid.columns, cells, widths, strict=True):
        right = holds_numbers(column)
        yield from set_lines(lines, x + width if right else x, 0.0, "right" if right else "left")
        x += width + APART_MM

