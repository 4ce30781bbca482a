"""A job laid out on the flat table."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.bench.layout.layout import Layout
from coper.errors import CoperError
from coper.telling.records.head import json_head
from coper.work.sheets import sheet_files

if TYPE_CHECKING:
    from coper.drawing.page import Page
    from coper.job.job import Job

MOST_PAGES = 150
"""A drawing on more pages than this is work for a roll."""

LONGEST_ROLL_MM = 4500.0
"""A PDF page ends at 14,400 points, 5.08 m (from memory); the ordinates need some of it."""


@dataclass(frozen=True, slots=True)
class LayoutOrder:
    """What a person asks of a layout.

    Attributes
    ----------
    origin : (from the left end, from the front edge) or None, mm
    plane : float or None, mm
    paper : str or None
        That of the shop, or A4, where ``None``.
    printer : (across, along), mm
        What the printed 100 mm bars measured.
    full : bool
        Whether it is drawn at full size.
    """

    job: Job
    origin: tuple[float, float] | None = None
    plane: float | None = None
    paper: str | None = None
    printer: tuple[float, float] = (100.0, 100.0)
    full: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class LayoutWork:
    """What comes out of it."""

    order: LayoutOrder
    layout: Layout


def work_layout(order: LayoutOrder) -> LayoutWork:
    """Shape the job's tubes and lay them out."""
    from coper.job.frame import make_pieces
    from coper.job.layout import job_layout

    pieces = make_pieces(order.job)
    return LayoutWork(order, job_layout(order.job, pieces, order.origin, order.plane))


def layout_json(work: LayoutWork) -> dict[str, Any]:
    """The one object that ``coper layout --json`` prints."""
    from coper.telling.records.layout import layout_record

    return {**json_head(), "title": work.order.job.title, **layout_record(work.layout)}


def layout_pages(work: LayoutWork) -> tuple[Page, ...]:
    """The pages of a layout.

    Raises
    ------
    CoperError
        Where they are too many or too long, or the paper is not known.
    """
    from coper.pages.compose import compose
    from coper.sheets.layout import layout_blocks

    order = work.order
    paper = order.paper or order.job.shop.paper or "a4"
    if order.full:
        _check_size(work.layout, paper, order.printer)
    blocks = layout_blocks(work.layout, paper, order.printer, order.full)
    return compose(blocks, paper, order.printer, title=page_title(order.job))


def _check_size(layout: Layout, paper: str, printer: tuple[float, float]) -> None:
    """Refuse a drawing at full size that nobody would glue together."""
    from coper.pages.paper import content_size

    size, table = content_size(paper, printer), layout.table
    if size is None:
        if max(table.width, table.depth) > LONGEST_ROLL_MM:
            raise CoperError(f"at full size the drawing is {table.width / 1000:.1f} by "
                             f"{table.depth / 1000:.1f} m", "draw it to scale", "full-size")
        return
    pages = math.ceil(table.width / max(size)) * math.ceil(table.depth / min(size))
    if pages > MOST_PAGES:
        raise CoperError(f"at full size the drawing needs about {pages} pages of {paper}",
                         "draw it on a roll, or to scale", "full-size")


def page_title(job: Job) -> str:
    """What the foot of a page says."""
    return f"{job.title}: on the table" if job.title else "On the table"


def layout_files(work: LayoutWork, svg: Path | None, pdf: Path | None) -> dict[Path, bytes]:
    """Every file that was asked for; nothing is written yet."""
    pages = layout_pages(work) if svg or pdf else ()
    return sheet_files(pages, page_title(work.order.job), svg, pdf)
