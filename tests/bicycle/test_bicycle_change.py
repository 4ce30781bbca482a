"""Another fork, other wheels, another rear end in the same frame."""

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from coper.bicycle.change import Change, changed
from coper.bicycle.measures import measure
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.errors import CoperError
from tests.bicycle.test_bicycle import REAR, WHOLE, bicycle, scipys_standing
from tests.profiles import examples

DONOR = bicycle(**WHOLE)


def test_another_fork_and_other_wheels_are_what_scipys_solver_finds():
    change = {"fork_length": 412.0, "rake": 38.0, "front_wheel": parse_wheel("50-559"),
            "rear_wheel": parse_wheel("57-559")}
    rear, front, slope, level = scipys_standing({**WHOLE, **change})
    after = changed(DONOR, Change(**change))
    assert after.parts.front_axle == pytest.approx(front, abs=1e-7)
    assert after.parts.rear.axle == pytest.approx(rear, abs=1e-7)
    assert measure(after).head_angle == pytest.approx(WHOLE["head_angle"] + slope, abs=1e-8)
    assert measure(after).bracket_height == pytest.approx(-level, abs=1e-7)


def test_a_longer_fork_slackens_the_angles_and_lifts_the_bracket_and_adds_trail():
    before, after = measure(DONOR), measure(changed(DONOR, Change(fork_length=400.0)))
    assert after.head_angle < before.head_angle and after.seat_angle < before.seat_angle
    assert after.bracket_height > before.bracket_height and after.trail > before.trail
    assert after.head_angle - before.head_angle == pytest.approx(
        after.seat_angle - before.seat_angle)


def test_the_bracket_the_head_tube_and_the_rear_axle_stay_under_a_new_fork():
    after = changed(DONOR, Change(fork_length=400.0, rake=50.0, front_wheel=Wheel(330, 50)))
    for name in ("bottom-bracket", "head-top", "head-bottom", "crown", "axle", "axle-left"):
        assert after.points[name] == DONOR.points[name]


def test_another_drop_keeps_the_length_of_the_chain_stay():
    after = changed(DONOR, Change(drop=20.0))
    assert after.parts.rear.axle[1] == 20
    assert after.parts.rear.chain_stay == pytest.approx(427)


def test_no_change_is_the_same_bicycle():
    assert changed(DONOR, Change()) == DONOR


def head_angle(drop, **change):
    return measure(changed(DONOR, Change(drop=drop, **change))).head_angle


@pytest.mark.parametrize("wanted", [68.0, 70.5, 73.0])
def test_the_drop_of_a_wanted_head_angle_is_the_one_that_a_root_finder_finds(wanted):
    change = {"fork_length": 395.0, "front_wheel": Wheel(320, 45)}
    after = changed(DONOR, Change(head_angle=wanted, **change))
    found = brentq(lambda drop: head_angle(drop, **change) - wanted, -150, 250, xtol=1e-11)
    assert after.parts.rear.axle[1] == pytest.approx(found, abs=1e-8)
    assert measure(after).head_angle == pytest.approx(wanted, abs=1e-9)


@examples(50)
@given(st.floats(-120, 200), st.floats(320, 420))
def test_asking_for_the_angle_that_a_drop_gives_finds_that_drop(drop, fork):
    angle = head_angle(drop, fork_length=fork)
    after = changed(DONOR, Change(head_angle=angle, fork_length=fork))
    assert after.parts.rear.axle[1] == pytest.approx(drop, abs=1e-6)
    assert after.parts.rear.chain_stay == pytest.approx(427, abs=1e-9)


def test_an_angle_that_no_drop_gives_is_refused_with_those_that_there_are():
    short = replace(DONOR, parts=replace(DONOR.parts, rear=replace(
        DONOR.parts.rear, axle=(-95.0, 10.0))))
    wheels = {"front_wheel": Wheel(150, 40), "rear_wheel": Wheel(150, 40)}
    with pytest.raises(CoperError, match="no drop gives 50°") as caught:
        changed(short, Change(head_angle=50.0, **wheels))
    low, high = map(float, re.search(r"can give (\S+)° to (\S+)°", str(caught.value)).groups())
    for inside, outside in ((low + 0.02, low - 0.02), (high - 0.02, high + 0.02)):
        after = measure(changed(short, Change(head_angle=inside, **wheels)))
        assert after.head_angle == pytest.approx(inside)
        with pytest.raises(CoperError, match="no drop gives"):
            changed(short, Change(head_angle=outside, **wheels))


@pytest.mark.parametrize(("numbers", "change", "where"), [
    (REAR, Change(rake=40.0), "rake"), (REAR, Change(front_wheel=Wheel(300, 40)), "front_wheel"),
    ({}, Change(rear_wheel=Wheel(300, 40)), "rear_wheel"), ({}, Change(drop=3.0), "drop"),
    (REAR, Change(head_angle=70.0), "head_angle"), (WHOLE, Change(drop=500.0), "drop"),
    (WHOLE, Change(drop=50.0, head_angle=70.0), "head_angle")])
def test_what_is_not_there_cannot_change_and_the_refusal_says_what(numbers, change, where):
    with pytest.raises(CoperError) as caught:
        changed(bicycle(**numbers), change)
    assert caught.value.where == where and "\n" not in str(caught.value)
