"""The station Table: the frame on the flat table, and how it lies there as fields."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final
from urllib.parse import quote

from coper.bench.layout.layout import Layout
from coper.bench.layout.table import VIEWS
from coper.drawing.svg import Dress, svg_element
from coper.errors import CoperError
from coper.job.papers import PAPERS
from coper.page.answers.boxes import Box
from coper.page.answers.change import Change, every_fault, faults_of, job_in
from coper.page.answers.settings import Setting, set_to, several, shown
from coper.page.answers.words import Block, blocks
from coper.sheets.layout_drawing import TUBE, fitted_scale
from coper.sheets.layout_picture import edge_picture, layout_picture
from coper.telling.words.blocks import block_name
from coper.telling.words.layout import length_words
from coper.units import lengths_in
from coper.verbs.answer import Answer
from coper.verbs.layout import layout
from coper.verbs.options import paper_name

TABLE: Final = "table"

SETTINGS: Final = (
    Setting(TABLE, "lies", "how the frame lies", "a bicycle's on its right side; flat as a trailer "
            "or a gate is built, with its top up", usual=next(iter(VIEWS))),
    Setting(TABLE, "origin", "origin", "from the table's left end, from its front edge, such as "
            "900mm, 300mm; empty: as near to both as there is room", several),
    Setting(TABLE, "plane", "plane", "the middle plane above the table, of a frame that lies flat "
            "its lowest point; empty: the least that clears it and that your blocks make up, flat "
            "on the table itself"),
    Setting("shop", "blocks", "set-up blocks", "those of your shop, a size twice where you have "
            "two: 3in, 2in, 1in, 1/2in", several),
)

REMEMBERED: Final = 8
"""Layouts that are worked out once: several windows, and what undo and redo go through."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A picture, an element of SVG: its name on the page, and what a reader of screens says."""

    name: str
    words: str
    picture: str


@dataclass(frozen=True, slots=True)
class OnTable:
    """The station as it is shown.

    Attributes
    ----------
    title, units : str
    fields : dict of name to Box
    views : tuple of Seen
        None where nothing can be laid out.
    blocks : tuple of Block
        What the verb says.
    wrong : tuple of str
        What is wrong with no field of it.
    """

    title: str
    units: str
    fields: Mapping[str, Box]
    views: tuple[Seen, ...] = ()
    blocks: tuple[Block, ...] = ()
    wrong: tuple[str, ...] = ()
    lies: tuple[str, ...] = tuple(VIEWS)


@dataclass(frozen=True, slots=True)
class FullSize:
    """The layout at full size on a paper: what it takes, or why it cannot be."""

    title: str
    paper: str
    takes: str = ""
    wrong: tuple[str, ...] = ()
    papers: tuple[str, ...] = PAPERS


@lru_cache(maxsize=REMEMBERED)
def _laid(text: str) -> Answer[Layout]:
    return layout(job_in(text))


def changed(text: str, typed: Mapping[str, str]) -> Change:
    """The text with what was typed, as far as the frame still lies on the table with it."""
    return set_to(text, typed, SETTINGS, _check)


def _check(text: str) -> None:
    """Refuse an origin or a plane that the frame cannot have; other faults are not of a field."""
    try:
        _laid(text)
    except CoperError as error:
        if error.where.startswith(f"{TABLE}."):
            raise


def on_table(text: str, tubes: str, change: Change | None = None) -> OnTable:
    """The station of a job.

    Parameters
    ----------
    text
        All of the file.
    tubes
        The address that a tube's name follows.
    change
        What of the fields could not be written, if anything.
    """
    try:
        job = job_in(text)
        answer = _laid(text)
    except CoperError as error:
        fields, wrong = shown(text, SETTINGS, change, faults_of(error), {})
        return OnTable("", "mm", fields, wrong=wrong)
    with lengths_in(job.units):
        said = _said(answer.result, job.shop.blocks)
    fields, wrong = shown(text, SETTINGS, change, (), said)
    return OnTable(job.title, job.units, fields, _views(text, tubes), blocks(answer.lines()), wrong)


def _said(found: Layout, own: tuple[float, ...]) -> dict[str, str]:
    """What holds, whether the file has it or it was found."""
    table = found.table
    return {
        "table-origin": f"{length_words(table.left)} from the left end, "
                        f"{length_words(table.edge)} from the front edge",
        "table-plane": length_words(found.clear if table.flat else table.plane),
        "shop-blocks": ", ".join(map(block_name, own)),
    }


@lru_cache(maxsize=REMEMBERED)
def _views(text: str, tubes: str) -> tuple[Seen, ...]:
    """The drawing of the paper, and the frame from the front edge."""
    job, found = job_in(text), _laid(text).result
    with lengths_in(job.units):
        scale, key = fitted_scale(found, job.shop.paper_for(None), job.shop.printer)
        pages = (layout_picture(found, scale, key, "dim-table-origin"),
                 edge_picture(found, scale, "dim-table-plane"))
    dressed = {f"{TUBE}{piece.label}": Dress("", f"{tubes}/{quote(piece.tube.name, safe='')}",
                                             piece.label)
               for piece in found.subject.pieces}
    above, edge = pages
    return (Seen("above", "the frame on the table, from above; you stand at its front edge, below",
                 svg_element(above, dressed)),
            Seen("edge", "the frame on the table, from the front edge", svg_element(edge)))


def full_size(text: str, paper: str) -> FullSize:
    """How many sheets of ``paper`` the layout at full size takes; the shop's where it is empty."""
    title, asked = "", paper
    try:
        title = job_in(text).title
        asked = paper or job_in(text).shop.paper_for(None)
        answer = _at_full_size(text, asked)
    except CoperError as error:
        return FullSize(title, asked, wrong=every_fault(error))
    takes = next(line for line in answer.lines()
                 if isinstance(line, str) and line.startswith("At full size"))
    return FullSize(title, asked, takes)


def full_size_pdf(text: str, paper: str) -> bytes:
    """The layout at full size as one PDF, that of ``coper layout --full-size``.

    Raises
    ------
    CoperError
        Where it cannot be laid out, or takes more sheets than anybody would glue together.
    """
    answer = _at_full_size(text, paper)
    return answer.pdf()


@lru_cache(maxsize=1)
def _at_full_size(text: str, paper: str) -> Answer[Layout]:
    job = job_in(text)
    with lengths_in(job.units):
        return layout(job, full=True, paper=paper_name(paper))
