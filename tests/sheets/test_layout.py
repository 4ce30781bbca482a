"""The drawing of the table, read back and measured."""

import math
import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import nnls

from coper import Bent, Round, Tube, make_piece, plain_end
from coper.bench.layout.layout import Setting, Subject, make_layout
from coper.bicycle.standing import StandingWheel
from coper.bicycle.wheel import Wheel
from coper.drawing.bounds import bounds, leaves
from coper.drawing.marks import Path, Text
from coper.drawing.pdf import pdf_bytes
from coper.drawing.svg import svg_text
from coper.pages.compose import Block, compose
from coper.pages.grid import HIGH_MM, WIDE_MM, grid_blocks
from coper.pages.ink import ink_of, sampled
from coper.pages.labels import PointLabels
from coper.pages.paper import PAPERS
from coper.pages.scale_bar import scale_bar
from coper.pages.spread import spread
from coper.sheets.layout_drawing import SCALES, fitted_layout, layout_marks
from coper.telling.grid import Grid
from tests.drawing.readback import pdf_paths, svg_paths
from tests.profiles import examples


def piece(shape, start, end, name):
    tube = Tube(shape, start, end, name)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def frame(wheels=(), **setting):
    pieces = (piece(Round(20), (0, 0, 0), (-410, 0, 70), "stay"),
              piece(Round(28), (0, 0, 0), (-150, 0, 390), "seat-tube"),
              piece(Round(40), (0, -34, 0), (0, 34, 0), "shell"),
              piece(Bent(16, 110), (-370, 70, 300), (-370, -70, 300), "hoop"))
    return make_layout(Subject(pieces, {"axle": (-410, 0, 70)}, {}, wheels), Setting(**setting))


FRAME = frame()


def centre(paths, number):
    """Where the cross of a mark stands: both of its strokes cross in their middles."""
    names = [name for name in paths if re.fullmatch(rf"mark-{number}(-2)?", name)]
    assert len(names) == 2
    middles = [paths[name].mean(axis=0) for name in names]
    assert middles[0] == pytest.approx(middles[1], abs=2e-4)
    return middles[0]


def drawn(marks, paper="roll"):
    page, = compose([Block("layout", marks)], paper)
    return svg_paths(svg_text(page))


def test_at_full_size_the_marks_are_as_far_apart_as_on_the_table():
    paths = drawn(layout_marks(FRAME))
    for one in FRAME.spots:
        for other in FRAME.spots:
            apart = math.dist(centre(paths, one.number), centre(paths, other.number))
            assert apart == pytest.approx(math.dist(one.at, other.at), abs=0.02)


def test_every_mark_stands_as_far_from_edge_and_end_as_the_table_says():
    paths = drawn(layout_marks(FRAME))
    corner = paths["front-edge"][0]
    assert paths["left-end"][0] == pytest.approx(corner)
    for spot in FRAME.spots:
        assert centre(paths, spot.number) - corner == pytest.approx(spot.at, abs=0.02)


def test_the_pdf_at_full_size_holds_the_axis_from_mark_to_mark():
    page, = compose([Block("layout", layout_marks(FRAME))], "roll")
    ends = np.concatenate([line[[0, -1]] for line in pdf_paths(pdf_bytes((page,), "x"))])
    apart = np.linalg.norm(ends[:, None] - ends[None], axis=2)  # an axis leaves gaps at words
    for axis in FRAME.axes:
        one, other = (mark.at for mark in axis.marks)
        assert np.abs(apart - math.dist(one, other)).min() < 0.02


@pytest.mark.parametrize("paper", PAPERS)
def test_a_drawing_to_scale_is_true_to_its_scale_and_stands_on_one_page(paper):
    wheel = StandingWheel("rear", Wheel(293.5, 40), (-410, 0, 70))
    laid = frame((wheel,))
    marks = fitted_layout(laid, paper)
    said = next(mark.words for mark in leaves(marks)
                if isinstance(mark, Text) and mark.words.startswith("scale 1:"))
    scale, length = map(float, re.match(r"scale 1:(\d+); this bar is (\d+) mm", said).groups())
    assert scale in SCALES
    paths = drawn(marks, paper)
    assert np.linalg.norm(np.ptp(paths["front-edge"], axis=0)) == pytest.approx(
        laid.table.width / scale, abs=0.02)
    assert math.dist(*paths["scale-bar"]) == pytest.approx(length / scale, abs=0.02)
    wheel = np.concatenate([line for name, line in paths.items() if name.startswith("wheel-rear")])
    assert np.ptp(wheel, axis=0) == pytest.approx((587 / scale,) * 2, abs=0.02)


