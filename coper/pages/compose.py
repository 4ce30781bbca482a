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

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from coper.drawing.marks import Group, Mark
from coper.drawing.page import Page
from coper.drawing.visit import Bounds, bounds, moved, scaled, turned90
from coper.errors import CoperError, nearest_known
from coper.pages.furniture import LEAST_SIZE_MM, STRIP_BELOW_MM, STRIP_LEFT_MM, furniture
from coper.pages.room import SLACK_MM, Room
from coper.pages.tiles import LEAST_OVERLAP_MM, crop_marks, join_marks, tiles

ROLL: Final = "roll"
PAPERS: Final = {
    "a4": (210.0, 297.0),  # ISO 216
    "a3": (297.0, 420.0),  # ISO 216
    "letter": (215.9, 279.4),  # ANSI/ASME Y14.1, size A
    "legal": (215.9, 355.6),
}
"""Sheets of paper, upright: width and height in mm."""

MARGIN_MM: Final = 10.0
"""Printers leave this much of every edge of a page blank."""
OVERLAP_MM: Final = 10.0
"""What neighbouring tiles share, unless told otherwise."""
_MOST_OVERLAP_MM: Final = 50.0
_BAR_RANGE_MM: Final = (90.0, 110.0)
"""A bar outside this was measured wrong, or printed fitted to the page."""


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
    """

    name: str
    marks: tuple[Mark, ...]
    keep_upright: bool = False
    new_page: bool = False


def compose(
    blocks: Sequence[Block],
    paper: str,
    printer: tuple[float, float] = (100.0, 100.0),
    overlap: float = OVERLAP_MM,
    title: str = "",
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

    Returns
    -------
    tuple of Page
        The pages, A first.

    Raises
    ------
    CoperError
        The paper is not known, or a number is out of its range.
    """
    paper = paper.lower()
    _check(paper, printer, overlap)
    if paper == ROLL:
        sheets = [_rolled(part, printer) for part in _parts(blocks)]
    else:
        area = _sheet_area(PAPERS[paper], printer)
        sheets = [(area, content) for content in _flowed(blocks, _content(area), overlap)]
    return tuple(
        _page(content, index, len(sheets), area, printer, title)
        for index, (area, content) in enumerate(sheets)
    )


def picture_page(marks: Sequence[Mark]) -> Page:
    """One page as large as its marks, the margin round them; no bars, for it is no template."""
    box = bounds(marks)
    return Page(page_letter(0), box.width + 2 * MARGIN_MM, box.height + 2 * MARGIN_MM,
                moved(marks, MARGIN_MM - box.left, MARGIN_MM - box.bottom))


def content_size(
    paper: str, printer: tuple[float, float] = (100.0, 100.0)
) -> tuple[float, float] | None:
    """Width and height in mm that a page has for blocks; ``None`` for a roll, which has any.

    Raises
    ------
    CoperError
        The paper is not known, or ``printer`` is out of its range.
    """
    paper = paper.lower()
    _check(paper, printer, OVERLAP_MM)
    if paper == ROLL:
        return None
    content = _content(_sheet_area(PAPERS[paper], printer))
    return content.width, content.height


def page_letter(index: int) -> str:
    """The letter of a page counted from 0: A to Z, then AA, AB, …"""
    letters = ""
    index += 1
    while index:
        index, place = divmod(index - 1, 26)
        letters = chr(ord("A") + place) + letters
    return letters


