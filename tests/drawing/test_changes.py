"""Bounds of marks, and marks moved, turned, scaled and cut."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.drawing.bounds import Bounds, bounds, leaves
from coper.drawing.changes import clipped, moved, scaled, turned90
from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import text_width
from coper.drawing.marks import FINE, THIN, Group, Hatch, Path, Text
from tests.pages.specimens import area, circle, length, rectangle, strip

SEEDS = st.integers(0, 2**32 - 1)
ANCHORS = ["left", "middle", "right"]


def sides(box):
    return np.array((box.left, box.bottom, box.right, box.top))


def some_line(seed, count=40):
    return np.random.default_rng(seed).uniform(-50.0, 50.0, (count, 2))


def test_bounds_reach_round_every_point_of_every_group():
    inner = Path(np.array(((3.0, -7.0), (4.0, 2.0))), THIN)
    outer = Hatch((rectangle(-1.0, 0.0, 2.0, 9.0),), 1.0)
    assert bounds((Group((Group((inner,)), outer)),)) == Bounds(-1.0, -7.0, 4.0, 9.0)


@pytest.mark.parametrize(("anchor", "start"), [("left", 0.0), ("middle", -0.5), ("right", -1.0)])
def test_a_text_reaches_from_its_anchor_a_capital_up_and_a_quarter_down(anchor, start):
    width = text_width("heel", 4.0)
    box = bounds((Text((10.0, 20.0), "heel", 4.0, anchor),))
    left = 10.0 + start * width
    np.testing.assert_allclose(sides(box), (left, 19.0, left + width, 24.0))


@pytest.mark.parametrize("anchor", ANCHORS)
def test_a_text_turned_by_90_reaches_up_instead_of_right(anchor):
    flat = bounds((Text((0.0, 0.0), "heel", 4.0, anchor),))
    upright = bounds((Text((0.0, 0.0), "heel", 4.0, anchor, turn=90.0),))
    expected = (-flat.top, flat.left, -flat.bottom, flat.right)
    np.testing.assert_allclose(sides(upright), expected, atol=1e-12)


def test_no_marks_have_no_bounds():
    with pytest.raises(ValueError, match="no marks"):
        bounds((Group(()),))


@given(dx=st.floats(-300, 300), dy=st.floats(-300, 300))
def test_moving_moves_the_bounds_by_as_much(dx, dy):
    marks = strip(80.0, 40.0)
    shift = np.array((dx, dy, dx, dy))
    after = sides(bounds(moved(marks, dx, dy)))
    np.testing.assert_allclose(after, sides(bounds(marks)) + shift, atol=1e-9)


def test_four_quarter_turns_bring_every_mark_back():
    marks = strip(80.0, 40.0)
    back = turned90(turned90(turned90(turned90(marks))))
    for before, after in zip(leaves(marks), leaves(back), strict=True):
        np.testing.assert_allclose(
            sides(bounds((after,))), sides(bounds((before,))), atol=1e-9
        )


def test_a_quarter_turn_turns_the_bounds_of_all_kinds_of_marks():
    for mark in leaves(strip(80.0, 40.0)):
        box, turned = bounds((mark,)), bounds(turned90((mark,)))
        expected = (-box.top, box.left, -box.bottom, box.right)
        np.testing.assert_allclose(sides(turned), expected, atol=1e-9)


def test_a_quarter_turn_turns_the_strokes_of_a_hatch_with_it():
    hatch = Hatch((circle(0.0, 0.0, 20.0),), 3.0, 20.0)
    (turned,) = turned90((hatch,))
    run = np.diff(hatch_strokes(turned), axis=1)[:, 0]
    slopes = np.degrees(np.arctan2(run[:, 1], run[:, 0])) % 180
    np.testing.assert_allclose(slopes, 110.0, atol=1e-6)


def test_scaling_multiplies_lengths_each_way_and_keeps_a_text_at_its_anchor():
    line = Path(np.array(((10.0, 20.0), (30.0, 60.0))), THIN)
    flat = Text((10.0, 20.0), "heel", 4.0)
    upright = Text((10.0, 20.0), "heel", 4.0, turn=90.0)
    larger, first, second = scaled((line, flat, upright), 1.02, 0.97)
    np.testing.assert_allclose(larger.points, ((10.2, 19.4), (30.6, 58.2)))
    assert first.at == pytest.approx((10.2, 19.4))
    assert first.height == second.height == pytest.approx(4.0 * 0.97)


@given(seed=SEEDS)
def test_a_line_cut_along_a_border_keeps_its_length(seed):
    line = Path(some_line(seed), THIN, closed=True, name="edge")
    parts = [
        piece
        for box in (Bounds(-60, -60, 7.3, 60), Bounds(7.3, -60, 60, 60))
        for piece in clipped((line,), box)
    ]
    whole = length(np.concatenate((line.points, line.points[:1])))
    assert sum(length(part.points) for part in parts) == pytest.approx(whole, rel=1e-12)
    assert {part.name for part in parts} == {"edge"}


@given(seed=SEEDS)
def test_an_area_cut_along_a_border_keeps_its_area(seed):
    ring = circle(3.1, -4.7, 30.0) + np.random.default_rng(seed).uniform(-20, 20, 2)
    halves = (Bounds(-99, -99, 99, 1.7), Bounds(-99, 1.7, 99, 99))
    parts = [part for box in halves for part in clipped((Path(ring, THIN, True, True),), box)]
    assert all(part.fill and part.closed for part in parts)
    assert sum(area(part.points) for part in parts) == pytest.approx(area(ring), rel=1e-12)


@given(seed=SEEDS)
def test_nothing_that_was_cut_leaves_its_box(seed):
    box = Bounds(-21.7, -13.3, 17.9, 24.1)
    ring = some_line(seed)
    marks = (
        Path(ring, THIN), Path(ring, THIN, closed=True, fill=True), Hatch((ring,), 2.0),
        Text(tuple(ring[0]), "heel", 3.0, turn=33.0),
    )
    cut = clipped((Group(marks),), box)
    if cut:
        assert box.holds(bounds(cut))


def test_what_lies_outside_is_gone_and_its_group_as_well():
    far = Group((Path(np.array(((5.0, 5.0), (6.0, 6.0))), THIN), Text((9.0, 9.0), "toe", 2.5)))
    assert clipped((far,), Bounds(0.0, 0.0, 1.0, 1.0)) == ()


def test_a_line_that_leaves_and_comes_back_is_cut_in_two():
    points = np.array(((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)))
    first, second = clipped((Path(points, THIN),), Bounds(0.0, -1.0, 2.0, 9.0))
    np.testing.assert_allclose(first.points, ((0.0, 0.0), (2.0, 0.0)))
    np.testing.assert_allclose(second.points, ((2.0, 3.0), (0.0, 3.0)))


def test_a_text_is_kept_whole_or_not_at_all():
    text = Text((0.0, 0.0), "heel", 4.0)
    box = bounds((text,))
    assert clipped((text,), box) == (text,)
    assert clipped((text,), Bounds(box.left, box.bottom, box.right - 0.01, box.top)) == ()


@pytest.mark.parametrize(
    "points", [np.zeros((1, 2)), np.zeros((4, 3)), np.zeros(4), np.array(((0.0, np.nan), (1, 1)))]
)
def test_a_line_of_no_length_shape_or_place_is_refused(points):
    with pytest.raises(ValueError, match="path 'edge'"):
        Path(points, THIN, name="edge")


def test_a_text_without_height_and_a_hatch_without_spacing_are_refused():
    with pytest.raises(ValueError, match="height"):
        Text((0.0, 0.0), "heel", 0.0)
    with pytest.raises(ValueError, match="height"):
        Text((np.inf, 0.0), "heel", 2.5)
    with pytest.raises(ValueError, match="spacing"):
        Hatch((rectangle(0, 0, 1, 1),), 0.0, 45.0, FINE)
    with pytest.raises(ValueError, match="hatch"):
        Hatch((np.zeros((2, 2)),), 1.0)