@pytest.mark.parametrize("name", ["seat-axis", "stay left", "axle"])
def test_no_tubes_name_moves_the_label_of_an_axis(name):
    axes = {"seat-axis": ((0.0, 0.0, 0.0), (-0.359, 0.0, 0.933))}
    stay, shell = ((0, 0, 0), (-410, 0, 70)), ((0, -34, 0), (0, 34, 0))
    first, second = (make_layout(Subject(
        (piece(Round(20), *stay, called), piece(Round(40), *shell, "shell")), {}, axes, ()),
        Setting()) for called in ("lower", name))
    places = [{text.words.split()[0]: text.at for text in leaves(layout_marks(laid))
               if isinstance(text, Text) and re.match(r"A\d ", text.words)}
              for laid in (first, second)]
    assert set(places[0]) == set(places[1]) == {"A1", "A2"}
    assert places[0]["A1"] == pytest.approx(places[1]["A1"], abs=1.0)


def test_the_next_larger_scale_would_not_stand_on_the_page():
    marks = fitted_layout(FRAME, "a4")
    width = np.ptp(next(mark.points for mark in leaves(marks)
                        if isinstance(mark, Path) and mark.name == "front-edge"), axis=0)[0]
    scale = round(FRAME.table.width / width)
    larger = SCALES[SCALES.index(scale) - 1]
    assert len(compose([Block("x", layout_marks(FRAME, larger))], "a4")) > 1


def test_a_bend_seen_edge_on_is_drawn_as_far_as_its_skin_reaches():
    # Chord 140 of radius 110: it bulges 110 - sqrt(110^2 - 70^2) to the front or the rear; at its
    # ends, where the axis leans 70 / 110, the skin reaches 8 times the cosine of that.
    hoop = FRAME.subject.pieces[3]
    outline = max((mark.points for mark in leaves(layout_marks(FRAME)) if isinstance(mark, Path)
                   and not mark.name and abs(mark.points[:, 1].mean() - 350 - 20) < 20),
                  key=len)
    assert hoop.tube.chord == 140
    reach = 110 - math.sqrt(110**2 - 70**2) + 8 + 8 * math.sqrt(1 - (70 / 110) ** 2)
    assert np.ptp(outline, axis=0) == pytest.approx((reach, 16), abs=0.01)


def test_what_of_a_wheel_is_off_the_table_is_not_drawn():
    wheel = StandingWheel("rear", Wheel(293.5, 40), (-410, 0, 70))
    marks = layout_marks(frame((wheel,), origin=(60, 60)))
    rim = [mark.points for mark in leaves(marks)
           if isinstance(mark, Path) and mark.name == "wheel-rear"]
    assert rim and min(points[:, 1].min() for points in rim) >= 0


@given(st.lists(st.floats(0, 100), max_size=12).map(sorted), st.floats(0.5, 12))
@examples(60)
def test_words_in_a_row_are_moved_by_the_least_squares_that_part_them(places, gap):
    """Against non-negative least squares: the first place, then what each gap is wider."""
    moved = np.array(spread(places, gap))
    count = len(places)
    if count == 0:
        assert moved.size == 0
        return
    assert (np.diff(moved) >= gap - 1e-9).all()
    steps = np.tril(np.ones((count, count)))
    steps = np.hstack((steps[:, :1], -steps[:, :1], steps[:, 1:]))
    _, left = nnls(steps, np.array(places) - gap * np.arange(count))
    assert np.linalg.norm(moved - places) == pytest.approx(left, abs=1e-6)


