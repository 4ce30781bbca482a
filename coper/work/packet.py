"""The packet of a job: everything to print and take to the bench, in the order of work."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coper.bicycle.clearance.drive import Drive
from coper.errors import CoperError
from coper.joint.cautions import SAFETY
from coper.work.sheets import GLUE_MM, PAPER_MM

if TYPE_CHECKING:
    from coper.drawing.page import Page
    from coper.job.job import Job
    from coper.job.shaped import ShapedJob
    from coper.pages.compose import Block

Tell = Callable[[str], None]
"""Called with the step that begins."""

NO_LETTER = "–"
"""Stands for a page's letter until the pages are laid out."""


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the packet that begins on a page of its own; ``lacks`` says why it has none."""

    title: str
    blocks: tuple[Block, ...]
    lacks: str = ""


def packet_pages(work: ShapedJob, tell: Tell) -> tuple[Page, ...]:
    """The pages of the packet, the job sheet first.

    They are laid out twice: only then is it known which page each part begins on.
    """
    from coper.pages.compose import compose

    found = tuple(_sections(work, tell))
    sections = [section for section in found if section.blocks]
    lacking = [f"No page: {section.title}: {section.lacks}" for section in found if section.lacks]
    paper = work.job.shop.paper or "a4"

    def pages(letters: Sequence[str]) -> tuple[Page, ...]:
        contents = ["Page A: Job sheet", *(f"Page {letter}: {section.title}"
                      for section, letter in zip(sections, letters, strict=True)), *lacking]
        blocks = [*_job_sheet(work, contents),
                  *(block for section in sections for block in _begun(section))]
        return compose(blocks, paper, title=work.job.title)

    drafted = pages([NO_LETTER] * len(sections))
    return pages([_first_page(drafted, section) for section in sections])


def _begun(section: Section) -> tuple[Block, ...]:
    """The section's blocks, the first on a new page and named after the section."""
    first, *rest = section.blocks
    return replace(first, name=section.title, new_page=True), *rest


def _first_page(pages: Sequence[Page], section: Section) -> str:
    """The letter of the page that the section begins on."""
    from coper.drawing.marks import Group

    return next(page.letter for page in pages for mark in page.marks
                if isinstance(mark, Group) and mark.name == section.title)


def _job_sheet(work: ShapedJob, contents: Sequence[str]) -> list[Block]:
    from coper.frame.order import work_order
    from coper.sheets.job_sheet import job_sheet_blocks

    return list(job_sheet_blocks(work.job.title, work_order(work.pieces), _measures(work),
                                 contents, SAFETY))


def _measures(work: ShapedJob) -> tuple[str, ...]:
    """What a bicycle measures; nothing where the job has none."""
    if work.job.bicycle is None:
        return ()
    from coper.bicycle.measures import measure
    from coper.telling.words.bicycle import measure_words

    measures = measure(work.job.bicycle, [piece.tube for piece in work.pieces])
    return tuple(f"{words}: {told}" for words, told in measure_words(measures))


def _sections(work: ShapedJob, tell: Tell) -> Iterator[Section]:
    """Every part after the job sheet; one that the job says nothing of has no blocks."""
    from coper.frame.order import work_order
    from coper.job.limits import shop_limit
    from coper.job.setups import shop_setups
    from coper.sheets.cards import card_blocks
    from coper.sheets.cut_list import cut_list_blocks
    from coper.sheets.fit_log import log_blocks
    from coper.sheets.piece import piece_blocks

    job = work.job
    tell("cut list")
    yield Section("Cut list", tuple(cut_list_blocks(work.cut_list)))
    tell("layout")
    yield _made("On the table", lambda: _layout_blocks(work))
    shaped = [piece for piece in work_order(work.pieces) if any(end.cope for end in piece.ends)]
    for index, piece in enumerate(shaped, 1):
        tell(f"{piece.label} ({index} of {len(shaped)})")
        setups = shop_setups(piece, job.shop)
        cards = card_blocks(piece, setups, shop_limit(job.shop), job.shop.material)
        blocks = (*piece_blocks(piece, PAPER_MM, GLUE_MM), *cards, *log_blocks(piece, setups))
        yield Section(piece.label, _fewest_pages(blocks, job.shop.paper or "a4"))
    tell("clearance and tracking")
    if job.drive != Drive() or (job.bicycle is not None and job.bicycle.wheels):
        yield _made("Clearance", lambda: _clearance_blocks(work))
    yield _made("Is it straight?", lambda: _tracking_blocks(job))


def _fewest_pages(blocks: tuple[Block, ...], paper: str) -> tuple[Block, ...]:
    """A tube's blocks, those after the notes the highest first where that saves a page."""
    from coper.drawing.visit import bounds
    from coper.pages.compose import compose

    highest = (blocks[0], *sorted(
        blocks[1:], key=lambda block: bounds(block.marks).height, reverse=True))
    return min(blocks, highest, key=lambda order: len(compose(order, paper)))


def _made(title: str, make: Callable[[], list[Block]]) -> Section:
    """A part that a job may lack the numbers for: then it says which."""
    try:
        return Section(title, tuple(make()))
    except CoperError as error:
        return Section(title, (), str(error).splitlines()[0])


def _layout_blocks(work: ShapedJob) -> list[Block]:
    from coper.job.layout import job_layout
    from coper.work.layout import layout_blocks

    return layout_blocks(job_layout(work.job, work.pieces), work.job.shop.paper or "a4")


def _clearance_blocks(work: ShapedJob) -> list[Block]:
    from coper.bicycle.clearance.clearance import make_clearances
    from coper.sheets.clearance import clearance_blocks

    return clearance_blocks(make_clearances(work.pieces, work.job.bicycle, work.job.drive))


def _tracking_blocks(job: Job) -> list[Block]:
    from coper.work.tracking import job_tracking_blocks

    return job_tracking_blocks(job)
