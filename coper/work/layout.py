"""A job laid out on the flat table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coper.bench.layout.blocks import BlockSet
from coper.bench.layout.layout import ROUND_MM, Layout, Setting, Subject, make_layout
from coper.units import INCH_MM

if TYPE_CHECKING:
    from collections.abc import Iterable

    from coper.frame.piece import Piece
    from coper.job.job import Job
    from coper.pages.compose import Block

INCHES = ("in", "ft")
"""Units of a job in which round numbers on the table are whole halves of an inch."""


def job_layout(
    job: Job, pieces: Iterable[Piece], origin: tuple[float, float] | None = None,
    plane: float | None = None,
) -> Layout:
    """The layout of a job whose tubes are shaped; ``origin`` and ``plane`` in mm."""
    bicycle = job.bicycle
    subject = Subject(
        tuple(pieces),
        job.points if bicycle is None else {**bicycle.points, **job.points},
        {} if bicycle is None else bicycle.axes,
        () if bicycle is None else bicycle.wheels,
    )
    blocks = BlockSet(job.shop.blocks) if job.shop.blocks else None
    step = INCH_MM / 2 if job.units in INCHES else ROUND_MM
    return make_layout(subject, Setting(origin, plane, blocks, step))


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
