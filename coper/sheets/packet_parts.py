"""The parts of a job's packet, in the order of work: what each is called, and its blocks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from coper.bench.bends import bend_lists
from coper.bench.setup import EndSetup
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.drive import Drive
from coper.drawing.bounds import bounds
from coper.errors import CoperError
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.job.faults import dotted
from coper.job.job import Job, Shop
from coper.job.layout import job_layout
from coper.job.limits import shop_limit
from coper.job.setups import ShopSetups
from coper.job.shaped import ShapedJob
from coper.job.tracking import job_measures, job_rear_end
from coper.joint.steps import Progress
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.pages.compose import Block, page_count
from coper.shapes.plate import Plate
from coper.sheets.batches import BatchSheet, batch_sheets
from coper.sheets.bends import bends_blocks
from coper.sheets.cap import cap_blocks
from coper.sheets.clearance import clearance_blocks
from coper.sheets.cut_list import cut_list_blocks
from coper.sheets.fit_log import log_blocks
from coper.sheets.layout import layout_blocks
from coper.sheets.plate import plate_blocks
from coper.sheets.setup_card_marks import card_blocks
from coper.sheets.template_pages import check_pages
from coper.sheets.tracking_log import Typed, rear_end_log_blocks
from coper.sheets.tube_templates import piece_blocks
from coper.telling.words.typed import typed_file


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


def packet_sections(shaped: ShapedJob, progress: Progress) -> Iterator[Section]:
    """Every part after the job sheet; one that the job does not cover has no pages."""
    job, pieces = shaped.job, shaped.pieces
    shop, alike = job.shop, shaped.cut_list.alike
    progress("cut list")
    yield _made("Cut list", shop, lambda: tuple(cut_list_blocks(shaped.cut_list)))
    yield _made("Bends", shop, lambda: bends_blocks(bend_lists(pieces, shop.stretch), shop.stretch))
    progress("layout")
    yield _made("On the table", shop, lambda: layout_blocks(
        job_layout(job, pieces), shop.paper_for(), shop.printer))
    yield _made("Caps", shop, lambda: cap_blocks(alike))
    yield from (_plate_section(piece, pieces, shop) for piece in pieces
                if isinstance(piece.tube.shape, Plate) and not piece.tube.existing)
    batches = batch_sheets(alike, work_order(pieces))
    setups = ShopSetups(shop)
    for index, sheet in enumerate(batches, 1):
        progress(f"{sheet.title} ({index} of {len(batches)})")
        yield _tube_section(sheet, setups.of, job)
    progress("clearance and tracking")
    if job.drive != Drive() or (job.bicycle is not None and job.bicycle.wheels):
        yield _made("Clearance", shop, lambda: clearance_blocks(
            make_clearances(pieces, job.bicycle, job.drive)))
    yield _made("Is it straight?", shop, lambda: _tracking_blocks(job))


def _made(title: str, shop: Shop, make: Callable[[], Sequence[Block]]) -> Section:
    """A part whose blocks are kept; where it cannot be made or laid out, it says why."""
    try:
        blocks = make()
        pages = page_count(blocks, shop.paper_for(), shop.printer) if blocks else 0
    except CoperError as error:
        return Section(title, tuple, 0, str(error).splitlines()[0])
    return Section(title, lambda: blocks, pages)


def _plate_section(piece: Piece, pieces: Sequence[Piece], shop: Shop) -> Section:
    return _made(f"Plate {piece.label}", shop, lambda: plate_blocks(piece, pieces))


def _tube_section(
    sheet: BatchSheet, set_up: Callable[[Piece], tuple[EndSetup, ...]], job: Job
) -> Section:
    """Templates, cards and logs of one tube, on as few pages as they fit."""
    piece, shop = sheet.piece, job.shop
    path = f"tubes.{dotted(piece.tube.name)}"
    templates = _templates(sheet)
    check_pages(templates, shop.paper_for(), shop.printer, "check its shape, its points and what "
                'it seats on, or set paper = "roll" under [shop]', path,
                sum(end.cope is not None for end in piece.ends))
    setups = set_up(piece)

    def others() -> tuple[Block, ...]:
        return (*card_blocks(piece, setups, shop_limit(shop), shop.material),
                *log_blocks(piece, setups, job.file, sheet.named))

    try:
        order, pages = _fewest_pages((*templates, *others()), shop)
    except CoperError as error:
        raise CoperError(error.fault, error.cure, path) from error

    def ordered() -> list[Block]:
        made = (*_templates(sheet), *others())
        return [made[index] for index in order]

    return Section(sheet.listed, ordered, pages)


def _templates(sheet: BatchSheet) -> tuple[Block, ...]:
    return tuple(piece_blocks(sheet.piece, PAPER_MM, GLUE_MM, sheet.about))


def _fewest_pages(blocks: Sequence[Block], shop: Shop) -> tuple[list[int], int]:
    """The order of a tube's blocks and the pages they take.

    Those after the notes come the highest first where that saves a page.
    """
    orders = (list(range(len(blocks))), [0, *sorted(
        range(1, len(blocks)), key=lambda index: bounds(blocks[index].marks).height,
        reverse=True)])
    counts = [page_count([blocks[index] for index in order], shop.paper_for(), shop.printer)
              for order in orders]
    best = counts.index(min(counts))
    return orders[best], counts[best]


def _tracking_blocks(job: Job) -> list[Block]:
    """The log of the job's frame; none where the job does not say what it needs."""
    rear = job_rear_end(job)
    if rear is None:
        return []
    typed = Typed(f"coper tracking {typed_file(job.file)}", job_measures(job))
    return rear_end_log_blocks(rear, typed)
