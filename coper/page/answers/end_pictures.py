"""The pictures of an end: its templates as they go to paper, and the gap round it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from coper.drawing.svg import Dress, svg_element
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.job.named_end import JobEnd
from coper.joint.fit.fit import Fit
from coper.joint.steps import silent
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.pages.compose import Block, picture_page
from coper.pages.lettered import lettered
from coper.sheets.cap import cap_block
from coper.sheets.end_sheet import template_blocks
from coper.sheets.joint_sheet import Sheet
from coper.units import format_short
from coper.verbs.answer import Answer

SCALE: Final = 1.3
"""How many times its size a drawing is on the page: its smallest letters are then as high as those
of a text of 16 px."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing: what it is called, what a reader of screens says of it, its element of SVG."""

    name: str
    words: str
    picture: str


def templates(end: JobEnd) -> Iterator[Picture]:
    """The strip that wraps round the tube, then where the end lands on each of its mains."""
    shop = end.job.shop
    sheet = Sheet(None, GLUE_MM, PAPER_MM, shop.paper_for(), shop.printer)
    for number, block in enumerate(template_blocks(end, sheet)):
        words = "the line where the end lands, laid flat" if number else (
            "the strip that wraps round the tube, laid flat")
        yield _drawn(block, words, f"paper-{number}", bool(end.end.open))


def cap(piece: Piece, end: TubeEnd) -> Iterator[Picture]:
    """The plate that closes an end, where there is one."""
    if end.cap:
        words = f"{piece.label}, {end.which}: {format_short(end.cap)} thick"
        yield _drawn(cap_block(words, piece, end), "the outline of the cap", "cap")


def gap(answer: Answer[Fit], name: str, within: str) -> Picture:
    """The picture of ``coper fit``; the largest gap is marked as wrong where it is too large."""
    (page,) = answer.pages(silent)
    marked = {} if answer.ok else {"largest": Dress("wrong")}
    words = "the gap against the clock, and round the end as one looks into it"
    return Picture(name, words, svg_element(page, marked, within, SCALE))


def _drawn(block: Block, words: str, name: str, is_open: bool = False) -> Picture:
    marked = {"open": Dress("asked")} if is_open else {}
    page = picture_page(block.marks)
    page = replace(page, marks=lettered(page.marks, page.letter))
    return Picture(block.name, words, svg_element(page, marked, name, SCALE))
