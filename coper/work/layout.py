"""A layout on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coper.bench.layout.layout import Layout

if TYPE_CHECKING:
    from coper.pages.compose import Block


def layout_blocks(
    layout: Layout, paper: str, printer: tuple[float, float] = (100.0, 100.0), full: bool = False
) -> list[Block]:
    """The drawing, to scale on one page or at full size, and the tables."""
    from coper.pages.compose import Block
    from coper.pages.grid import grid_blocks
    from coper.pages.lines import caution_column, column
    from coper.sheets.layout import fitted_layout, layout_marks
    from coper.telling.words.layout import layout_grids, table_lines

    marks = layout_marks(layout) if full else fitted_layout(layout, paper, printer)
    blocks = [Block("layout", marks, new_page=True),
              Block("layout-notes", column("On the table", tuple(table_lines(layout))))]
    if layout.cautions:
        blocks.append(Block("layout-cautions", caution_column(layout.cautions)))
    blocks += [Block(f"layout-{grid.head.lower()}", part, keep_upright=True)
               for grid in layout_grids(layout) for part in grid_blocks(grid)]
    return blocks
