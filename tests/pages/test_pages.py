"""Blocks on pages: everything inside the margins, and bars that tell whether the print is true."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.drawing.bounds import Bounds, bounds, leaves
from coper.drawing.letters import text_width
from coper.drawing.marks import THIN, Group, Path, Text
from coper.drawing.svg import svg_text
from coper.errors import CoperError
from coper.pages.compose import Block, compose, page_count
from coper.pages.furniture import strip_right
from coper.pages.paper import MARGIN_MM, PAPERS, page_letter
from tests.pages.specimens import length, rectangle, strip
from tests.profiles import examples

BARS = st.floats(90.0, 110.0)
SIZES = st.tuples(st.floats(20.0, 450.0), st.floats(20.0, 450.0))


def frame(width, height):
    return (Path(rectangle(17.0, -5.0, width, height), THIN, closed=True),)


def group(page, name):
    (found,) = (m for m in page.marks if isinstance(m, Group) and m.name == name)
    return found


def path(page, name):
    (found,) = (m for m in leaves(page.marks) if isinstance(m, Path) and m.name == name)
    return found


def names(page):
    return [mark.name for mark in page.marks if mark.name != "furniture"]


def words(page):
    return [mark.words for mark in leaves(page.marks) if isinstance(mark, Text)]


@examples(30)
@given(
    sizes=st.lists(SIZES, max_size=4), paper=st.sampled_from([*PAPERS, "roll"]),
    bars=st.tuples(BARS, BARS),
)
def test_all_marks_of_every_page_stay_inside_the_margin(sizes, paper, bars):
    blocks = [Block(f"strip {index}", strip(*size)) for index, size in enumerate(sizes)]
    for page in compose(blocks, paper, bars, title="a title that is too long " * 9):
        inside = Bounds(MARGIN_MM, MARGIN_MM, page.width - MARGIN_MM, page.height - MARGIN_MM)
        assert inside.holds(bounds(page.marks))


@examples(30)
@given(sizes=st.lists(SIZES, min_size=1, max_size=5), paper=st.sampled_from([*PAPERS, "roll"]))
def test_blocks_never_touch_each_other_the_bars_or_the_foot_line(sizes, paper):
    blocks = [Block(f"block-{index}", frame(*size)) for index, size in enumerate(sizes)]
    for page in compose(blocks, paper, title="title"):
        furniture = [bounds((mark,)) for mark in group(page, "furniture").marks]
        taken = [bounds((mark,)) for mark in page.marks if mark.name != "furniture"]
        for index, one in enumerate(taken):
            for other in (*taken[index + 1 :], *furniture):
                assert (
                    one.right < other.left or other.right < one.left
                    or one.top < other.bottom or other.top < one.bottom
                )


@pytest.mark.parametrize("paper", [*PAPERS, "roll"])
def test_every_page_has_bars_of_100_mm_with_ticks_and_labels(paper):
    for page in compose([Block("large", strip(700.0, 500.0))], paper, title="title"):
        across, along = path(page, "check-across").points, path(page, "check-along").points
        np.testing.assert_allclose(np.diff(across, axis=0), ((100.0, 0.0),), atol=1e-9)
        np.testing.assert_allclose(np.diff(along, axis=0), ((0.0, 100.0),), atol=1e-9)
        assert "100 mm across: measure me" in words(page)
        assert "100 mm along: measure me" in words(page)
        unnamed = [m.points for m in group(page, "furniture").marks
                   if isinstance(m, Path) and not m.name]
        for bar, axis in ((across, 0), (along, 1)):
            feet = sorted(tick[0, axis] - bar[0, axis] for tick in unnamed
                          if np.ptp(tick[:, axis]) < 1e-9)
            np.testing.assert_allclose(feet, np.arange(0.0, 101.0, 10.0), atol=1e-9)
            tall = [length(tick) for tick in unnamed if np.ptp(tick[:, axis]) < 1e-9]
            assert min(tall[0], tall[-1]) > max(tall[1:-1])


@given(bars=st.tuples(BARS, BARS))
def test_a_printer_that_printed_the_bars_wrong_prints_the_next_ones_true(bars):
    (page,) = compose([Block("frame", frame(80.0, 60.0))], "a4", bars, title="title")
    stretch = np.array(bars) / 100
    assert (page.width, page.height) == pytest.approx(PAPERS["a4"])
    for line, size in ((path(page, "check-across"), 100.0), (path(page, "check-along"), 100.0)):
        assert length(line.points * stretch) == pytest.approx(size)
    box = bounds(group(page, "frame").marks)
    assert (box.width * stretch[0], box.height * stretch[1]) == pytest.approx((80.0, 60.0))


@examples(15)
@given(bars=st.tuples(BARS, BARS))
def test_a_printer_that_enlarges_about_the_middle_prints_nothing_into_the_margin(bars):
    for page in compose([Block("strip", strip(400.0, 600.0))], "a4", bars, title="title"):
        middle, stretch = np.array((page.width, page.height)) / 2, np.array(bars) / 100
        box = bounds(page.marks)
        low = middle + (np.array((box.left, box.bottom)) - middle) * stretch
        high = middle + (np.array((box.right, box.top)) - middle) * stretch
        assert (low >= MARGIN_MM - 1e-9).all()
        assert (high <= 2 * middle - MARGIN_MM + 1e-9).all()


def test_blocks_go_side_by_side_then_below_then_onto_the_next_page():
    blocks = [Block(name, frame(80.0, 100.0)) for name in "abcde"]
    first, second = compose(blocks, "a4", title="title")
    assert (names(first), names(second)) == (["a", "b", "c", "d"], ["e"])
    a, b, c = (bounds(group(first, name).marks) for name in "abc")
    assert a.top == b.top > c.top
    assert a.left == c.left < b.left


def test_a_block_that_is_too_wide_is_turned_by_a_quarter():
    (page,) = compose([Block("wide", frame(230.0, 60.0))], "a4", title="title")
    box = bounds(group(page, "wide").marks)
    assert (box.width, box.height) == pytest.approx((60.0, 230.0))


def test_a_block_that_must_stay_upright_is_cut_into_tiles_instead():
    pages = compose([Block("wide", frame(230.0, 60.0), keep_upright=True)], "a4", title="title")
    assert len(pages) == 2
    assert all(length(path(page, "join-A-B").points) == pytest.approx(60.0) for page in pages)


def test_tiles_are_cut_the_way_that_needs_fewer_pages():
    assert len(compose([Block("long", frame(460.0, 170.0))], "a4", title="title")) == 2


def test_tiles_have_pages_of_their_own_and_name_their_neighbours_by_page_letter():
    blocks = [
        Block("first", frame(50.0, 50.0)), Block("long", frame(50.0, 600.0)),
        Block("last", frame(50.0, 50.0)),
    ]
    pages = compose(blocks, "a4", title="title")
    assert [names(page) for page in pages] == [["first"], ["long"], ["long"], ["long"], ["last"]]
    joins = [
        {m.name for m in leaves(page.marks) if isinstance(m, Path) and "join" in m.name}
        for page in pages
    ]
    assert joins == [set(), {"join-B-C"}, {"join-B-C", "join-C-D"}, {"join-C-D"}, set()]
    assert [sum(m.name == "crop" for m in leaves(page.marks)) for page in pages] == [0, 4, 4, 4, 0]


def test_a_narrow_block_in_tiles_keeps_its_lettering_inside_the_margin():
    for page in compose([Block("rod", frame(900.0, 1.0))], "a4", title="title"):
        inside = Bounds(MARGIN_MM, MARGIN_MM, page.width - MARGIN_MM, page.height - MARGIN_MM)
        assert inside.holds(bounds(page.marks))


def test_a_roll_is_one_page_as_large_as_its_blocks():
    blocks = [Block("wide", strip(900.0, 60.0)), Block("high", strip(50.0, 700.0))]
    (page,) = compose(blocks, "roll", title="title")
    wide, high = (bounds(group(page, name).marks) for name in ("wide", "high"))
    assert (wide.width, high.height) == pytest.approx((900.0, 700.0), abs=5.0)
    assert page.width == pytest.approx(wide.right + strip_right() + MARGIN_MM)
    assert wide.bottom > high.top


def test_a_small_block_on_a_roll_still_gets_both_bars():
    (page,) = compose([Block("small", frame(5.0, 5.0))], "roll", title="title")
    assert path(page, "check-across").points.shape == (2, 2)
    assert page.width > 100.0 + 2 * MARGIN_MM
    assert page.height > 100.0 + 2 * MARGIN_MM


def test_the_foot_line_says_title_page_and_how_to_print():
    pages = compose([Block("long", frame(50.0, 600.0))], "a4", title="seat stay, left")
    for page, letter in zip(pages, "ABC", strict=True):
        assert page.letter == letter
        assert "seat stay, left" in words(page)
        (foot,) = (said for said in words(page) if said.startswith("page "))
        assert re.fullmatch(
            rf"page {letter} of 3 · code [2-9A-Z]{{6}} · print at 100 %, no scaling", foot)


def test_a_title_that_is_too_long_is_shortened_before_the_page_number():
    (page,) = compose([], "letter", title="a long title " * 20)
    title, foot = (
        next(m for m in leaves(page.marks) if m.name == name) for name in ("title", "page")
    )
    assert title.words.endswith("…")
    end = title.at[0] + text_width(title.words, title.height)
    assert end < foot.at[0] - text_width(foot.words, foot.height)


def test_without_blocks_there_is_one_page_with_its_bars():
    (page,) = compose([], "a4")
    assert names(page) == []
    assert length(path(page, "check-across").points) == pytest.approx(100.0)


def test_pages_are_lettered_a_to_z_and_then_aa():
    letters = [page_letter(index) for index in (0, 25, 26, 27, 51, 52, 701, 702)]
    assert letters == ["A", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA"]


def test_the_name_of_a_paper_may_be_written_in_capitals():
    (page,) = compose([], "A3")
    assert (page.width, page.height) == PAPERS["a3"]


@pytest.mark.parametrize(
    ("case", "place", "hint"),
    [
        ({"paper": "a44"}, "paper", "did you mean a4"),
        ({"paper": "foolscap"}, "paper", "a3, a4, legal, letter, roll"),
        ({"printer": (89.9, 100.0)}, "printer", "across"),
        ({"printer": (100.0, 110.1)}, "printer", "along"),
        ({"printer": (float("nan"), 100.0)}, "printer", "across"),
        ({"overlap": 3.0}, "overlap", "7.45 to 50 mm"),
        ({"overlap": float("nan")}, "overlap", "7.45 to 50 mm"),
        ({"overlap": 51.0}, "overlap", "7.45 to 50 mm"),
    ],
)
def test_what_no_page_can_be_made_with_is_refused_with_its_place_and_cure(case, place, hint):
    with pytest.raises(CoperError, match=hint) as caught:
        compose([], **{"paper": "a4", "title": "title", **case})
    assert caught.value.where == place


def test_a_block_that_begins_a_page_stands_on_no_page_with_others():
    blocks = [Block("one", frame(30.0, 20.0)), Block("two", frame(30.0, 20.0), new_page=True),
              Block("three", frame(30.0, 20.0))]
    pages = compose(blocks, "a4", title="title")
    names = [{mark.name for mark in page.marks} & {"one", "two", "three"} for page in pages]
    assert names == [{"one"}, {"two", "three"}]


def test_a_small_block_fills_what_larger_ones_before_it_left():
    blocks = [Block("a", frame(80.0, 250.0)), Block("b", frame(150.0, 200.0)),
              Block("c", frame(90.0, 40.0))]
    first, second = compose(blocks, "a4", title="title")
    assert (names(first), names(second)) == (["a", "c"], ["b"])
    a, c = (bounds(group(first, name).marks) for name in "ac")
    assert c.left > a.right and c.top == pytest.approx(a.top)


def test_a_block_goes_no_page_back_past_what_it_continues_or_one_that_begins_a_page():
    table = [Block("a", frame(80.0, 250.0)), Block("table", frame(150.0, 250.0)),
             Block("table", frame(80.0, 40.0), continued=True)]
    assert [names(page) for page in compose(table, "a4")] == [["a"], ["table"], ["table"]]
    begun = [Block("a", frame(80.0, 100.0)), Block("b", frame(150.0, 250.0), new_page=True),
             Block("c", frame(80.0, 40.0))]
    assert [names(page) for page in compose(begun, "a4")] == [["a"], ["b"], ["c"]]


def test_on_a_roll_blocks_stand_side_by_side_and_a_new_page_is_another_piece_of_it():
    blocks = [Block("wide", frame(200.0, 50.0)), Block("a", frame(90.0, 80.0)),
              Block("b", frame(90.0, 30.0)), Block("c", frame(60.0, 20.0), new_page=True)]
    first, second = compose(blocks, "roll", title="title")
    assert (names(first), names(second)) == (["wide", "a", "b"], ["c"])
    a, b = (bounds(group(first, name).marks) for name in "ab")
    assert b.left > a.right and b.top == pytest.approx(a.top)
    assert second.width < first.width


def test_blocks_that_share_a_name_by_chance_are_laid_out_as_if_they_had_two():
    blocks = [Block("a", frame(80.0, 250.0)), Block("b", frame(150.0, 250.0)),
              Block("b", frame(80.0, 40.0))]
    assert [names(page) for page in compose(blocks, "a4")] == [["a", "b"], ["b"]]


@pytest.mark.parametrize("paper", ["a4", "roll"])
def test_parts_that_begin_a_page_are_laid_out_alone_as_they_are_in_the_whole(paper):
    parts = [[Block("x", frame(80.0, 250.0))],
             [Block("y", frame(400.0, 600.0), new_page=True)],
             [Block("z", frame(150.0, 250.0), new_page=True), Block("z", frame(20.0, 20.0))]]
    counts = [page_count(part, paper) for part in parts]
    alone = [page for number, part in enumerate(parts) for page in compose(
        part, paper, title="stack", before=sum(counts[:number]), after=sum(counts[number + 1:]),
        code="SAME22")]
    whole = compose([block for part in parts for block in part], paper, title="stack",
                    code="SAME22")
    assert list(map(svg_text, alone)) == list(map(svg_text, whole))
    assert len(whole) == sum(counts) >= 3


def test_a_block_stands_no_higher_than_the_one_it_continues_on_the_same_page():
    blocks = [Block("a", frame(90.0, 30.0)), Block("row", frame(180.0, 30.0)),
              Block("row", frame(40.0, 30.0), continued=True)]
    for paper in ("a4", "roll"):
        (page,) = compose(blocks, paper)
        first, second = (bounds((mark,)) for mark in page.marks if mark.name == "row")
        assert second.top < first.bottom
