"""The pages of one end of a job: its template, where it lands, and the notes beside them."""

from __future__ import annotations

from collections.abc import Iterator

from coper.drawing.page import Page
from coper.frame.main_landings import landed_on, landing_of
from coper.job.named_end import JobEnd
from coper.joint.cautions import SAFETY
from coper.pages.compose import Block, compose
from coper.pages.text import caution_column
from coper.sheets.joint_notes import bevel_notes
from coper.sheets.joint_sheet import Sheet, check_glue, check_long
from coper.sheets.strip_marks import strip_marks
from coper.sheets.template_pages import check_pages
from coper.sheets.tube_templates import end_notes, footprint_blocks, one_strip
from coper.telling.words.end import end_title


def end_pages(end: JobEnd, sheet: Sheet) -> tuple[Page, ...]:
    """Everything on paper.

    Raises
    ------
    JointError
        Where no paper of that size or that many pages would do.
    """
    blocks = tuple(_blocks(end, sheet))
    check_pages(blocks, sheet.paper, sheet.printer, "check the job, or use --paper roll", "paper")
    return compose(blocks, sheet.paper, sheet.printer, title=end_title(end))


def template_blocks(end: JobEnd, sheet: Sheet) -> Iterator[Block]:
    """What is cut out: the strip, then where the end lands on each of its mains."""
    check_glue(sheet.glue)
    piece, one = end.piece, end.end
    strip = one_strip(piece, one, sheet.thickness, sheet.glue, sheet.seam)
    check_long(strip)
    yield Block(f"{end.name} template", strip_marks(strip))
    places = {index: [(main, landing_of(main, piece, one, index))]
              for index in landed_on(one) for main in (end.mains[index],)}
    yield from footprint_blocks(piece.label, one, sheet.thickness, places)


def _blocks(end: JobEnd, sheet: Sheet) -> Iterator[Block]:
    piece, one = end.piece, end.end
    yield from template_blocks(end, sheet)
    yield Block(f"{end.name} notes", end_notes(piece, one, end.name))
    if one.cut == "bevelled":
        assert one.cope is not None
        yield Block(f"{end.name} bevel", bevel_notes(end.joint, one.cope))
    yield Block("cautions", caution_column((*one.cautions, *SAFETY)))
