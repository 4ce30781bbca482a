"""The card's sketch is what one sees at the fixture: heel up, the end to the right, no mirror."""

import json

import numpy as np
import pytest

from coper import Box, Joint, Round
from coper.joint.saw.kit import choose_saws
from coper.sheets.setup_card import joint_card
from coper.sheets.setup_card_marks import card_marks
from tests.cli.run import run
from tests.pages.room import path, paths, texts

ACUTE = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
OBTUSE = Joint(Round(28.6, 0.9), Round(38.1), 118, 3)
TURNED = Joint(Round(28.6, 0.9), Round(38.1), 62, 3, turn=40)
BOX = Joint(Box(30, 20, 2, 1.5), Round(40), 70, turn=25)


def marks_of(joint, saw=44.45):
    card = joint_card(joint, choose_saws(joint, (saw,), depth=200).choices[0])
    return card_marks(card), card.cuts[0]


def edge(joint, clock):
    """The outside edge by the design's check formula: along, and height towards the heel."""
    c, a = np.radians(clock), np.radians(joint.angle)
    along = (np.sqrt(19.05**2 - (joint.offset + 14.3 * np.sin(c)) ** 2)
             + 14.3 * np.cos(c) * np.cos(a)) / np.sin(a)
    return along, 14.3 * np.cos(c) * (1 if joint.angle <= 90 else -1)


def scale_of(marks, wide):
    """The side view's mm of paper a mm, and the place of the tube's axis."""
    far = path(marks, "tube")
    return np.ptp(far[:, 1]) / wide, far[:, 1].mean()


@pytest.mark.parametrize("joint", [ACUTE, OBTUSE, TURNED], ids=str)
def test_the_cut_is_drawn_with_its_heel_up_and_its_end_to_the_right(joint):
    # The main's own saw: the cut is the cope. Clock here counts from the main's + end.
    marks, _ = marks_of(joint, 38.1)
    scale, axis = scale_of(marks, 28.6)
    clock = np.arange(0, 360, 0.5)
    along, up = edge(joint, clock)
    long = along.min()
    drawn = np.concatenate([one.points for one in (*paths(marks, "cut"),
                                                   *paths(marks, "cut-behind"))])
    right = drawn[:, 0].max()
    for x, y in drawn[::7]:
        near = np.hypot((along - long) * scale - (right - x), up * scale - (y - axis)).min()
        assert near < 0.1
    assert path(marks, "tube")[:, 0].max() < drawn[:, 0].min()  # its far end is at the left


@pytest.mark.parametrize("joint", [ACUTE, OBTUSE, TURNED], ids=str)
def test_what_one_sees_of_the_cut_is_the_near_side_and_what_is_behind_is_dashed(joint):
    # The heel up and the end to the right, the near side is what lies to the left as one looks at
    # the end: a tube that points to the viewer's right shows him its own left.
    marks, _ = marks_of(joint, 38.1)
    scale, axis = scale_of(marks, 28.6)
    towards_heel = 1 if joint.angle <= 90 else -1
    sides = {}
    for name, clocks in (("low", np.arange(180, 361, 0.5)), ("high", np.arange(0, 181, 0.5))):
        along, up = edge(joint, clocks)
        sides[name] = np.stack((along, up), axis=-1)
    # Looking at the end one looks up the tube, where the clock runs clockwise: right of an up
    # heel is clock heel + 90.
    left = "low" if towards_heel > 0 else "high"
    along_min = edge(joint, np.arange(0, 360, 0.5))[0].min()
    right = max(one.points[:, 0].max() for name in ("cut", "cut-behind")
                for one in paths(marks, name))
    for name, side in (("cut", left), ("cut-behind", "high" if left == "low" else "low")):
        points = np.concatenate([one.points for one in paths(marks, name)])
        for x, y in points[::5]:
            off = np.hypot((sides[side][:, 0] - along_min) * scale - (right - x),
                           sides[side][:, 1] * scale - (y - axis)).min()
            assert off < 0.1


@pytest.mark.parametrize(("joint", "side"), [(ACUTE, "left"), (OBTUSE, "right")])
def test_the_saws_axis_stands_on_the_side_of_the_mains_axis_as_one_looks_at_the_end(joint, side):
    # A positive offset has the branch on clock 90's side of the main, so the main, and the saw,
    # on clock 270's. Seen into the end the clock runs clockwise: with clock 0 up 270 is left, with
    # clock 180 up it is right.
    marks, _ = marks_of(joint, 38.1)
    axis, heel = path(marks, "saw-beside-1"), path(marks, "heel")
    rim = path(marks, "rim")
    sideways = (axis[0, 0] - heel[0, 0]) / np.ptp(rim[:, 0]) * 28.6
    assert sideways == pytest.approx(-3 if side == "left" else 3, abs=0.01)
    assert heel[:, 1].min() >= rim[:, 1].max() - 1e-6  # the heel's mark is on top


def test_a_turned_boxs_end_is_drawn_as_seen_and_not_mirrored():
    # The box's first side points 25 degrees on from the heel, clockwise into the end: 25 degrees
    # to the right of up.
    marks, _ = marks_of(BOX, 44.45)
    rim = path(marks, "rim")
    middle = (rim.min(axis=0) + rim.max(axis=0)) / 2
    points = rim - middle
    turn = np.radians(25)
    first = points @ (np.sin(turn), np.cos(turn))
    second = points @ (np.cos(turn), -np.sin(turn))
    assert np.ptp(first) / np.ptp(second) == pytest.approx(30 / 20, rel=1e-3)
    mirrored = points @ (-np.sin(turn), np.cos(turn))
    assert np.ptp(mirrored) != pytest.approx(np.ptp(first), rel=0.01)


def test_the_saw_setting_places_the_axis_past_the_long_point_on_the_side_of_the_end():
    status, out, _ = run("saw", "28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3",
                         "--kit", "38.1", "--json")
    assert status == 0
    found = json.loads(out)["saw"]
    # The main's axis passes the branch's at along 0; the long point lies short of it, up the tube.
    long = edge(ACUTE, np.arange(0, 360, 0.01))[0].min()
    assert found["centre_beyond_long_point"] == pytest.approx(long, abs=1e-5)
    marks, _ = marks_of(ACUTE, 38.1)
    assert path(marks, "saw-place")[0, 0] > path(marks, "blank-end")[0, 0]


@pytest.mark.parametrize(("joint", "side"), [(ACUTE, "left"), (OBTUSE, "right")])
def test_the_words_below_the_end_name_the_side_on_which_the_axis_is_drawn(joint, side):
    marks, _ = marks_of(joint, 38.1)
    said = [text.words for text in texts(marks) if text.words.startswith("3.00 mm ")]
    assert f"3.00 mm {side}" in said
    assert not any(words.endswith({"left": "right", "right": "left"}[side]) for words in said)


@pytest.mark.parametrize("joint", [ACUTE, OBTUSE], ids=str)
def test_the_arc_runs_from_the_line_square_to_the_tube_to_the_saws_axis(joint):
    marks, _ = marks_of(joint, 38.1)
    arc, square, axis = (path(marks, name) for name in ("angle", "square", "saw-axis-1"))
    way = (axis[1] - axis[0]) / np.linalg.norm(axis[1] - axis[0])
    off = (arc[-1] - axis[0]) @ (-way[1], way[0])
    assert arc[0, 0] == pytest.approx(square[0, 0], abs=1e-6)
    assert off == pytest.approx(0, abs=1e-6) and arc[-1, 1] > square[:, 1].min()