def test_labels_round_one_point_never_touch_and_give_way_to_their_numbers():
    low, high = np.zeros(2), np.full(2, 60.0)
    labels = PointLabels(low, high, ink_of([np.array(((0.0, 30.0), (60.0, 30.0)))], low, high))
    texts = [mark for n in range(60)
             for mark in labels.place(np.full(2, 30.0), (f"{n} a long name", str(n)))
             if isinstance(mark, Text)]
    boxes = [bounds((text,)) for text in texts]
    assert {len(text.words) > 2 for text in texts} == {True, False}
    for index, one in enumerate(boxes):
        assert one.left >= 0 and one.right <= 60 and one.bottom >= 0 and one.top <= 60
        for other in boxes[:index]:
            assert (one.right < other.left or other.right < one.left
                    or one.top < other.bottom or other.top < one.bottom)


@given(st.lists(st.tuples(st.floats(0, 60), st.floats(0, 40)), min_size=2, max_size=6),
       st.tuples(st.floats(0, 50), st.floats(0, 35)), st.tuples(st.floats(1, 30), st.floats(1, 5)))
@examples(60)
def test_the_ink_under_a_box_is_the_squares_counted_one_by_one(line, corner, size):
    line = np.array(line)
    ink = ink_of([line], np.zeros(2), np.array((60.0, 40.0)))
    corner, size = np.round(np.array(corner) * 2) / 2, np.round(np.array(size) * 2) / 2
    squares = {tuple(cell) for cell in np.floor(sampled([line]) / 0.5).astype(int).tolist()}
    low, high = corner / 0.5, (corner + size) / 0.5
    known = sum(low[0] <= x < high[0] and low[1] <= y < high[1] for x, y in squares)
    assert ink.under(corner[None], (corner + size)[None])[0] == pytest.approx(known * 0.5)


def test_words_without_room_beside_a_line_are_left_to_the_tables():
    rng = np.random.default_rng(3)
    pieces = tuple(piece(Round(20), (*rng.uniform(-500, 500, 3),), (*rng.uniform(-500, 500, 3),),
                         f"t{n}") for n in range(40))
    marks = fitted_layout(make_layout(Subject(pieces, {}, {}), Setting()), "a4")
    said = " ".join(mark.words for mark in leaves(marks) if isinstance(mark, Text))
    assert "what found no room beside a line" in said and re.search(r"scale 1:\d+;", said)
    assert len(compose([Block("x", marks)], "a4")) == 1


def test_a_table_of_words_is_cut_where_it_is_too_high_and_wrapped_where_it_is_too_wide():
    rows = tuple((f"name {n} " + "of many words " * 12, f"{n}.00", "and more words " * 9)
                 for n in range(40))
    parts = list(grid_blocks(Grid("Head", ("name", "length, mm", "what"), rows, "a note")))
    assert len(parts) > 1
    for part in parts:
        box = bounds(part)
        assert box.width <= WIDE_MM + 1e-6 and box.height <= HIGH_MM + 20
    said = " ".join(mark.words for part in parts for mark in leaves(part) if isinstance(mark, Text))
    assert all(f"{n}.00" in said for n in range(40))
    assert "Head, continued" in said


def test_heads_of_a_table_take_one_line_where_there_is_room_and_two_where_there_is_little():
    def heads(words):
        rows = (("1.00", "2.00", words),)
        grid = Grid("Head", ("from left, mm", "from front, mm", "point"), rows)
        part, = grid_blocks(grid)
        return [mark.words for mark in leaves(part) if isinstance(mark, Text)][1:-3]

    assert heads("short") == ["from left, mm", "from front, mm", "point"]
    assert heads("long words " * 12)[:4] == ["from", "left, mm", "from", "front, mm"]


def test_drawn_smaller_the_marks_are_numbers_and_the_key_below_or_the_tables_name_them():
    for scale, key, named in ((1, True, 1), (4, True, 1), (4, False, 0)):
        said = " ".join(mark.words for mark in leaves(layout_marks(FRAME, scale, key))
                        if isinstance(mark, Text))
        assert said.count(FRAME.spots[0].label) == named
        assert ("The tables say which point each number is" in said) == (not key)


@given(st.floats(1, 500))
@examples(40)
def test_the_scale_bar_is_a_round_length_that_fits(scale):
    bar = next(mark for mark in scale_bar(scale) if isinstance(mark, Path) and mark.name)
    true = (bar.points[1, 0] - bar.points[0, 0]) * scale
    assert float(f"{true:.6g}") in {step * 10.0**power for step in (1, 2, 5) for power in range(6)}
    assert 30 < true / scale <= 80 + 1e-9
