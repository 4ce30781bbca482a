"""Which way a rear end is out: from above its left is up, from behind its left is at the left."""

import numpy as np
import pytest

from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge
from coper.bicycle.tracking.tracking import TrackingReadings, track
from coper.drawing.svg import svg_text
from coper.sheets.tracking_picture import tracking_picture
from tests.sheets.groups import group_strokes, group_words

REAR = RearEnd(36.0, 28.6, 570.0, 410.0, 130.0, thickness=5.0, rim_radius=253.5)
LEFT = TrackingReadings(edge=LeftRight(56.5, 50.5))
RIGHT = TrackingReadings(edge=LeftRight(50.5, 56.5))


def picture(readings):
    return svg_text(tracking_picture(track(REAR, StraightEdge(), readings)))


def middle(text, name):
    points = group_strokes(text, name)[0]
    return (points.min(axis=0) + points.max(axis=0)) / 2


def out(text, side, behind=""):
    """How far a dropout stands from where it belongs (2,), mm."""
    return middle(text, f"dropout-{side}{behind}") - middle(text, f"true-{side}{behind}")


@pytest.mark.parametrize(("readings", "way"), [(LEFT, 1), (RIGHT, -1)], ids=["left", "right"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_a_rear_end_out_to_the_left_is_drawn_further_up_from_above_and_further_left_from_behind(
        readings, way, side):
    text = picture(readings)
    assert np.sign(out(text, side)[1]) == way and abs(out(text, side)[0]) < 1e-3
    assert np.sign(out(text, side, "-behind")[0]) == -way
    assert abs(out(text, side, "-behind")[1]) < 1e-3


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_arrow_goes_from_where_it_stands_to_where_it_belongs_and_its_words_say_the_way(side):
    for readings, words in ((LEFT, "3.00 mm to the right"), (RIGHT, "3.00 mm to the left")):
        text = picture(readings)
        for behind in ("", "-behind"):
            line = group_strokes(text, f"move-{side}{behind}")[0]
            assert line[1] - line[0] == pytest.approx(-out(text, side, behind), abs=1e-3)
            assert [one for one, _ in group_words(text, f"move-{side}{behind}")] == [words]


def test_the_left_dropout_is_above_the_right_one_and_from_behind_to_its_left():
    text = picture(LEFT)
    assert middle(text, "true-left")[1] > middle(text, "true-right")[1]
    assert middle(text, "true-left-behind")[0] < middle(text, "true-right-behind")[0]
    words = {one: at for one, at in group_words(text, "from-above") if one in ("left", "right")}
    assert words["left"][1] > words["right"][1]
    words = {one: at for one, at in group_words(text, "from-behind") if one in ("left", "right")}
    assert words["left"][0] < words["right"][0]


def test_a_longer_left_stay_points_the_rims_front_to_the_left():
    for stays, way in ((LeftRight(412.0, 411.0), 1), (LeftRight(411.0, 412.0), -1)):
        rear, front = group_strokes(picture(TrackingReadings(stays=stays)), "rim")[0]
        assert front[0] > rear[0] and np.sign(front[1] - rear[1]) == way


def test_dropouts_too_wide_apart_both_go_inward():
    text = picture(TrackingReadings(width=134.0))
    assert out(text, "left")[1] > 0 > out(text, "right")[1]
    assert out(text, "left", "-behind")[0] < 0 < out(text, "right", "-behind")[0]


def test_what_stands_well_has_no_arrow_and_nothing_read_no_picture():
    assert "move" not in picture(TrackingReadings(edge=LeftRight(53.36, 53.36)))
    assert tracking_picture(track(REAR, StraightEdge(), TrackingReadings())) is None


def test_a_quarter_inch_and_a_hundredth_of_a_mm_find_room():
    for by in (6.35, 0.02, 24.0):
        stands = out(picture(TrackingReadings(edge=LeftRight(53.5 + by, 53.5 - by))), "left")
        assert 0 < stands[1] <= 8.01