def _check(paper: str, printer: tuple[float, float], overlap: float) -> None:
    """Refuse what no page can be made with."""
    if paper not in PAPERS and paper != ROLL:
        cure = nearest_known(paper, (*PAPERS, ROLL))
        raise CoperError(f"no paper is called {paper!r}", cure, "paper")
    low, high = _BAR_RANGE_MM
    for way, bar in zip(("across", "along"), printer, strict=True):
        if not low <= bar <= high:
            raise CoperError(
                f"a check bar of 100 mm cannot have measured {bar:g} mm {way}",
                f"print at 100 %, without scaling, and give what the bars measure, "
                f"{low:g} to {high:g} mm",
                "printer",
            )
    if not LEAST_OVERLAP_MM <= overlap <= _MOST_OVERLAP_MM:
        raise CoperError(
            f"tiles cannot overlap by {overlap:g} mm",
            f"give {LEAST_OVERLAP_MM:g} to {_MOST_OVERLAP_MM:g} mm",
            "overlap",
        )


def _sheet_area(size: tuple[float, float], printer: tuple[float, float]) -> Bounds:
    """The printable part of a sheet, in mm as they come out of the printer.

    All is laid out in those mm and scaled by 100 / bar at the very end, so the sheet is laid out
    ``bar / 100`` times as large as it is. The margin holds in the file. Where the printer enlarges
    about the middle of the sheet, it holds on the paper as well.
    """
    (width, height), (across, along) = size, printer
    side = max(MARGIN_MM * across / 100, MARGIN_MM + width * (across - 100) / 200)
    end = max(MARGIN_MM * along / 100, MARGIN_MM + height * (along - 100) / 200)
    return Bounds(side, end, width * across / 100 - side, height * along / 100 - end)


def _parts(blocks: Sequence[Block]) -> list[list[Block]]:
    """The blocks of each page of a roll, one part at least."""
    parts: list[list[Block]] = [[]]
    for block in blocks:
        if block.new_page and parts[-1]:
            parts.append([])
        parts[-1].append(block)
    return parts


def _rolled(
    blocks: Sequence[Block], printer: tuple[float, float]
) -> tuple[Bounds, list[Mark]]:
    """The printable part of a piece of a roll that just holds blocks, and they on it.

    It is as wide as its widest block, and as long as it has to be.
    """
    boxes = [bounds(block.marks) for block in blocks]
    width = max((box.width for box in boxes), default=0.0)
    room, begun, places = Room(Bounds(0.0, -np.inf, width, 0.0)), dict[str, float](), list[Bounds]()
    for block, box in zip(blocks, boxes, strict=True):
        place = room.take(box.width, box.height, begun.get(block.name, np.inf))
        assert place is not None  # a roll has no end
        places.append(place)
        begun[block.name] = place.top
    height = -min((place.bottom for place in places), default=0.0)
    side, end = MARGIN_MM * printer[0] / 100, MARGIN_MM * printer[1] / 100
    area = Bounds(side, end, side + max(STRIP_LEFT_MM + width, LEAST_SIZE_MM),
               end + max(STRIP_BELOW_MM + height, STRIP_BELOW_MM + LEAST_SIZE_MM))
    content = _content(area)
    return area, [
        _set(block.name, block.marks, content.left + place.left, content.top + place.top)
        for block, place in zip(blocks, places, strict=True)]


def _content(area: Bounds) -> Bounds:
    """What of the printable area is left for blocks."""
    return Bounds(area.left + STRIP_LEFT_MM, area.bottom + STRIP_BELOW_MM, area.right, area.top)


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


def _flowed(blocks: Sequence[Block], content: Bounds, overlap: float) -> list[list[Mark]]:
    """Pages with each block in the first room there is since the last new page.

    A block stands neither before nor above one of its own name: a table goes on after it began.
    """
    pages: list[list[Mark]] = []
    rooms: list[Room] = []
    begun: dict[str, tuple[int, Bounds]] = {}
    for block in blocks:
        marks = _fitted(block, content)
        if marks is None or block.new_page:
            rooms, begun = [], {}
        if marks is None:
            pages += _tiled(block, content, overlap, len(pages))
            continue
        open_pages = len(rooms)
        number, place = _place(rooms, begun.get(block.name), bounds(marks), content)
        if number == open_pages:
            pages.append([])
        begun[block.name] = number, place
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
