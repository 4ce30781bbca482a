"""The frame's picture: true to its scale, every tube named once, no words on words."""

import numpy as np
import pytest

from coper import Round, Tube, make_piece, plain_end, read_job, shape_end
from coper.drawing.bounds import bounds
from coper.drawing.marks import Group, Path
from coper.job.frame import make_pieces
from coper.sheets.frame_picture import HIGH_MM, WIDE_MM, frame_marks
from coper.sheets.joint_picture import JOINT_MM, joint_marks
from tests.cli.test_job import DEMO
from tests.pages.room import overlapping, texts


@pytest.fixture(scope="module")
def pieces():
    return make_pieces(read_job(DEMO))


def group(marks, name):
    return next(mark for mark in marks if isinstance(mark, Group) and mark.name == name)


def bar(length, name="bar"):
    tube = Tube(Round(30, wall=1), (0, 0, 0), (length, 0, length / 2), name)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def test_every_tube_of_the_demo_is_named_once_and_no_words_meet(pieces):
    marks = frame_marks(pieces)
    said = [text.words for text in texts(marks)]
    for name in {piece.tube.name for piece in pieces}:
        assert said.count(name) == 1
    assert not overlapping(marks)


@pytest.mark.parametrize("length", [30.0, 200.0, 900.0, 4000.0, 30000.0])
def test_a_frame_of_any_size_fits_and_is_drawn_to_the_scale_that_it_says(length):
    marks = frame_marks([bar(length)])
    said = next(text.words for text in texts(marks) if "drawn 1:" in text.words)
    scale = float(said.partition("drawn 1:")[2])
    box = bounds(group(marks, "from-right").marks)
    assert box.width <= WIDE_MM and bounds(marks).height <= HIGH_MM + 30
    # A tube of 30 mm that climbs 1 in 2: its shadow is its length and its width's share.
    assert box.width * scale == pytest.approx(length + 30 * np.sin(np.arctan(0.5)), rel=1e-3)


@pytest.mark.parametrize("words", ["rail, start on shell", "a-tube-of-a-very-long-name " * 9])
def test_a_joint_fits_its_square_and_its_name_stands_below_it(words):
    shell = bar(80.0, "shell")
    tube = Tube(Round(20, wall=1), (40, 0, 20), (40, 300, 40), "rail")
    rail = make_piece(tube, shape_end(tube, "start", [shell.tube]), plain_end(tube, "end"))
    marks = joint_marks(rail, rail.start, {("shell", "centre"): shell}, words)
    square = bounds([mark for mark in marks if isinstance(mark, Path)])
    assert square.width == pytest.approx(JOINT_MM) and square.height == pytest.approx(JOINT_MM)
    assert square.holds(bounds(group(marks, "joint").marks))
    box = bounds(texts(marks))
    assert box.width <= JOINT_MM and box.top <= square.bottom


def hoop_frame():
    rail = Tube(Round(30, wall=1), (0, 200, 0), (900, 200, 0), "rail", side="left")
    cross = Tube(Round(30, wall=1), (50, 200, 0), (50, -200, 0), "cross")
    post = Tube(Round(30, wall=1), (800, 0, 0), (800, 0, 250), "post")
    hoop = Tube(Round(30, wall=1), (400, 200, 0), (400, -200, 0), "hoop",
                corners=((400, 200, 500), (400, -200, 500)), radii=(100, 100))
    return [make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
            for tube in (rail, rail.mirrored(), cross, post, hoop)]


@pytest.mark.parametrize(("flat", "named"), [
    (False, {"from-right": {"rail", "post", "hoop"}, "from-above": {"cross"}}),
    (True, {"from-right": {"post"}, "from-above": {"rail", "cross", "hoop"}})])
def test_a_tube_is_named_where_it_is_seen_best_and_of_a_flat_frame_in_the_plan(flat, named):
    marks = frame_marks(hoop_frame(), flat)
    for view, names in named.items():
        said = {text.words for text in texts(group(marks, f"names-{view}").marks)}
        assert names <= said and len(said) == len(names) + 1
    assert not overlapping(marks)


def test_the_three_views_are_drawn_to_one_scale_and_a_hoop_is_seen_from_the_front():
    marks = frame_marks(hoop_frame())
    said = next(text.words for text in texts(marks) if "drawn 1:" in text.words)
    scale = float(said.partition("drawn 1:")[2])
    sizes = {}
    for name in ("from-right", "from-above", "from-front"):
        box = bounds(group(marks, name).marks)
        sizes[name] = np.array((box.width, box.height)) * scale
    # Rails from 0 to 900, at 200 to either side; the hoop's axis is 500 high; 15 is half a tube.
    assert sizes["from-right"] == pytest.approx((900, 500 + 30), abs=0.1)
    assert sizes["from-above"] == pytest.approx((900, 400 + 30), abs=0.1)
    assert sizes["from-front"] == pytest.approx((400 + 30, 500 + 30), abs=0.1)
    words = " ".join(text.words for text in texts(marks))
    for view in ("from the right: front →", "from above: front →, its left ↑",
                 "from the front: its left →"):
        assert view in words
