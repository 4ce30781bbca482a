"""The packet of a job: everything to print and take to the bench, in the order of work."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate

from coper.bench.bends import bend_lists
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.measures import measure
from coper.drawing.bounds import bounds
from coper.drawing.page import Page
from coper.errors import CoperError
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.job.faults import dotted
from coper.job.job import Job, Shop
from coper.job.layout import job_layout
from coper.job.limits import shop_limit
from coper.job.setups import shop_setups
from coper.job.shaped import ShapedJob
from coper.job.tracking import job_rear_end
from coper.joint.cautions import SAFETY
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.pages.compose import TRUE_PRINTER, Block, compose, first_pages
from coper.pages.paper import page_letter
from coper.sheets.batches import BatchSheet, batch_sheets
from coper.sheets.bends import bends_blocks
from coper.sheets.clearance import clearance_blocks
from coper.sheets.cut_list import cut_list_blocks
from coper.sheets.fit_log import log_blocks
from coper.sheets.job_sheet import job_sheet_blocks
from coper.sheets.layout import layout_blocks
from coper.sheets.setup_card_marks import card_blocks
from coper.sheets.template_pages import check_pages
from coper.sheets.tracking_log import rear_end_log_blocks
from coper.sheets.tube_templates import piece_blocks
from coper.telling.words.bicycle import measure_words
from coper.telling.words.clash import clash_words
from coper.telling.words.cut_list import all_shortages

Progress = Callable[[str], None]
"""Called with each step of a long work as it begins."""

USUAL_PAPER = "a4"
"""Where the shop names none."""

NO_LETTER = "–"
"""Stands for a page's letter until the pages are laid out."""

DRAFTS = 2
"""How often the letters are worked out: the job sheet may grow once they are in place."""


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the packet that begins on a page of its own; ``lacks`` says why it is missing."""

    title: str
    blocks: tuple[Block, ...]
    lacks: str = ""


def packet_pages(shaped: ShapedJob, progress: Progress) -> tuple[Page, ...]:
    """The pages of the packet, the job sheet first; ``progress`` hears of each step."""
    job, pieces = shaped.job, shaped.pieces
    found = tuple(_sections(shaped, progress))
    sections = [section for section in found if section.blocks]
    lacking = [f"No page: {section.title}: {section.lacks}" for section in found if section.lacks]
    ordered, measures = work_order(pieces), _measures(job, pieces)
    paper = job.shop.paper or USUAL_PAPER

    cautions = (*map(clash_words, shaped.clashes), *all_shortages(shaped.cut_list), *SAFETY)

    def blocks(letters: Sequence[str]) -> list[Block]:
        contents = ["Page A: Job sheet", *(f"Page {letter}: {section.title}"
                      for section, letter in zip(sections, letters, strict=True)), *lacking]
        sheet = job_sheet_blocks(job.title, ordered, measures, contents, cautions,
                                 shaped.cut_list.alike)
        return [*sheet, *(block for section in sections for block in _begun(section))]

    letters = [NO_LETTER] * len(sections)
    for _ in range(DRAFTS):
        letters = _letters(blocks(letters), sections, paper)
    return compose(blocks(letters), paper, title=job.title)


def _begun(section: Section) -> tuple[Block, ...]:
    """The section's blocks, the first on a new page."""
    first, *rest = section.blocks
    return replace(first, new_page=True), *rest


def _letters(blocks: Sequence[Block], sections: Sequence[Section], paper: str) -> list[str]:
    """The letter of the page that each section begins on; the sections are the last blocks."""
    sizes = [len(section.blocks) for section in sections]
    firsts = accumulate(sizes, initial=len(blocks) - sum(sizes))
    pages = first_pages(blocks, paper)
    return [page_letter(pages[first]) for first, _ in zip(firsts, sections, strict=False)]


def _measures(job: Job, pieces: Iterable[Piece]) -> tuple[str, ...]:
    """What a bicycle measures; nothing where the job has none."""
    if job.bicycle is None:
        return ()
    measures = measure(job.bicycle, [piece.tube for piece in pieces])
    return tuple(f"{words}: {value}" for words, value in measure_words(measures))


def _sections(shaped: ShapedJob, progress: Progress) -> Iterator[Section]:
    """Every part after the job sheet; one that the job does not cover has no blocks."""
    job, pieces = shaped.job, shaped.pieces
    progress("cut list")
    yield Section("Cut list", tuple(cut_list_blocks(shaped.cut_list)))
    yield _made("Bends", lambda: bends_blocks(
        bend_lists(pieces, job.shop.stretch), job.shop.stretch))
    progress("layout")
    yield _made("On the table", lambda: layout_blocks(
        job_layout(job, pieces), job.shop.paper or USUAL_PAPER))
    batches = batch_sheets(shaped.cut_list.alike, work_order(pieces))
    for index, sheet in enumerate(batches, 1):
        progress(f"{sheet.title} ({index} of {len(batches)})")
        yield Section(sheet.listed, _tube_blocks(sheet, job.shop))
    progress("clearance and tracking")
    if job.drive != Drive() or (job.bicycle is not None and job.bicycle.wheels):
        yield _made("Clearance", lambda: clearance_blocks(
            make_clearances(pieces, job.bicycle, job.drive)))
    yield _made("Is it straight?", lambda: _tracking_blocks(job))


def _tube_blocks(sheet: BatchSheet, shop: Shop) -> tuple[Block, ...]:
    """Templates, cards and logs of one tube, on as few pages as they fit."""
    piece = sheet.piece
    setups = shop_setups(piece, shop)
    cards = card_blocks(piece, setups, shop_limit(shop), shop.material)
    templates = tuple(piece_blocks(piece, PAPER_MM, GLUE_MM, sheet.about))
    paper = shop.paper or USUAL_PAPER
    path = f"tubes.{dotted(piece.tube.name)}"
    check_pages(templates, paper, TRUE_PRINTER, "check its shape, its points and what it seats on, "
                'or set paper = "roll" under [shop]', path,
                sum(end.cope is not None for end in piece.ends))
    try:
        return _fewest_pages((*templates, *cards, *log_blocks(piece, setups)), paper)
    except CoperError as error:
        raise CoperError(error.fault, error.cure, path) from error


def _fewest_pages(blocks: tuple[Block, ...], paper: str) -> tuple[Block, ...]:
    """A tube's blocks, those after the notes the highest first where that saves a page."""
    highest = (blocks[0], *sorted(
        blocks[1:], key=lambda block: bounds(block.marks).height, reverse=True))
    return min(blocks, highest, key=lambda order: len(compose(order, paper)))


def _tracking_blocks(job: Job) -> list[Block]:
    """The log of the job's frame; none where the job does not say what it needs."""
    rear = job_rear_end(job)
    return [] if rear is None else rear_end_log_blocks(rear)


def _made(title: str, make: Callable[[], list[Block]]) -> Section:
    """A part that the job may lack numbers for: then it names them."""
    try:
        return Section(title, tuple(make()))
    except CoperError as error:
        return Section(title, (), str(error).splitlines()[0])
