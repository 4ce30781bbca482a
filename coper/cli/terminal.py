"""How an answer's lines stand on a terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from textwrap import wrap

from coper.telling.grid import Grid, holds_numbers
from coper.telling.lines import Caution, Fact, Line

NAME_WIDTH = 12
"""Letters of a fact's name; what it says begins one further on."""

NOTE_WIDTH = 96
"""Letters to a line of a table's note."""


def set_lines(lines: Iterable[Line], spelt: Callable[[str], str] = str) -> Iterator[str]:
    """Each line as text, without its end.

    ``spelt`` is how the terminal spells words: a column of a table is as wide as they come out.
    """
    before: Line = ""
    for line in lines:
        if "" not in (before, line) and (isinstance(before, Grid) or isinstance(line, Grid)):
            yield ""  # a table stands by itself
        before = line
        match line:
            case str():
                yield line
            case Fact():
                yield f"  {line.name:<{NAME_WIDTH}} {line.words}"
                yield from (f"  {'':<{NAME_WIDTH}} {words}" for words in line.more)
            case Caution():
                yield f"  ! {line.words}"
            case Grid():
                yield from _set_table(line, spelt)


def _set_table(grid: Grid, spelt: Callable[[str], str]) -> Iterator[str]:
    """The table, its columns as wide as what they hold."""
    yield grid.head
    yield from (f"  {line}" for line in wrap(grid.note, NOTE_WIDTH))
    table = [[spelt(cell) for cell in row] for row in (grid.columns, *grid.rows)]
    widths = [max(map(len, cells)) for cells in zip(*table, strict=True)]
    for row in table:
        cells = (cell.rjust(width) if holds_numbers(column) else cell.ljust(width)
                 for column, cell, width in zip(grid.columns, row, widths, strict=True))
        yield f"  {'  '.join(cells)}".rstrip()
