"""A block as it fits a page: as it is, turned by a quarter, or cut into tiles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coper.drawing.bounds import Bounds, bounds
from coper.drawing.changes import moved, turned90
from coper.drawing.marks import NOTE_HEIGHT, Mark, Text
from coper.pages.count import tile_count
from coper.pages.gapped import gapped_at
from coper.pages.ink import Ink, drawn_ink
from coper.pages.joins import crop_marks, join_marks
from coper.pages.paper import page_letter
from coper.pages.room import GAP_MM, SLACK_MM
from coper.pages.tile_map import Place, place_words, tile_maps
from coper.pages.tiles import Tile, tiles

MOST_TILES: Final = 150
"""Pages of one block: nobody glues more together. A drawing at full size has as many at most."""

ROUNDS: Final = 3
"""How often tiles are cut: lower ones may be more, and their map longer by a line."""

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


@dataclass(frozen=True, slots=True)
class _Cut:
    """A drawing in tiles, laid as they are the fewest, and the ink of all of it."""

    tiles: tuple[Tile, ...]
    ink: Ink

    def letters(self, first: int) -> dict[Place, str]:
        """The letter of every tile's page, ``first`` pages standing before them."""
        return {(tile.column, tile.row): page_letter(first + index)
                for index, tile in enumerate(self.tiles)}


def cut_up(
    marks: tuple[Mark, ...], upright: bool, size: Size, overlap: float, first: int, name: str
) -> list[tuple[Mark, ...]]:
    """The tiles, laid as they are the fewest, with the marks to join and to cut them by.

    ``first`` is how many pages stand before them. The first tile has a map of all, headed
    ``name``: beside the tile, or clear of all lines on it. Where there is no such room, all tiles
    are lower by what it takes.
    """
    width, height = size
    lower = height
    for _ in range(ROUNDS):
        cut = _cut(marks, upright, (width, lower), overlap)
        letters = cut.letters(first)
        pages = [(*tile.marks, *gapped_at((
            *join_marks(tile, letters, overlap, cut.ink), *crop_marks(tile.window)), tile.marks))
            for tile in cut.tiles]
        maps = list(tile_maps(name, letters))
        placed = _placed(maps, cut.tiles[0].window, size, overlap, pages[0])
        if placed is not None:
            pages[0] += placed
            break
        lower = height - bounds(maps[-1]).height - 2 * GAP_MM
    return [(*page, *_named(tile, overlap, page))
            for tile, page in zip(cut.tiles, pages, strict=True)]


def _cut(marks: tuple[Mark, ...], upright: bool, size: Size, overlap: float) -> _Cut:
    found = _Cut(tiles(marks, *size, overlap), drawn_ink(marks))
    if upright:
        return found
    turned = turned90(marks)
    other = tiles(turned, *size, overlap)
    return _Cut(other, drawn_ink(turned)) if len(other) < len(found.tiles) else found


def _placed(
    maps: Sequence[tuple[Mark, ...]], window: Bounds, size: Size, overlap: float,
    page: tuple[Mark, ...],
) -> tuple[Mark, ...] | None:
    """The first of ``maps`` that finds room on the page of ``window``, there."""
    ink, inside = drawn_ink(page), _within(window, overlap)
    for marks in maps:
        box = bounds(marks)
        wide, high = box.width + GAP_MM, box.height + GAP_MM
        if window.width + wide <= size[0] and box.height <= size[1]:
            place = window.right + GAP_MM, window.top
        elif window.height + high <= size[1] and box.width <= size[0]:
            place = window.left, window.bottom - GAP_MM
        else:
            clear = ink.clear_place(inside, wide, high)
            if clear is None:
                continue
            place = clear[0] + GAP_MM / 2, clear[1] - GAP_MM / 2
        return moved(marks, place[0] - box.left, place[1] - box.top)
    return None


def _named(tile: Tile, overlap: float, page: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """By which row and column a tile is, where there is clear room for that on its page."""
    words = Text((0.0, 0.0), place_words((tile.column, tile.row)), NOTE_HEIGHT, name="place")
    box = bounds((words,))
    clear = drawn_ink(page).clear_place(
        _within(tile.window, overlap), box.width + NOTE_HEIGHT, box.height + NOTE_HEIGHT)
    if clear is None:
        return ()
    return moved((words,), clear[0] + NOTE_HEIGHT / 2 - box.left,
                 clear[1] - NOTE_HEIGHT / 2 - box.top)


def _within(window: Bounds, overlap: float) -> Bounds:
    """What of a window no neighbour has as well, mm."""
    return Bounds(window.left + overlap, window.bottom + overlap,
                  window.right - overlap, window.top - overlap)
