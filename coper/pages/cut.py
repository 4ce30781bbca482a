"""A block as it fits a page: as it is, turned by a quarter, or cut into tiles."""

from __future__ import annotations

from typing import Final

from coper.drawing.bounds import bounds
from coper.drawing.changes import turned90
from coper.drawing.marks import Mark
from coper.pages.count import tile_count
from coper.pages.paper import page_letter
from coper.pages.room import SLACK_MM
from coper.pages.tiles import crop_marks, join_marks, tiles

MOST_TILES: Final = 150
"""Pages of one block: nobody glues more together. A drawing at full size has as many at most."""

Size = tuple[float, float]
"""What a page has for a block: width and height, mm."""


def fitted(marks: tuple[Mark, ...], upright: bool, size: Size) -> tuple[Mark, ...] | None:
    """Marks as they fit a page, turned if need be; ``None`` where they never fit.

    ``upright`` is whether they may not be turned.
    """
    box, (width, height) = bounds(marks), size
    wide, high = width + SLACK_MM, height + SLACK_MM
    if box.width <= wide and box.height <= high:
        return marks
    if not upright and box.height <= wide and box.width <= high:
        return turned90(marks)
    return None


def pages_of(marks: tuple[Mark, ...], upright: bool, size: Size, overlap: float) -> int:
    """About how many pages marks are cut into, laid as they need the fewest."""
    width, height = size
    count = tile_count(marks, width, height, overlap)
    return count if upright else min(count, tile_count(marks, height, width, overlap))


def cut_up(
    marks: tuple[Mark, ...], upright: bool, size: Size, overlap: float, first: int
) -> list[tuple[Mark, ...]]:
    """The tiles, laid as they are the fewest, with the marks to join and to cut them by.

    ``first`` is how many pages stand before them.
    """
    width, height = size
    cut = tiles(marks, width, height, overlap)
    if not upright:
        cut = min(cut, tiles(turned90(marks), width, height, overlap), key=len)
    letters = {
        (tile.column, tile.row): page_letter(first + index) for index, tile in enumerate(cut)
    }
    return [(*tile.marks, *join_marks(tile, letters, overlap), *crop_marks(tile.window))
            for tile in cut]
