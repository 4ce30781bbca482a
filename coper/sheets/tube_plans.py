"""The parts of a packet that are about its tubes: what is cut out of paper, and what is kept whole.

::

    for scissors            to keep
    strips, footprints,     marks on the mains, tables of the plates;
    outlines                notes, set-up cards and fit logs, a tube after the other
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import NamedTuple, TypeVar

from coper.bench.setup import EndSetup
from coper.errors import CoperError
from coper.frame.order import work_order
from coper.frame.piece import Piece
from coper.job.faults import dotted
from coper.job.job import Job, Shop
from coper.job.limits import shop_limit
from coper.job.setups import ShopSetups
from coper.job.shaped import ShapedJob
from coper.joint.steps import Progress
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.pages.compose import Block, page_count
from coper.shapes.plate import Plate
from coper.sheets.batches import BatchSheet, batch_sheets
from coper.sheets.cap import cap_blocks
from coper.sheets.fit_log_marks import log_blocks
from coper.sheets.footprint_places import FootprintPlaces
from coper.sheets.main_marks import main_marks_blocks, marks_name
from coper.sheets.plate import outline_name, plate_blocks, plate_outline, table_name
from coper.sheets.section import Pages, Plan, first_letter, pages_words
from coper.sheets.setup_card_marks import card_blocks
from coper.sheets.template_pages import check_pages
from coper.sheets.tube_templates import notes_block, notes_name, piece_blocks

TOGETHER = 10
"""Tubes whose sheets are laid out on the same pages: a tube's own then stand near each other, and
so many are kept at once."""

Kind = TypeVar("Kind")


def tube_plans(shaped: ShapedJob, progress: Progress) -> Iterator[Plan]:
    """All that is cut out first, then the marks on every main, then tube by tube what is kept."""
    pieces, ordered = shaped.pieces, work_order(shaped.pieces)
    batches = batch_sheets(shaped.cut_list, ordered)
    places = FootprintPlaces(pieces, batches)
    plates = [piece for piece in pieces if _has_outline(piece)]
    names = [_names(_templates(sheet, places), sheet, shaped.job.shop) for sheet in batches]
    outlines = (*cap_blocks(shaped.cut_list.alike),
                *(plate_outline(plate, pieces) for plate in plates))
    yield from _scissors(batches, places, outlines)
    for some in _together(plates):
        yield Plan(tuple((f"Plate {plate.label}", table_name(plate)) for plate in some),
                   partial(_plates, some, pieces))
    for mains in _together([piece for piece in ordered if _is_marked(piece, places)]):
        yield Plan(tuple((f"Marks on {main.label}", marks_name(main)) for main in mains),
                   partial(_marks, mains, places))
    yield from _kept(shaped, tuple(zip(batches, names, strict=True)), progress)


def _has_outline(piece: Piece) -> bool:
    shape = piece.tube.shape
    return isinstance(shape, Plate) and shape.width is not None and not piece.tube.existing


def _is_marked(piece: Piece, places: FootprintPlaces) -> bool:
    """Whether something lands on it; a plate has a sheet of its own."""
    return (not isinstance(piece.tube.shape, Plate)
            and (piece.tube.name, piece.tube.side) in places.by_main)


def _scissors(
    batches: Sequence[BatchSheet], places: FootprintPlaces, outlines: Sequence[Block]
) -> Iterator[Plan]:
    """All that is cut out of paper; ``outlines`` of caps and plates with the first templates."""
    def make(some: Sequence[BatchSheet], before: Sequence[Block], _: Pages) -> tuple[Block, ...]:
        return (*before, *(block for sheet in some for block in _templates(sheet, places)))

    for number, some in enumerate(_together(batches) or [()]):
        before = () if number else outlines
        title = f"templates and footprints{', outlines of caps and plates' if before else ''}"
        of = "" if len(some) == len(batches) else f" of {some[0].title} to {some[-1].title}"
        yield Plan(((f"{title}{of}", ""),), partial(make, some, before), scissors=True)


def _templates(sheet: BatchSheet, places: FootprintPlaces) -> tuple[Block, ...]:
    return tuple(piece_blocks(sheet.piece, PAPER_MM, GLUE_MM, places.of(sheet), sheet.blank))


def _names(blocks: Sequence[Block], sheet: BatchSheet, shop: Shop) -> tuple[str, ...]:
    """What a tube's templates are called; refused, with its place in the job, if no pages do."""
    path = f"tubes.{dotted(sheet.piece.tube.name)}"
    paper = shop.paper_for()
    check_pages(blocks, paper, shop.printer, "check its shape, its points and what it seats on, "
                'or set paper = "roll" under [shop]', path,
                sum(end.cope is not None for end in sheet.piece.ends))
    try:
        page_count(blocks, paper, shop.printer)
    except CoperError as error:
        raise CoperError(error.fault, error.cure, path) from error
    return tuple(block.name for block in blocks)


def _plates(plates: Sequence[Piece], pieces: Sequence[Piece], cut: Pages) -> list[Block]:
    return [block for plate in plates for block in plate_blocks(
        plate, pieces, pages_words(cut, (outline_name(plate),)))]


def _marks(mains: Sequence[Piece], places: FootprintPlaces, cut: Pages) -> list[Block]:
    blocks: list[Block] = []
    for main in mains:
        landings = places.by_main[main.tube.name, main.tube.side]
        letters = [first_letter(cut, places.name(main, one)) for one in landings]
        blocks += main_marks_blocks(main, landings, letters)
    return blocks


def _kept(
    shaped: ShapedJob, sheets: Sequence[tuple[BatchSheet, tuple[str, ...]]], progress: Progress
) -> Iterator[Plan]:
    """Notes, cards and logs of all tubes, each with the names of its templates.

    ``progress`` hears of each whose saws are chosen.
    """
    setups = ShopSetups(shaped.job.shop)
    done = 0
    for some in _together(sheets):
        found: list[Kept] = []
        for sheet, names in some:
            done += 1
            progress(f"{sheet.title} ({done} of {len(sheets)})")
            found.append(Kept(sheet, names, setups.of(sheet.piece)))
        yield Plan(tuple((sheet.listed, notes_name(sheet.piece)) for sheet, _ in some),
                   partial(_keepers, shaped.job, tuple(found)))


class Kept(NamedTuple):
    """A tube that has sheets, the names of its templates, and how its ends are sawn."""

    sheet: BatchSheet
    names: tuple[str, ...]
    setups: tuple[EndSetup, ...]


def _keepers(job: Job, some: Sequence[Kept], cut: Pages) -> list[Block]:
    blocks: list[Block] = []
    for sheet, names, setups in some:
        piece, where = sheet.piece, f"To cut out: {pages_words(cut, names)}."
        blocks += [notes_block(piece, (*sheet.about, where)),
                   *card_blocks(piece, setups, shop_limit(job.shop), job.shop.material,
                                sheet.blank),
                   *log_blocks(piece, setups, job.file, sheet.named, sheet.blank)]
    return blocks


def _together(things: Sequence[Kind]) -> list[Sequence[Kind]]:
    return [things[first:first + TOGETHER] for first in range(0, len(things), TOGETHER)]
