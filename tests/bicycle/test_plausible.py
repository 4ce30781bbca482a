"""Numbers that no frame has are asked about; those of bicycles as they are built are not."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import parse_job, read_job
from coper.bicycle.bicycle import make_bicycle
from coper.bicycle.measured import Measured
from coper.bicycle.plausible import bicycle_doubts
from coper.bicycle.solve import solve
from coper.bicycle.tyre_sizes import tyre_doubts
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.job.starter import KINDS, STARTER_UNITS, starter_job
from coper.telling.words.plausible import job_doubts
from tests.bicycle.test_bicycle import WHOLE
from tests.bicycle.test_track import TRIKE
from tests.profiles import examples

NO_FORK = dict.fromkeys(("fork_length", "rake", "lower_stack", "front_wheel", "front_hub"))
DEMOS = sorted((Path(__file__).parents[2] / "demo").glob("*.toml"))


def doubts(**changes):
    measured = Measured(**{key: value for key, value in {**WHOLE, **changes}.items()
                           if value is not None})
    return bicycle_doubts(measured, make_bicycle(solve(measured)))


def asked(key, **changes):
    """The one sentence about ``key``."""
    (said,) = [one for one in doubts(**changes) if one.startswith(f"bicycle.{key}, ")]
    assert said.endswith(".") and "\n" not in said
    return said


@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_the_demos_are_not_asked_about(demo):
    assert job_doubts(read_job(demo)) == ()


@pytest.mark.parametrize("units", STARTER_UNITS)
@pytest.mark.parametrize("kind", KINDS)
def test_no_starter_is_asked_about(kind, units):
    assert job_doubts(parse_job(starter_job(kind, units))) == ()


# Bicycles as shops sell them (common practice, no source): a town, a road, a child's of 16 inches,
# a folder of 16 and of 20, a fat bicycle, one of 29 inches, a long tail.
@pytest.mark.parametrize("numbers", [
    {}, {"drop": 70.0, "chain_stay": 410.0, "rear_wheel": parse_wheel("25-622"),
         "front_wheel": parse_wheel("25-622"), "head_angle": 73.0, "rear_hub": 126.0},
    {"drop": -65.0, "chain_stay": 290.0, "rear_wheel": parse_wheel("47-305"), "fork_length": 240.0,
     "front_wheel": parse_wheel("47-305"), "stack": 285.0, "reach": 260.0, "rake": 30.0},
    {"drop": -75.0, "chain_stay": 430.0, "rear_wheel": parse_wheel("32-349"), "fork_length": 260.0,
     "front_wheel": parse_wheel("32-349"), "stack": 285.0},
    {"drop": -30.0, "rear_wheel": parse_wheel("28-451"), "front_wheel": parse_wheel("28-451"),
     "fork_length": 300.0},
    {"drop": 30.0, "rear_wheel": parse_wheel("100-559"), "front_wheel": parse_wheel("100-559"),
     "rear_hub": 190.0, "fork_length": 460.0, "shell": 100.0, "head_angle": 68.0, "rake": 50.0},
    {"drop": 55.0, "rear_wheel": parse_wheel("57-622"), "front_wheel": parse_wheel("57-622"),
     "fork_length": 511.0, "head_angle": 66.0, "rake": 44.0, "stack": 620.0, "head_tube": 90.0},
    {"drop": 60.0, "chain_stay": 700.0}, {"lower_stack": None, "rear_hub": None}], ids=str)
def test_bicycles_as_they_are_built_are_not_asked_about(numbers):
    assert doubts(**numbers) == ()


@examples(30)
@given(st.floats(66, 75), st.floats(40, 75), st.floats(405, 480), st.floats(330, 400),
       st.floats(38, 55), st.sampled_from(["28-622", "37-622", "47-507", "40-559", "50-584"]))
def test_an_ordinary_bicycle_is_never_asked_about(lean, drop, stay, fork, rake, size):
    wheel = parse_wheel(size)
    assert doubts(head_angle=lean, drop=drop, chain_stay=stay, fork_length=fork, rake=rake,
                  front_wheel=wheel, rear_wheel=wheel, reach=380.0) == ()


def test_a_trike_is_not_asked_about():
    job = parse_job(TRIKE)
    assert bicycle_doubts(job.measured, job.bicycle) == ()


@pytest.mark.parametrize(("key", "numbers", "meant"), [
    ("head_angle", {"head_angle": 109.0}, "measured from the other side, write 71"),
    ("head_angle", {"head_angle": 50.0}, "frames have 60 to 80°"),
    ("seat_angle", {"seat_angle": 108.0}, "write 72"),
    ("rake", {"rake": 160.0}, "with it the trail is -"),
    ("rake", {"rake": -44.0}, "rake is 44 mm"),
    ("rake", {"rake": 300.0, "fork_length": 160.0}, "fork_length and rake look exchanged"),
    ("drop", {"drop": -70.0}, "if the axle is the higher one, drop is 70 mm"),
    ("drop", {"drop": -70.0, "rear_wheel": None}, "drop is 70 mm"),
    ("drop", {"drop": 240.0, "chain_stay": 420.0}, "it is height"),
    ("height", {**NO_FORK, "drop": None, "height": 420.0}, "from the ground"),
    ("chain_stay", {"chain_stay": 4270.0}, "its point slipped, that is 427 mm"),
    ("chain_stay", {"chain_stay": 130.0, "rear_wheel": None}, "frames have 180 mm to 1000 mm"),
    ("reach", {"reach": 35.2}, "that is 352 mm"),
    ("stack", {**NO_FORK, "stack": 20.0 * 25.4**2}, "if it is in mm, that is 508 mm"),
    ("fork_length", {"fork_length": 15.0}, "if it is in inches, that is 381 mm"),
    ("rear_hub", {"rear_hub": 13.0}, "that is 130 mm"),
    ("rear_wheel", {"rear_wheel": Wheel(305.0, 5.0)}, "tyre 5 mm"),
    ("rear_wheel", {"rear_wheel": Wheel(610.0, 40.0), "chain_stay": 700.0},
     "if it is the diameter, half of it is 305 mm")])
def test_a_number_that_no_frame_has_is_asked_about_with_what_was_probably_meant(
        key, numbers, meant):
    assert meant in asked(key, **numbers)


def test_a_bracket_60_mm_above_the_axles_is_the_last_that_is_not_asked_about():
    assert doubts(drop=-60.0) == () and doubts(drop=-60.1) != ()


def test_a_head_angle_that_only_the_wheels_make_odd_is_asked_about_as_such():
    (said,) = doubts(front_wheel=Wheel(180.0, 47.0), rear_wheel=Wheel(400.0, 47.0))
    assert said.startswith("bicycle: with these wheels, drop and fork_length the head angle")


@pytest.mark.parametrize(("size", "others"), [
    ("28-406", "28-349 and 28-451"), ("60-622", ""), ("28-451", ""), ("47-507", ""),
    ("20-305", "20-451"), ("110-622", "110-559 and 110-584"), ("57-406", ""), ("62-203", "")])
def test_a_width_that_is_rare_on_its_bead_seat_is_asked_about_with_those_it_is_common_on(
        size, others):
    said = [" ".join(one) for one in tyre_doubts(parse_wheel(size))]
    assert len(said) == bool(others)
    assert all(others in one and "common practice" in one for one in said)
