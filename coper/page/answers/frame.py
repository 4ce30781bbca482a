"""The picture of a job's frame, for the shelf."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.page import Page
from coper.drawing.svg import svg_text
from coper.page.answers.change import answer_in, job_in
from coper.sheets.frame_picture import frame_marks
from coper.units import lengths_in

EDGE_MM: Final = 3.0

REMEMBERED: Final = 64
"""Pictures that are drawn once: a shelf's, and those that undo goes through."""


@lru_cache(maxsize=REMEMBERED)
def frame_svg(text: str) -> str:
    """The frame from three sides, as a file of SVG.

    Raises
    ------
    CoperError
        Where the job does not load, or a tube of it cannot be made.
    """
    job = job_in(text)
    pieces = answer_in(text).result.pieces
    with lengths_in(job.units):
        marks = frame_marks(pieces, job.table.lies == "flat")
    box = bounds(marks)
    page = Page("A", box.right - box.left + 2 * EDGE_MM, box.top - box.bottom + 2 * EDGE_MM,
                moved(marks, EDGE_MM - box.left, EDGE_MM - box.bottom))
    return svg_text(page)
