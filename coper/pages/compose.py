"""From blocks to pages: what stands where, and what every page carries.

::

    +------------------------------+
    |  margin                      |
    |  +-+--------------------+-+  |
    |  | |                    |b|  |
    |  |o|  blocks, or one    |a|  |      the bars and the foot line have strips of
    |  | |  tile of a block   |r|  |      their own, which no block enters; the strip
    |  |o|                    | |  |      at the left is for the holes of a file
    |  +-+--------------------+-+  |
    |  | bar, foot line         |  |
    |  +------------------------+  |
    +------------------------------+
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from coper.drawing.bounds import Bounds, bounds
from coper.drawing.changes import moved
from coper.drawing.marks import Group, Mark
from coper.drawing.page import Page
from coper.errors import CoperError
from coper.job.papers import TRUE_PRINTER, paper_words
from coper.pages.caution_place import alone, earlier
from coper.pages.cut import MOST_TILES, cut_up, fitted, pages_of
from coper.pages.laid import Laid, Sheet
from coper.pages.paper import (
    MARGIN_MM,
    OVERLAP_MM,
    content_of,
    content_size,
    is_roll,
    page_letter,
    paper_area,
)
from coper.pages.roll import roll_places, short_parts
from coper.pages.room import Room


@dataclass(frozen=True, slots=True)
class Block:
    """Marks that stay together on a page.

    Attributes
    ----------
    name : str
        What the block is called in the file.
    marks : tuple of Mark
        The drawing, anywhere in the plane.
    keep_upright : bool
        Whether the block may not be turned to fit.
    new_page : bool
        Whether it begins a page.
    continued : bool
        Whether it goes on from the block before it: it then stands neither before nor above that.
    """

    name: str
    marks: tuple[Mark, ...]
    keep_upright: bool = False
    new_page: bool = False
    continued: bool = False


def parts(name: str, drawings: Iterable[tuple[Mark, ...]]) -> Iterator[Block]:
    """The parts of one thing that was too high for a block, such as a table; they stay upright."""
    for index, marks in enumerate(drawings):
        yield Block(name, marks, keep_upright=True, continued=index > 0)


def compose(
    blocks: Sequence[Block],
    paper: str,
    printer: tuple[float, float] = TRUE_PRINTER,
    overlap: float = OVERLAP_MM,
    title: str = "",
    before: int = 0,
    after: int = 0,
    code: str = "",
) -> tuple[Page, ...]:
    """Lay blocks out on pages.

    Blocks go from the top down in their order, side by side where there is room; a small one fills
    what larger ones before it have left, on the pages since the last that a block had to begin.
    One that is too wide for a page is turned by a quarter, and one that is too large either way is
    cut into tiles on pages of its own. On a roll a page is as long as it needs, and as wide as its
    widest block or as the roll, and a new one begins only where a block has to begin it.

    Parameters
    ----------
    blocks
        What is laid out; without any, one page with its check bars.
    paper
        A name of ``PAPERS``, ``roll``, or ``roll=WIDTH`` in mm.
    printer : (across, along), mm
        What the check bars of an earlier print measured; all is drawn the larger or smaller so
        that the next print is true.
    overlap : float, mm
        What neighbouring tiles share.
    title
        What the foot line of each page says.
    before, after : int
        How many pages of the same stack come before these, and after them.
    code
        That of the whole stack; where it is empty, of what is drawn on these pages.

    Returns
    -------
    tuple of Page
        The pages; without any before them A first.

    Raises
    ------
    CoperError
        The paper is not known, a number is out of its range, or a block needs more than
        ``MOST_TILES`` pages or a roll longer than ``LONGEST_MM``; that is found out before any
        page is made.
    """
    return lay_out(blocks, paper, printer, overlap, before).pages(title, after, code)


def page_count(
    blocks: Sequence[Block], paper: str, printer: tuple[float, float] = TRUE_PRINTER,
) -> int:
    """How many pages :func:`compose` lays the blocks out on."""
    return len(lay_out(blocks, paper, printer).sheets)


def tiles_needed(
    blocks: Iterable[Block], paper: str, printer: tuple[float, float] = TRUE_PRINTER,
) -> int:
    """How many pages the blocks that fit no page would be cut into; nothing is cut yet."""
    content = content_size(paper, printer)
    counts = () if content is None else (
        pages_of(block.marks, block.keep_upright, content, OVERLAP_MM) for block in blocks)
    return sum(count for count in counts if count > 1)


def picture_page(marks: Sequence[Mark]) -> Page:
    """One page as large as its marks, the margin round them; no bars, for it is no template."""
    box = bounds(marks)
    return Page(page_letter(0), box.width + 2 * MARGIN_MM, box.height + 2 * MARGIN_MM,
                moved(marks, MARGIN_MM - box.left, MARGIN_MM - box.bottom))


def lay_out(
    blocks: Sequence[Block], paper: str, printer: tuple[float, float] = TRUE_PRINTER,
    overlap: float = OVERLAP_MM, before: int = 0,
) -> Laid:
    """The blocks on their pages, as :func:`compose` has them; ``before`` come others.

    Cautions that would stand alone on the last page come before other blocks.
    """
    found = _laid_out(blocks, paper, printer, overlap, before)
    orders = earlier([block.name for block in blocks], [block.continued for block in blocks])
    while alone([page for _, page in found.sheets]) and (order := next(orders, None)):
        found = _laid_out([blocks[at] for at in order], paper, printer, overlap, before)
    return found


def _laid_out(
    blocks: Sequence[Block], paper: str, printer: tuple[float, float], overlap: float, before: int
) -> Laid:
    area = paper_area(paper, printer, overlap)
    if is_roll(paper):
        sheets = _on_roll(blocks, _Roll(area, printer, overlap, paper), before)
    else:
        assert area is not None  # only a roll may have no size
        sheets = [(area, page) for page in _flowed(
            blocks, content_of(area), overlap, paper, before)]
    return Laid(sheets, printer, before)


@dataclass(frozen=True, slots=True, eq=False)
class _Roll:
    """A roll; ``area`` is the printable part of its longest page, ``None`` of one of any width."""

    area: Bounds | None
    printer: tuple[float, float]
    overlap: float
    paper: str


def _on_roll(blocks: Sequence[Block], roll: _Roll, before: int) -> list[Sheet]:
    """Pages of a roll: what is wider is turned, or cut into strips that are pages of their own."""
    if roll.area is None:
        return [_rolled(piece, roll) for piece in _pieces(blocks, roll)]
    content = content_of(roll.area)
    sheets: list[Sheet] = []
    run: list[Block] = []
    for block in blocks:
        marks = _fitted(block, content)
        if marks is not None:
            run.append(replace(block, marks=marks))
            continue
        sheets += [_rolled(piece, roll) for piece in _pieces(run, roll) if piece]
        run = []
        sheets += [_rolled([replace(block, marks=tile)], roll) for tile in _tiled(
            block, content, roll.overlap, roll.paper, before + len(sheets))]
    if run or not sheets:
        sheets += [_rolled(piece, roll) for piece in _pieces(run, roll)]
    return sheets


def _pieces(blocks: Sequence[Block], roll: _Roll) -> list[list[Block]]:
    """The blocks of each page of a roll, one part at least."""
    pieces: list[list[Block]] = [[]]
    for block in blocks:
        if block.new_page and pieces[-1]:
            pieces.append([])
        pieces[-1].append(block)
    return [piece[part] for piece in pieces
            for part in short_parts([bounds(block.marks) for block in piece], roll.area)]


def _rolled(blocks: Sequence[Block], roll: _Roll) -> Sheet:
    """The printable part of a piece of a roll that just holds blocks, and they on it."""
    area, places = roll_places([bounds(block.marks) for block in blocks],
                               [block.continued for block in blocks], roll.printer, roll.area)
    content = content_of(area)
    return area, [
        _set(block.name, block.marks, content.left + place.left, content.top + place.top)
        for block, place in zip(blocks, places, strict=True)]


def _set(name: str, marks: tuple[Mark, ...], left: float, top: float) -> Group:
    """A named group of marks whose bounds have their upper left corner at ``(left, top)``."""
    box = bounds(marks)
    return Group(moved(marks, left - box.left, top - box.top), name)


def _flowed(
    blocks: Sequence[Block], content: Bounds, overlap: float, paper: str, before: int
) -> list[list[Mark]]:
    """Pages with each block in the first room there is since the last new page."""
    pages: list[list[Mark]] = []
    rooms: list[Room] = []
    last: tuple[int, Bounds] | None = None
    for block in blocks:
        marks = _fitted(block, content)
        if marks is None or block.new_page:
            rooms, last = [], None
        if marks is None:
            tiled = _tiled(block, content, overlap, paper, before + len(pages))
            pages += ([_set(block.name, tile, content.left, content.top)] for tile in tiled)
            continue
        open_pages = len(rooms)
        number, place = _place(rooms, last if block.continued else None, bounds(marks), content)
        if number == open_pages:
            pages.append([])
        last = number, place
        pages[number - len(rooms)].append(_set(block.name, marks, place.left, place.top))
    return pages or [[]]


def _place(
    rooms: list[Room], after: tuple[int, Bounds] | None, box: Bounds, content: Bounds
) -> tuple[int, Bounds]:
    """The page and the place there for a box that fits an empty one.

    It is not on a page before the place ``after``, and not higher on the same one.
    """
    first, last = after or (0, content)
    for number in range(first, len(rooms)):
        below = last.top if number == first else np.inf
        place = rooms[number].take(box.width, box.height, below)
        if place is not None:
            return number, place
    place = Bounds(content.left, content.top - box.height, content.left + box.width, content.top)
    rooms.append(Room(content, [place]))
    return len(rooms) - 1, place


def _fitted(block: Block, content: Bounds) -> tuple[Mark, ...] | None:
    """The block's marks as they fit a page, turned if need be; ``None`` where they never fit."""
    return fitted(block.marks, block.keep_upright, (content.width, content.height))


def _tiled(
    block: Block, content: Bounds, overlap: float, paper: str, first: int
) -> list[tuple[Mark, ...]]:
    """The tiles of a block that fits no page; ``first`` is how many pages stand before them."""
    size = content.width, content.height
    count = pages_of(block.marks, block.keep_upright, size, overlap)
    if count > MOST_TILES:
        raise CoperError(f"{block.name} needs about {count} pages of {paper_words(paper)}",
                         "check its sizes and angles, or print it on a roll", "paper")
    return cut_up(block.marks, block.keep_upright, size, overlap, first, block.name)
