"""The frame from any side: what is where, as large from each, and the marked places at theirs."""

import numpy as np
import pytest

from coper import Round, Tube, make_piece, plain_end, read_job
from coper.drawing.bounds import bounds
from coper.drawing.marks import Group, Path
from coper.job.frame import make_pieces
from coper.sheets.frame_view import LOOKS, Look, Place, frame_view_page, stage_of
from tests.cli.test_job import DEMO
from tests.pages.room import overlapping, texts

WAYS = {"middle": (0.0, 0.0, 0.0), "front": (90.0, 0.0, 0.0), "left": (0.0, 60.0, 0.0),
        "up": (0.0, 0.0, 40.0), "back": (-90.0, 0.0, 0.0), "right": (0.0, -60.0, 0.0),
        "down": (0.0, 0.0, -40.0)}
"""Points either way of the origin, so that it is the middle of the picture."""


def group(page, name):
    return next(mark for mark in page.marks if isinstance(mark, Group) and mark.name == name)


def middle(one):
    return next(mark for mark in one.marks if isinstance(mark, Path)).points.mean(axis=0)


def seen(look):
    """How far each of the ways is from the middle, in mm of the frame, right and up."""
    stage = stage_of((), WAYS)
    page = frame_view_page(stage, look)
    at = {name: middle(group(page, f"point-{name}")) for name in WAYS}
    return {name: (at[name] - at["middle"]) / stage.scale for name in WAYS}


@pytest.mark.parametrize(("look", "right", "up"), [
    (Look(), "front", "up"), (Look(0, 90), "front", "left"), (Look(-90, 0), "left", "up"),
    (Look(180, 0), "back", "up"), (Look(90, 0), "right", "up"), (Look(0, -90), "front", "right"),
    (Look(-90, 90), "left", "back")])
def test_each_side_has_what_belongs_there_to_its_right_and_on_top(look, right, up):
    found = seen(look)
    assert found[right] == pytest.approx([np.linalg.norm(WAYS[right]), 0], abs=1e-6)
    assert found[up] == pytest.approx([0, np.linalg.norm(WAYS[up])], abs=1e-6)


def test_turned_round_and_up_a_point_is_where_plain_trigonometry_has_it():
    turn, rise = np.radians((30.0, 20.0))
    found = seen(Look(30, 20))
    # the frame turned by 30 about the upright: the front goes to its left, then 20 are looked down
    across, away = 90 * np.cos(turn), 90 * np.sin(turn)
    assert found["front"] == pytest.approx([across, away * np.sin(rise)])
    across, away = 60 * np.sin(turn), -60 * np.cos(turn)
    assert found["right"] == pytest.approx([across, away * np.sin(rise)])
    assert found["up"] == pytest.approx([0, 40 * np.cos(rise)], abs=1e-9)


def test_what_is_near_goes_with_the_finger_to_the_right_and_down():
    before, after = seen(Look(0, 10))["right"], seen(Look(5, 15))["right"]
    assert after[0] > before[0] and after[1] < before[1]


@pytest.mark.parametrize("number", range(len(LOOKS)))
def test_a_side_that_has_a_name_is_written_as_what_is_seen(number):
    words, look = LOOKS[number]
    page = frame_view_page(stage_of((), WAYS), look)
    said = [mark.words for mark in texts(page.marks)]
    assert words in said
    found = seen(look)
    for arrow, (across, up) in (("→", (1, 0)), ("←", (-1, 0)), ("↑", (0, 1))):
        for part in words.partition(":")[2].split(","):
            if arrow in part:
                way = "front" if "front" in part else "left"
                assert np.sign(found[way].round(6)).tolist() == [across, up]


def test_the_three_arrows_point_as_the_frame_is_turned():
    page = frame_view_page(stage_of((), WAYS), Look(-35, 25))
    marks, found = group(page, "seen").marks, seen(Look(-35, 25))
    for line, text in zip(marks[::2], marks[1::2], strict=True):
        ahead = line.points[1] - line.points[0]
        way = found[text.words]
        assert ahead / np.linalg.norm(ahead) == pytest.approx(way / np.linalg.norm(way))


