"""The packet of a job: everything to print and take to the bench, in the order of work."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from coper.bench.bends import bend_lists
from coper.bench.setup import EndSetup
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.measures import measure
from coper.drawing.bounds import bounds
from coper.drawing.page import Page
from coper.errors import CoperError
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.job.assembly import job_assembly
from coper.job.faults import dotted
from coper.job.job import Job
from coper.job.layout import job_layout
from coper.job.limits import shop_limit
from coper.job.setups import ShopSetups
from coper.job.shaped import ShapedJob
from coper.job.tracking import job_measures, job_rear_end
from coper.joint.cautions import SAFETY
from coper.joint.steps import Progress
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.pages.compose import TRUE_PRINTER, Block, compose, page_count
from coper.pages.paper import page_letter
from coper.shapes.plate import Plate
from coper.sheets.batches import BatchSheet, batch_sheets
from coper.sheets.bends import bends_blocks
from coper.sheets.cap import cap_blocks
from coper.sheets.clearance import clearance_blocks
from coper.sheets.cut_list import cut_list_blocks
from coper.sheets.fit_log import log_blocks
from coper.sheets.job_sheet import job_sheet_blocks
from coper.sheets.layout import layout_blocks
from coper.sheets.order_of_work import order_blocks
from coper.sheets.plate import plate_blocks
from coper.sheets.setup_card_marks import card_blocks
from coper.sheets.template_pages import check_pages
from coper.sheets.tracking_log import Typed, rear_end_log_blocks
from coper.sheets.tube_templates import piece_blocks
from coper.telling.words.bicycle import measure_words
from coper.telling.words.clash import clash_words
from coper.telling.words.cut_list import all_shortages
from coper.telling.words.standing import unlike_words
from coper.telling.words.typed import typed_file
from coper.units import lengths_in, order_unit

NO_LETTER = "–"
"""Stands for a page's letter until the pages are counted."""

DRAFTS = 2
"""How often the pages of the job sheet are counted: it may grow once the letters are in place."""


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """A part of the packet that begins on a page of its own.

    Attributes
    ----------
    title : str
    make
        Makes its blocks, whenever they are wanted: those of all tubes are too many to keep.
    pages : int
        How many it takes.
    lacks : str
        Why it is missing; empty where it is there.
    """

    title: str
    make: Callable[[], Sequence[Block]]
    pages: int
    lacks: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Packet(Collection[Page]):
    """The pages of a packet, each section's made as it is reached, and not kept.

    Attributes
    ----------
    title, paper : str
    sections : tuple of Section
        In the order of work, the job sheet first.
    unit : str
        That of the order, in which each section is written.
    progress
        Hears of each section that is drawn.
    """

    title: str
    paper: str
    sections: tuple[Section, ...]
    unit: str
    progress: Progress

    def __len__(self) -> int:
        return sum(section.pages for section in self.sections)

    def __contains__(self, page: object) -> bool:
        return any(page == one for one in self)

    def __iter__(self) -> Iterator[Page]:
        before = 0
        for section in self.sections:
            self.progress(f"page {page_letter(before)}, {before + 1} of {len(self)}")
            with lengths_in(self.unit):
                pages = compose(section.make(), self.paper, title=self.title, before=before,
                                after=len(self) - before - section.pages)
            yield from pages
            before += section.pages


def packet_pages(shaped: ShapedJob, progress: Progress) -> Packet:
    """The pages of the packet, the job sheet first; ``progress`` hears of each step."""
    job, pieces = shaped.job, shaped.pieces
    paper = job.shop.paper_for()
    found = tuple(_sections(shaped, paper, progress))
    sections = [section for section in found if section.pages]
    lacking = [f"No page: {section.title}: {section.lacks}" for section in found if section.lacks]
    ordered, measures = work_order(pieces), _measures(job, pieces)
    order = tuple(order_blocks(job_assembly(shaped)))
    cautions = (*map(clash_words, shaped.clashes), *unlike_words(job.tubes, pieces),
                *all_shortages(shaped.cut_list), *SAFETY)

    def sheet(letters: Iterable[str]) -> Section:
        contents = ["Page A: Job sheet", *(f"Page {letter}: {section.title}"
                      for section, letter in zip(sections, letters, strict=True)), *lacking]
        return _section("Job sheet", paper, (*job_sheet_blocks(
            job.title, ordered, measures, contents, cautions, shaped.cut_list.alike,
            job.table.lies == "flat"), *order))

    first = sheet([NO_LETTER] * len(sections))
    for _ in range(DRAFTS):
        firsts = accumulate((one.pages for one in sections[:-1]), initial=first.pages)
        first = sheet(map(page_letter, firsts) if sections else ())
    return Packet(job.title, paper, (first, *sections), order_unit(), progress)


