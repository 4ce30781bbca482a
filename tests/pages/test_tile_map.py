"""The first tile has a map of all; every tile says where it is; letters stand clear of lines."""

import re
from itertools import pairwise

import numpy as np
import pytest

from coper.drawing.bounds import bounds, leaves, text_corners
from coper.drawing.hatch import hatch_strokes
from coper.drawing.marks import FINE, THIN, Group, Hatch, Path, Text
from coper.pages.compose import Block, compose
from coper.pages.ink import drawn_ink
from coper.pages.joins import join_marks
from coper.pages.tiles import tiles
from tests.pages.room import overlapping
from tests.pages.specimens import rectangle

OVERLAP = 10.0


def ruled(size, step):
    """A square with a line every ``step`` mm either way."""
    lines = [Path(np.array(((0.0, at), (size, at))), FINE) for at in np.arange(0, size, step)]
    lines += [Path(np.array(((at, 0.0), (at, size))), FINE) for at in np.arange(0, size, step)]
    return tuple(lines)


def struck(text, lines):
    """Whether a line (2, 2) runs through the box of a text, looked at every tenth of a mm."""
    corners = text_corners(text)
    low, high = corners.min(axis=0), corners.max(axis=0)
    share = np.linspace(0, 1, 5000)[:, None]
    points = [start + share * (end - start) for start, end in lines]
    return any(((one > low) & (one < high)).all(axis=1).any() for one in points)


def segments(marks):
    for mark in leaves(marks):
        if isinstance(mark, Path):
            ring = np.concatenate((mark.points, mark.points[: mark.closed]))
            yield from pairwise(ring)
        elif isinstance(mark, Hatch):
            yield from hatch_strokes(mark)


@pytest.mark.parametrize("upright", [False, True])
def test_the_letters_beside_a_join_stand_on_no_line_of_the_drawing(upright):
    # Lines 14 mm apart across half of the joins, and one through every place where letters stand
    # where nothing is drawn; in the other joins a line along them leaves no place that is clear.
    way = 1 if upright else 0
    at = np.append(np.arange(0.0, 420.0, 14.0), 420.0)
    cut = tiles(fence(at, way), 180.0, 250.0, OVERLAP)
    windows = [(tile.window.left, tile.window.right) if upright else
               (tile.window.bottom, tile.window.top) for tile in cut]
    usual = [low + share * (high - low) for low, high in windows for share in (0.2, 0.8)]
    drawing = fence(np.concatenate((at, usual)), way)
    letters = {(tile.column, tile.row): chr(65 + index) for index, tile in enumerate(cut)}
    lines, ink = list(segments(drawing)), drawn_ink(drawing)
    words = [mark for tile in cut for mark in leaves(join_marks(tile, letters, OVERLAP, ink))
             if isinstance(mark, Text) and mark.turn == (0.0 if upright else 90.0)]
    assert len(words) >= 4 * 2 * 3  # four letters on either page of a join
    assert not [text.words for text in words if struck(text, lines)]


def fence(at, way):
    """Lines across a square of 420 mm at places (n,), upright where ``way`` is 1; mm."""
    ends = np.array(((0.0, 0.0), (0.0, 420.0))) if way else np.array(((0.0, 0.0), (420.0, 0.0)))
    shift = np.array((1.0, 0.0) if way else (0.0, 1.0))
    return tuple(Path(ends + place * shift, FINE) for place in at)


def test_the_triangles_of_a_join_are_at_the_same_place_on_both_pages():
    drawing = ruled(420.0, 17.0)
    cut = tiles(drawing, 180.0, 250.0, OVERLAP)
    letters = {(tile.column, tile.row): chr(65 + at) for at, tile in enumerate(cut)}
    ink = drawn_ink(drawing)
    found = {}
    for tile in cut:
        for mark in leaves(join_marks(tile, letters, OVERLAP, ink)):
            if isinstance(mark, Path) and not mark.name:
                key = tuple(np.round(mark.points.mean(axis=0), 6))
                found[key] = found.get(key, 0) + 1
    assert len(found) == 2 * 7 and set(found.values()) == {2}


