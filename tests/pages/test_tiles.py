"""A drawing in tiles is the drawing, once the tiles are joined again."""

from collections import defaultdict

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.drawing.bounds import Bounds, bounds, leaves
from coper.drawing.changes import clipped
from coper.drawing.marks import THIN, Hatch, Path, Text
from coper.pages.ink import drawn_ink
from coper.pages.joins import crop_marks, join_marks
from coper.pages.tiles import LEAST_OVERLAP_MM, tiles
from tests.pages.specimens import circle, length, rectangle, strip
from tests.profiles import examples

SEEDS = st.integers(0, 2**32 - 1)
SIZES = st.floats(60.0, 190.0)
OVERLAPS = st.floats(LEAST_OVERLAP_MM, 25.0)
FAR = 1e4


def kept(tile, places, overlap):
    """What stays of a tile's window when it is cut along its join lines."""
    window, half = tile.window, overlap / 2
    at = (tile.column, tile.row)
    return Bounds(
        window.left + half if (at[0] - 1, at[1]) in places else -FAR,
        window.bottom + half if (at[0], at[1] + 1) in places else -FAR,
        window.right - half if (at[0] + 1, at[1]) in places else FAR,
        window.top - half if (at[0], at[1] - 1) in places else FAR,
    )


def some_drawing(seed):
    """Named lines that cross the whole drawing, a closed one, and words, all at random."""
    chance = np.random.default_rng(seed)
    size = chance.uniform(30.0, 420.0, 2)
    lines = [
        Path(chance.uniform(0.0, 1.0, (12, 2)) * size, THIN, index == 0, name=f"line-{index}")
        for index in range(4)
    ]
    words = [
        Text(tuple(chance.uniform(0.0, 1.0, 2) * size), f"word {index}", 3.5,
             turn=float(chance.uniform(0, 360)))
        for index in range(25)
    ]
    frame = Path(rectangle(0.0, 0.0, *size), THIN, closed=True, name="frame")
    return (frame, *lines, *words)


@examples(40)
@given(seed=SEEDS, width=SIZES, height=SIZES, overlap=OVERLAPS)
def test_tiles_cut_along_their_join_lines_give_back_the_length_of_every_line(
    seed, width, height, overlap
):
    drawing = some_drawing(seed)
    cut = tiles(drawing, width, height, overlap)
    places = {(tile.column, tile.row) for tile in cut}
    found = defaultdict(float)
    for tile in cut:
        for mark in leaves(clipped(tile.marks, kept(tile, places, overlap))):
            if isinstance(mark, Path):
                ring = np.concatenate((mark.points, mark.points[: mark.closed]))
                found[mark.name] += length(ring)
    for mark in drawing:
        if isinstance(mark, Path):
            whole = length(np.concatenate((mark.points, mark.points[: mark.closed])))
            assert found[mark.name] == pytest.approx(whole, rel=1e-9)


@examples(40)
@given(seed=SEEDS, width=SIZES, height=SIZES, overlap=OVERLAPS)
def test_every_text_stands_whole_on_a_tile_and_in_its_place_wherever_it_fits(
    seed, width, height, overlap
):
    drawing = some_drawing(seed)
    cut = tiles(drawing, width, height, overlap)
    for text in (mark for mark in drawing if isinstance(mark, Text)):
        extent = bounds((text,))
        shown = {
            (tile.column, tile.row): mark
            for tile in cut for mark in leaves(tile.marks)
            if isinstance(mark, Text) and mark.words == text.words
        }
        holding = {(tile.column, tile.row) for tile in cut if tile.window.holds(extent)}
        assert shown
        if holding:
            assert shown == dict.fromkeys(holding, text)


@examples(40)
@given(seed=SEEDS, width=SIZES, height=SIZES, overlap=OVERLAPS)
def test_nothing_leaves_its_window_and_no_window_is_larger_than_asked(
    seed, width, height, overlap
):
    for tile in tiles(some_drawing(seed), width, height, overlap):
        assert tile.window.width <= width + 1e-5
        assert tile.window.height <= height + 1e-5
        assert tile.window.holds(bounds(tile.marks))


