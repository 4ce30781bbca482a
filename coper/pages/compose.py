"""From blocks to pages: what stands where, and what every page carries.

::

    +------------------------------+
    |  margin                      |
    |  +-+----------------------+  |
    |  | |                      |  |
    |  |b|  blocks, or one      |  |      the bars and the foot line have strips of
    |  |a|  tile of a block     |  |      their own, which no block enters
    |  |r|                      |  |
    |  +-+----------------------+  |
    |  | bar, foot line         |  |
    |  +------------------------+  |
    +------------------------------+
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coper.drawing.bounds import Bounds, bounds
from coper.drawing.changes import moved, scaled, turned90
from coper.drawing.marks import Group, Mark
from coper.drawing.page import Page
from coper.errors import CoperError
from coper.pages.count import tile_count
from coper.pages.furniture import furniture
from coper.pages.paper import (
    MARGIN_MM,
    OVERLAP_MM,
    PAPERS,
    ROLL,
    check_paper,
    content_of,
    content_size,
    page_letter,
    sheet_area,
)
from coper.pages.roll import roll_places, short_parts
from coper.pages.room import SLACK_MM, Room
from coper.pages.tiles import crop_marks, join_marks, tiles

MOST_TILES = 150
"""Pages of one block: nobody glues more together. A drawing at full size has as many at most."""

TRUE_PRINTER = (100.0, 100.0)
"""What the two check bars measure where the printer needs no correction, mm."""

Sheet = tuple[Bounds, list[Mark]]
"""The printable part of a page, and what is put there."""


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
) -> tuple[Page, ...]:
    """Lay blocks out on pages.

    Blocks go from the top down in their order, side by side where there is room; a small one fills
    what larger ones before it have left, on the pages since the last that a block had to begin.
    One that is too wide for a page is turned by a quarter, and one that is too large either way is
    cut into tiles on pages of its own. On a roll a page is as wide as its widest block and as long
    as it needs, and a new one begins only where a block has to begin it.

    Parameters
    ----------
    blocks
        What is laid out; without any, one page with its check bars.
    paper
        A name of ``PAPERS``, or ``roll``.
    printer : (across, along), mm
        What the check bars of an earlier print measured; all is drawn the larger or smaller so
        that the next print is true.
    overlap : float, mm
        What neighbouring tiles share.
    title
        What the foot line of each page says.
    before, after : int
        How many pages of the same stack come before these, and after them.

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
    sheets = _sheets(blocks, paper, printer, overlap, before)
    count = before + len(sheets) + after
    return tuple(
        _page(content, index, count, area, printer, title)
        for index, (area, content) in enumerate(sheets, before)
    )


def page_count(blocks: Sequence[Block], paper: str) -> int:
    """How many pages :func:`compose` lays the blocks out on."""
    return len(_sheets(blocks, paper, TRUE_PRINTER, OVERLAP_MM))


def tiles_needed(
    blocks: Iterable[Block], paper: str, printer: tuple[float, float] = TRUE_PRINTER,
) -> int:
    """How many pages the blocks that fit no page would be cut into; nothing is cut yet."""
    content = content_size(paper, printer)
    counts = () if content is None else (
        _tile_count(block, content, OVERLAP_MM) for block in blocks)
    return sum(count for count in counts if count > 1)


def _tile_count(block: Block, content: tuple[float, float], overlap: float) -> int:
    """The pages of a block, laid as it needs the fewest; ``content`` is what a page has for it."""
    width, height = content
    upright = tile_count(block.marks, width, height, overlap)
    return upright if block.keep_upright else min(
        upright, tile_count(block.marks, height, width, overlap))


def picture_page(marks: Sequence[Mark]) -> Page:
    """One page as large as its marks, the margin round them; no bars, for it is no template."""
    box = bounds(marks)
    return Page(page_letter(0), box.width + 2 * MARGIN_MM, box.height + 2 * MARGIN_MM,
                moved(marks, MARGIN_MM - box.left, MARGIN_MM - box.bottom))


def _sheets(
    blocks: Sequence[Block], paper: str, printer: tuple[float, float], overlap: float,
    before: int = 0,
) -> list[Sheet]:
    """Every sheet; ``before`` pages of the same stack come first."""
    paper = paper.lower()
    check_paper(paper, printer, overlap)
    if paper == ROLL:
        return [_rolled(piece, printer) for piece in _pieces(blocks)]
    area = sheet_area(PAPERS[paper], printer)
    return [(area, page) for page in _flowed(blocks, content_of(area), overlap, paper, before)]


def _pieces(blocks: Sequence[Block]) -> list[list[Block]]:
    """The blocks of each page of a roll, one part at least."""
    pieces: list[list[Block]] = [[]]
    for block in blocks:
        if block.new_page and pieces[-1]:
            pieces.append([])
        pieces[-1].append(block)
    return [piece[part] for piece in pieces
            for part in short_parts([bounds(block.marks) for block in piece])]


def _rolled(blocks: Sequence[Block], printer: tuple[float, float]) -> Sheet:
    """The printable part of a piece of a roll that just holds blocks, and they on it."""
    area, places = roll_places(
        [bounds(block.marks) for block in blocks], [block.continued for block in blocks], printer)
    content = content_of(area)
    return area, [
        _set(block.name, block.marks, content.left + place.left, content.top + place.top)
        for block, place in zip(blocks, places, strict=True)]


def _page(
    content: Sequence[Mark], index: int, count: int, area: Bounds,
    printer: tuple[float, float], title: str,
) -> Page:
    """A page, its check bars and foot line added, scaled for the printer."""
    letter = page_letter(index)
    marks = (*content, furniture(area, title, letter, count))
    across, along = 100 / printer[0], 100 / printer[1]
    width, height = (area.left + area.right) * across, (area.bottom + area.top) * along
    return Page(letter, width, height, scaled(marks, across, along))


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
            count = _tile_count(block, (content.width, content.height), overlap)
            if count > MOST_TILES:
                raise CoperError(f"{block.name} needs about {count} pages of {paper}",
                                 "check its sizes and angles, or print it on a roll", "paper")
            pages += _tiled(block, content, overlap, before + len(pages))
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
    box = bounds(block.marks)
    wide, high = content.width + SLACK_MM, content.height + SLACK_MM
    if box.width <= wide and box.height <= high:
        return block.marks
    if not block.keep_upright and box.height <= wide and box.width <= high:
        return turned90(block.marks)
    return None


def _tiled(block: Block, content: Bounds, overlap: float, first: int) -> list[list[Mark]]:
    """The pages of a block that fits no page; ``first`` is how many pages stand before them."""
    cut = tiles(block.marks, content.width, content.height, overlap)
    if not block.keep_upright:
        turned = tiles(turned90(block.marks), content.width, content.height, overlap)
        cut = min(cut, turned, key=len)
    letters = {
        (tile.column, tile.row): page_letter(first + index) for index, tile in enumerate(cut)
    }
    pages: list[list[Mark]] = []
    for tile in cut:
        marks = (*tile.marks, *join_marks(tile, letters, overlap), *crop_marks(tile.window))
        pages.append([_set(block.name, marks, content.left, content.top)])
    return pages