def tiled(marks, paper="a4"):
    return compose([Block("big", marks, keep_upright=True)], paper)


def words_of(page):
    return [mark for mark in leaves(page.marks) if isinstance(mark, Text)]


def map_of(page):
    """The map's cells: the page that is in each, by column and row, from 0."""
    cells = [mark.points for mark in leaves(page.marks)
             if isinstance(mark, Path) and mark.name == "tile"]
    lefts = sorted({round(float(cell[:, 0].min()), 3) for cell in cells})
    tops = sorted({round(float(cell[:, 1].max()), 3) for cell in cells}, reverse=True)
    found = {}
    for cell in cells:
        low, high = cell.min(axis=0), cell.max(axis=0)
        said, = (text.words for text in words_of(page)
                 if (text.at > low).all() and (text.at < high).all())
        found[lefts.index(round(float(low[0]), 3)), tops.index(round(float(high[1]), 3))] = said
    return found


CORNER = (Path(np.array(((0.0, 0.0), (0.0, 700.0), (500.0, 700.0))), THIN),
          Text((20.0, 650.0), "a corner", 3.5))


@pytest.mark.parametrize("paper", ["a4", "letter", "roll=300"])
def test_the_first_tile_maps_every_page_and_names_what_is_left_out(paper):
    pages = tiled(CORNER, paper)
    known = map_of(pages[0])
    for page in pages:
        place, = (text.words for text in words_of(page) if text.name == "place")
        row, column = map(int, re.fullmatch(r"row (\d+), column (\d+)", place).groups())
        assert known[column - 1, row - 1] == page.letter
    assert sorted(letter for letter in known.values() if letter != "–") == sorted(
        page.letter for page in pages)
    said = " ".join(text.words for text in words_of(pages[0]))
    assert f"big: {len(pages)} pages" in said and "so that the triangles meet" in said
    empty = [place for place, letter in known.items() if letter == "–"]
    assert len(known) == len(pages) + len(empty)
    assert paper == "roll=300" or empty
    for column, row in empty:
        assert f"row {row + 1}, column {column + 1}" in said.partition("Left out")[2]
    for page in pages[1:]:
        assert not map_of(page)


def test_the_map_and_the_names_of_the_tiles_stand_on_no_line_and_on_no_words():
    for drawing in (CORNER, ruled(500.0, 70.0)):
        for page in tiled(drawing):
            assert not overlapping(page.marks)
            content = [mark for mark in page.marks
                       if isinstance(mark, Group) and mark.name == "big"]
            lines = list(segments(mark for mark in leaves(content)
                                  if not (isinstance(mark, Path) and mark.name == "tile")))
            for text in leaves(content):
                if isinstance(text, Text) and text.words != "a corner":
                    assert not struck(text, lines), text.words


def test_where_no_room_is_clear_the_tiles_are_lower_and_the_map_stands_below_the_first():
    width, height = 186.0 * 2 - 20.0, 268.0 * 2 - 30.0
    full = (Hatch((rectangle(0.0, 0.0, width, height),), 3.0, 30.0),
            Path(rectangle(0.0, 0.0, width, height), THIN, closed=True))
    pages = tiled(full)
    said = [text for text in words_of(pages[0]) if text.words.startswith("big: ")]
    assert len(said) == 1 and not overlapping(pages[0].marks)
    assert not struck(said[0], list(segments(pages[0].marks)))
    box = bounds(pages[0].marks)
    assert box.bottom >= 0 and box.right <= pages[0].width


def test_a_drawing_in_very_many_tiles_says_where_its_pages_are_in_words():
    long = (Path(rectangle(0.0, 0.0, 80.0, 6000.0), THIN, closed=True),)
    pages = tiled(long)
    assert len(pages) > 20 and not map_of(pages[0])
    said = " ".join(text.words for text in words_of(pages[0]))
    assert f"A to {pages[-1].letter}, in {len(pages)} rows and 1 columns" in said
