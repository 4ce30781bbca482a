"""The layout's sheets: the drawing, what is struck where, and the tables."""

from __future__ import annotations

from coper.bench.layout.layout import Layout
from coper.pages.compose import Block, parts
from coper.pages.grid import grid_blocks
from coper.pages.text import caution_column, column
from coper.sheets.layout_drawing import fitted_layout, layout_marks
from coper.telling.words.layout import layout_grids, table_lines


def layout_blocks(
    layout: Layout, paper: str, printer: tuple[float, float] = (100.0, 100.0), full: bool = False
) -> list[Block]:
    """The drawing, to scale on one page or at full size, and the tables.

    Drawn to scale it stands upright as the tables do: all is read from one side of the page, as a
    drawing on a bench is, at the cost of a smaller scale.
    ``printer`` is what its bars of 100 mm measured, across and along.
    """
    marks = layout_marks(layout) if full else fitted_layout(layout, paper, printer)
    blocks = [Block("layout", marks, keep_upright=not full, new_page=True),
              Block("layout-notes", column("On the table", table_lines(layout)))]
    if layout.cautions:
        blocks.append(Block("layout-cautions", caution_column(layout.cautions)))
    for grid in layout_grids(layout):
        blocks += parts(f"layout-{grid.head.lower()}", grid_blocks(grid))
    return blocks