def test_neighbours_share_exactly_the_overlap_and_the_first_row_is_the_upper_one():
    found = tiles(strip(330.0, 400.0), 180.0, 250.0, 12.0)
    cut = {(tile.column, tile.row): tile.window for tile in found}
    assert set(cut) == {(0, 0), (1, 0), (0, 1), (1, 1)}
    assert cut[0, 0].right - cut[1, 0].left == pytest.approx(12.0)
    assert cut[0, 1].top - cut[0, 0].bottom == pytest.approx(12.0)
    assert cut[0, 0].top > cut[0, 1].top


def test_a_drawing_that_fits_is_one_tile():
    (tile,) = tiles(strip(80.0, 40.0), 180.0, 250.0, 10.0)
    assert (tile.column, tile.row) == (0, 0)


def test_windows_without_marks_are_left_out():
    corner = np.array(((0.0, 0.0), (0.0, 400.0), (400.0, 400.0)))
    cut = tiles((Path(corner, THIN),), 150.0, 150.0, 10.0)
    assert {(tile.column, tile.row) for tile in cut} == {(0, 0), (1, 0), (2, 0), (0, 1), (0, 2)}


def test_a_text_that_no_window_holds_moves_by_the_least_amount_into_the_one_with_its_middle():
    frame = Path(rectangle(0.0, 0.0, 190.0, 50.0), THIN, closed=True)
    text = Text((97.0, 20.0), "a text across the join", 3.5, "middle")
    extent = bounds((text,))
    left, right = tiles((frame, text), 100.0, 60.0, 10.0)
    assert not any(isinstance(mark, Text) for mark in left.marks)
    (moved,) = (mark for mark in right.marks if isinstance(mark, Text))
    assert moved.at[0] - text.at[0] == pytest.approx(right.window.left - extent.left)
    assert moved.at[1] == text.at[1]


def test_a_text_longer_than_a_window_is_made_to_fit():
    frame = Path(rectangle(0.0, 0.0, 190.0, 50.0), THIN, closed=True)
    text = Text((95.0, 20.0), "a very long text " * 6, 3.5, "middle")
    shown = [
        (tile, mark)
        for tile in tiles((frame, text), 100.0, 60.0, 10.0)
        for mark in tile.marks if isinstance(mark, Text)
    ]
    ((tile, mark),) = shown
    assert tile.window.holds(bounds((mark,)))
    assert mark.words == text.words


def test_a_hatch_in_tiles_keeps_its_strokes_in_line():
    hatch = Hatch((circle(90.0, 90.0, 90.0),), 4.0, 30.0)
    turn = np.radians(30.0)
    for tile in tiles((hatch,), 100.0, 100.0, 10.0):
        aside = np.concatenate([mark.points for mark in tile.marks]) @ (-np.sin(turn), np.cos(turn))
        np.testing.assert_allclose(aside / 4.0, np.round(aside / 4.0), atol=1e-9)


def test_both_pages_of_a_join_carry_the_same_line_with_the_same_letters():
    cut = tiles(strip(330.0, 400.0), 180.0, 250.0, 12.0)
    letters = dict(zip([(tile.column, tile.row) for tile in cut], "ABCD", strict=True))
    joins = defaultdict(list)
    for tile in cut:
        for mark in join_marks(tile, letters, 12.0, drawn_ink(strip(330.0, 400.0))):
            if isinstance(mark, Path) and mark.name:
                joins[mark.name].append(mark.points)
    assert set(joins) == {"join-A-B", "join-C-D", "join-A-C", "join-B-D"}
    for first, second in joins.values():
        np.testing.assert_allclose(first, second, atol=1e-9)


def test_join_marks_stay_in_the_window_even_at_the_least_overlap():
    cut = tiles(strip(330.0, 400.0), 180.0, 250.0, LEAST_OVERLAP_MM)
    letters = {(tile.column, tile.row): "AB" for tile in cut}
    for tile in cut:
        joins = join_marks(tile, letters, LEAST_OVERLAP_MM, drawn_ink(strip(330.0, 400.0)))
        assert tile.window.holds(bounds(joins))


def test_crop_marks_have_their_corners_at_the_corners_of_the_window():
    window = Bounds(1.0, 2.0, 51.0, 72.0)
    corners = {tuple(mark.points[1]) for mark in crop_marks(window)}
    assert corners == {(1.0, 2.0), (51.0, 2.0), (51.0, 72.0), (1.0, 72.0)}
    assert window.holds(bounds(crop_marks(window)))