def _section(title: str, paper: str, blocks: Sequence[Block]) -> Section:
    """A section whose blocks are kept."""
    return Section(title, lambda: blocks, page_count(blocks, paper) if blocks else 0)


def _measures(job: Job, pieces: Iterable[Piece]) -> tuple[str, ...]:
    """What a bicycle measures; nothing where the job has none."""
    if job.bicycle is None:
        return ()
    measures = measure(job.bicycle, [piece.tube for piece in pieces])
    return tuple(f"{words}: {value}" for words, value in measure_words(measures))


def _sections(shaped: ShapedJob, paper: str, progress: Progress) -> Iterator[Section]:
    """Every part after the job sheet; one that the job does not cover has no pages."""
    job, pieces = shaped.job, shaped.pieces
    progress("cut list")
    yield _section("Cut list", paper, tuple(cut_list_blocks(shaped.cut_list)))
    yield _made("Bends", paper, lambda: bends_blocks(
        bend_lists(pieces, job.shop.stretch), job.shop.stretch))
    progress("layout")
    yield _made("On the table", paper, lambda: layout_blocks(job_layout(job, pieces), paper))
    yield _section("Caps", paper, cap_blocks(shaped.cut_list.alike))
    for piece in pieces:
        if isinstance(piece.tube.shape, Plate) and not piece.tube.existing:
            yield _section(f"Plate {piece.label}", paper, plate_blocks(piece, pieces))
    batches = batch_sheets(shaped.cut_list.alike, work_order(pieces))
    setups = ShopSetups(job.shop)
    for index, sheet in enumerate(batches, 1):
        progress(f"{sheet.title} ({index} of {len(batches)})")
        yield _tube_section(sheet, setups.of, job, paper)
    progress("clearance and tracking")
    if job.drive != Drive() or (job.bicycle is not None and job.bicycle.wheels):
        yield _made("Clearance", paper, lambda: clearance_blocks(
            make_clearances(pieces, job.bicycle, job.drive)))
    yield _made("Is it straight?", paper, lambda: _tracking_blocks(job))


def _tube_section(
    sheet: BatchSheet, set_up: Callable[[Piece], tuple[EndSetup, ...]], job: Job, paper: str
) -> Section:
    """Templates, cards and logs of one tube, on as few pages as they fit."""
    piece = sheet.piece
    path = f"tubes.{dotted(piece.tube.name)}"
    templates = _templates(sheet)
    check_pages(templates, paper, TRUE_PRINTER, "check its shape, its points and what it seats on, "
                'or set paper = "roll" under [shop]', path,
                sum(end.cope is not None for end in piece.ends))
    setups = set_up(piece)

    def blocks() -> tuple[Block, ...]:
        cards = card_blocks(piece, setups, shop_limit(job.shop), job.shop.material)
        return (*_templates(sheet), *cards,
                *log_blocks(piece, setups, job.file, sheet.named))

    try:
        order, pages = _fewest_pages(blocks(), paper)
    except CoperError as error:
        raise CoperError(error.fault, error.cure, path) from error

    def ordered() -> list[Block]:
        made = blocks()
        return [made[index] for index in order]

    return Section(sheet.listed, ordered, pages)


def _templates(sheet: BatchSheet) -> tuple[Block, ...]:
    return tuple(piece_blocks(sheet.piece, PAPER_MM, GLUE_MM, sheet.about))


def _fewest_pages(blocks: Sequence[Block], paper: str) -> tuple[list[int], int]:
    """The order of a tube's blocks and the pages they take.

    Those after the notes come the highest first where that saves a page.
    """
    orders = (list(range(len(blocks))), [0, *sorted(
        range(1, len(blocks)), key=lambda index: bounds(blocks[index].marks).height,
        reverse=True)])
    counts = [page_count([blocks[index] for index in order], paper) for order in orders]
    best = counts.index(min(counts))
    return orders[best], counts[best]


def _tracking_blocks(job: Job) -> list[Block]:
    """The log of the job's frame; none where the job does not say what it needs."""
    rear = job_rear_end(job)
    if rear is None:
        return []
    typed = Typed(f"coper tracking {typed_file(job.file)}", job_measures(job))
    return rear_end_log_blocks(rear, typed)


def _made(title: str, paper: str, make: Callable[[], list[Block]]) -> Section:
    """A part that the job may lack numbers for: then it names them."""
    try:
        return _section(title, paper, make())
    except CoperError as error:
        return Section(title, tuple, 0, str(error).splitlines()[0])
