"""A shaped end from any side: no side swapped, true to its cut, what the wall hides is dashed."""

from itertools import pairwise

import numpy as np
import pytest

from coper import Round, Tube, make_piece, plain_end, shape_end
from coper.drawing.bounds import bounds
from coper.drawing.marks import CUT, HIDDEN, LINE, Group
from coper.frame.end_joint import end_joint
from coper.frame.end_skin import end_skin
from coper.frame.flat_end import face_end
from coper.sheets.end_view import FIRST, WIDE_MM, end_stage, end_view_page
from coper.sheets.frame_view import Look
from tests.frame.test_end_sides import MAIN, WIDE, overhanging
from tests.pages.room import overlapping, texts

STRAIGHT = Look(0, 90)


def piece_of(tube, end):
    ends = {one: plain_end(tube, one) for one in ("start", "end")} | {end.which: end}
    return make_piece(tube, ends["start"], ends["end"])


def staged(tube, end):
    mains = [make_piece(main, plain_end(main, "start"), plain_end(main, "end"))
             for main in end.mains if isinstance(main, Tube)]
    return end_stage(piece_of(tube, end), end, end_joint(tube, end), mains)


def group(page, name):
    return next(mark for mark in page.marks if isinstance(mark, Group) and mark.name == name)


def foot(page, name):
    """Where the line at a clock begins, at the edge, from the middle of the picture."""
    return group(page, name).marks[0].points[0] - WIDE_MM / 2


@pytest.mark.parametrize(("which", "side"), [("start", 1), ("end", -1)])
def test_straight_into_an_end_the_open_side_and_clock_90_are_where_one_has_them(which, side):
    # Clock 0, towards +y and the main's + end, is up. Clock 90 faces -x: looked at from below,
    # into the start, that is to the right; from above, into the end, to the left.
    page = end_view_page(staged(*overhanging(which)), STRAIGHT)
    assert np.sign(foot(page, "clock-90")[0]) == side
    assert np.sign(foot(page, "clock-270")[0]) == -side
    assert foot(page, "main +")[1] > 1 and abs(foot(page, "main +")[0]) < 1e-6
    line = group(page, "open-1").marks[0].points - WIDE_MM / 2
    assert (np.sign(line[:, 0]) == side).all()
    words = [text.words for text in texts(page.marks)]
    assert "open 17.4 to 162.6" in words and "0 (main +)" in words and "90" in words


def test_the_edge_is_as_wide_as_the_tube_and_lies_on_the_main():
    tube, end = overhanging("end")
    stage = staged(tube, end)
    page = end_view_page(stage, STRAIGHT)
    edge = np.concatenate([path.points for path in group(page, "edge").marks if path.pen == CUT])
    off = np.hypot(*(edge - WIDE_MM / 2).T) / stage.scale
    assert off == pytest.approx(WIDE / 2)
    skin, main = stage.skin, end.mains[0]
    for points, radius in ((skin.outer[~skin.open], WIDE / 2), (skin.inner, WIDE / 2 - 1.2)):
        assert np.hypot(points[:, 0], points[:, 1]) == pytest.approx(radius)
        there = skin.pose.outward(points) - main.start
        met = np.hypot(there[:, 0], there[:, 2])
        near = np.abs(skin.pose.outward(points)[:, 0] - main.start[0]) < MAIN / 2 - 0.1
        assert met[near] == pytest.approx(MAIN / 2, abs=1e-6)


LEAN = 57.0


def leaning(which, cut="bevelled", turn=0.0):
    """A tube at 57 degrees to the + end of a main along x."""
    ahead = np.array((np.cos(np.radians(LEAN)), 0.0, np.sin(np.radians(LEAN)))) * 300
    main = Tube(Round(40, 2), (-200, 0, 0), (200, 0, 0), "main")
    ends = ((0, 0, 0), ahead) if which == "start" else (ahead, (0, 0, 0))
    tube = Tube(Round(30, 1), *ends, "strut", turn=turn)
    return tube, shape_end(tube, which, [main], cut)


