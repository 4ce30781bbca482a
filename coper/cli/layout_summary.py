"""What a person reads on the terminal after ``coper layout``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap

from coper.telling.grid import Grid, holds_numbers
from coper.telling.words.layout import layout_grids, table_lines
from coper.work.layout import LayoutWork

NOTE_WIDE = 96
"""Letters to a line of a note."""


def layout_summary(work: LayoutWork, written: tuple[Path, ...]) -> Iterator[str]:
    """The lines of the summary: how the frame lies, then the tables."""
    if work.order.job.title:
        yield work.order.job.title
    yield from table_lines(work.layout)
    for grid in layout_grids(work.layout):
        yield ""
        yield from _grid(grid)
    if not work.order.job.shop.blocks:
        yield ""
        yield "No stacks: list the shop's set-up blocks as blocks under [shop]."
    yield from (f"! {caution}" for caution in work.layout.cautions)
    yield from (f"wrote {path}" for path in written)


def _grid(grid: Grid) -> Iterator[str]:
    """A table in columns."""
    yield grid.head
    yield from (f"  {line}" for line in wrap(grid.note, NOTE_WIDE))
    widths = [max(map(len, cells)) for cells in zip(grid.columns, *grid.rows, strict=True)]
    for row in (grid.columns, *grid.rows):
        cells = (cell.rjust(width) if holds_numbers(column) else cell.ljust(width)
                 for column, cell, width in zip(grid.columns, row, widths, strict=True))
        yield f"  {'  '.join(cells)}".rstrip()