@pytest.fixture(scope="module")
def demo():
    job = read_job(DEMO)
    return stage_of(make_pieces(job), {**job.bicycle.points, **job.points})


@pytest.mark.parametrize("look", [*(look for _, look in LOOKS), Look(-37, 24), Look(141, -66)])
def test_the_demo_stays_in_a_picture_of_one_size_and_no_words_meet(demo, look):
    page = frame_view_page(demo, look)
    whole = bounds(page.marks)
    assert page.width == 120 and page.height == pytest.approx(frame_view_page(demo, Look()).height)
    assert whole.left >= 0 and whole.bottom >= 0
    assert whole.right <= page.width and whole.top <= page.height
    assert not overlapping(page.marks)


def test_every_tube_of_the_demo_is_one_group_with_its_twin_and_the_chosen_one_is_on_top(demo):
    page = frame_view_page(demo, Look(), chosen="chain-stay")
    names = [mark.name for mark in page.marks if mark.name.startswith("tube-")]
    assert sorted(names) == sorted({f"tube-{piece.tube.name}" for piece in demo.pieces})
    assert names[-1] == "tube-chain-stay"
    above = frame_view_page(demo, Look(0, 90))
    box = bounds([mark for mark in group(above, "tube-chain-stay").marks
                  if isinstance(mark, Path)])
    assert box.height > 2 * 60 * demo.scale  # the left one and the right one


def bar(name, start, end):
    tube = Tube(Round(30, wall=1), start, end, name)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def test_start_and_end_of_the_tube_in_hand_are_said_at_their_points():
    stage = stage_of([bar("bar", (-100, 0, 0), (100, 0, 0)), bar("other", (0, 0, 0), (0, 0, 50))],
                     {})
    page = frame_view_page(stage, Look(), chosen="bar")
    start, end = group(page, "at-start"), group(page, "at-end")
    assert middle(end)[0] - middle(start)[0] == pytest.approx(200 * stage.scale)
    assert [text.words for text in texts([start, end])] == ["start", "end"]
    assert not [mark for mark in frame_view_page(stage, Look()).marks if "at-" in mark.name]


def test_a_marked_place_is_at_its_point_and_between_two_there_is_a_line():
    stage = stage_of((), WAYS)
    page = frame_view_page(stage, Look(-90, 0), places=[
        Place((WAYS["left"],), "here"), Place((WAYS["left"], WAYS["up"]), "1.5 mm")])
    origin = middle(group(page, "point-middle"))
    assert middle(group(page, "place-1")) == pytest.approx(
        origin + np.array((60, 0)) * stage.scale)
    line = group(page, "place-2").marks[2]
    assert line.points == pytest.approx(
        origin + np.array(((60, 0), (0, 40))) * stage.scale)
    assert {"here", "1.5 mm"} <= {text.words for text in texts(page.marks)}


def test_one_point_alone_is_a_picture():
    page = frame_view_page(stage_of((), {"a": (5.0, 5.0, 5.0)}), Look())
    assert middle(group(page, "point-a")) == pytest.approx((page.width / 2, page.height / 2))


def test_more_points_than_two_are_one_dashed_line_without_spots():
    stage = stage_of((), WAYS)
    ring = tuple(WAYS[name] for name in ("front", "up", "back"))
    page = frame_view_page(stage, Look(), places=[Place(ring), Place(ring[:2])])
    parts = group(page, "place-1").marks  # cut at the names of the points
    assert all(mark.pen.dash and not mark.closed for mark in parts)
    ends = np.stack((parts[0].points[0], parts[-1].points[-1])) - (page.width / 2, page.height / 2)
    assert ends == pytest.approx(stage.seen(Look().view, np.array(ring)[[0, -1]]))
    assert not any(mark.pen.dash for mark in group(page, "place-2").marks)