@pytest.mark.parametrize("turn", [0.0, 77.0])
@pytest.mark.parametrize("which", ["start", "end"])
def test_the_heel_is_where_the_main_and_the_tube_stand_at_the_acute_angle(which, turn):
    stage = staged(*leaning(which, turn=turn))
    for look, side in ((Look(90, 0), -1), (Look(-90, 0), 1)):
        page = end_view_page(stage, look)
        assert np.sign(foot(page, "heel")[0]) == side == -np.sign(foot(page, "toe")[0])
        line = max((path.points for path in group(page, "main").marks), key=lambda points:
                   np.hypot(*(points[-1] - points[0])))
        way = line[-1] - line[0]
        way *= side * np.sign(way[0])  # along the main, towards the heel's side; the body is below
        assert np.degrees(np.arccos(-way[1] / np.hypot(*way))) == pytest.approx(LEAN, abs=1e-3)
    up = end_view_page(stage, FIRST)
    assert foot(up, "heel")[1] > foot(up, "toe")[1] and abs(foot(up, "heel")[0]) < 0.01


@pytest.mark.parametrize("which", ["start", "end"])
def test_clocks_run_as_one_sees_them_run_on_that_end(which):
    page = end_view_page(staged(*leaning(which, turn=30)), STRAIGHT)
    at = [foot(page, f"clock-{clock}") for clock in (0, 90, 180, 270)]
    turn = [np.sign(one[0] * other[1] - one[1] * other[0])
            for one, other in pairwise(at)]
    # looked at from the start to the end clock grows clockwise; into the end, the other way
    assert turn == [-1 if which == "start" else 1] * 3


def length(page, pen):
    """Of the lines of the edges that are drawn with a pen, on paper."""
    return sum(np.hypot(*np.diff(path.points, axis=0).T).sum()
               for path in group(page, "edge").marks if path.pen == pen)


def test_from_above_a_flat_end_is_seen_all_round_and_from_below_its_near_half_alone():
    tube = Tube(Round(30, 1), (0, 0, 0), (0, 0, 200), "post")
    stage = staged(tube, face_end(tube, "end", np.array((0.2, 0, 1.0))))
    skin, above, below = stage.skin, Look(35, 50), Look(35, -40)
    for edge in (skin.outer, skin.inner):
        assert not skin.hidden(edge, stage.view(above).towards).any()
    towards = stage.view(below).towards
    assert skin.hidden(skin.inner, towards).all()
    facing = skin.outer[:, :2] @ (skin.pose.axes @ towards)[:2]
    sure = abs(facing) > 0.7  # not where the skin turns away from the eye
    assert (skin.hidden(skin.outer, towards) == (facing < 0))[sure].all()
    page = end_view_page(stage, below)
    assert length(page, CUT) == pytest.approx(length(page, HIDDEN), rel=0.25)
    assert length(page, LINE) == 0 < length(end_view_page(stage, above), LINE)


def test_a_high_side_hides_what_is_low_behind_it():
    # The toe is the long point: from its side, level, it hides the heel; from the heel's, nothing
    # hides the toe, whose bore is seen.
    tube, end = leaning("start")
    skin, stage = (found := staged(tube, end)).skin, found
    clock = np.radians(skin.clock)
    heel = np.cos(clock - np.radians(end_joint(tube, end).heel_clock))
    at_toe, at_heel = (stage.view(Look(turn, 0)).towards for turn in (0, 180))
    assert skin.hidden(skin.outer[heel > 0.7], at_toe).all()
    assert not skin.hidden(skin.outer[heel < -0.7], at_toe).any()
    assert not skin.hidden(skin.outer[heel > 0.7], at_heel).any()
    assert not skin.hidden(skin.inner[heel < -0.7], at_heel).any()
    assert skin.hidden(skin.inner[heel < -0.7], at_toe).all()


def test_a_square_cut_has_both_edges_at_one_height_and_a_bevelled_one_has_not():
    for cut, alike in (("square", True), ("bevelled", False)):
        tube, end = leaning("start", cut)
        skin = end_skin(piece_of(tube, end), "start", end.cope_cut)
        assert np.allclose(skin.outer[:, 2], skin.inner[:, 2]) == alike


@pytest.mark.parametrize("look", [FIRST, STRAIGHT, Look(90, 0), Look(-50, 20), Look(130, -45)])
def test_everything_is_in_the_picture_and_no_words_meet(look):
    for tube, end in (overhanging("start"), leaning("end")):
        page = end_view_page(staged(tube, end), look)
        box = bounds(page.marks)
        assert box.left >= -1e-9 and box.bottom >= -1e-9
        assert box.right <= WIDE_MM + 1e-9 and box.top <= WIDE_MM + 1e-9
        assert not overlapping(page.marks)
