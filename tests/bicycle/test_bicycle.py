"""A bicycle's points and how it stands, against published values and scipy's solver."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import fsolve

from coper.bicycle.bicycle import Fork, Head, Parts, Rear, make_bicycle
from coper.bicycle.ground import Ground, stand, trail
from coper.bicycle.measured import Measured
from coper.bicycle.measures import measure
from coper.bicycle.solve import solve
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.errors import CoperError
from coper.frame.tube import Tube
from coper.shapes.read import parse_tube
from tests.profiles import examples

FRONT = {"head_angle": 71.3, "head_tube": 121.0, "reach": 352.0, "stack": 508.0,
         "fork_length": 377.0, "rake": 44.0, "lower_stack": 11.5,
         "front_wheel": parse_wheel("47-507"), "front_hub": 100.0}
REAR = {"drop": 63.0, "chain_stay": 427.0, "rear_wheel": parse_wheel("40-559"), "rear_hub": 130.0,
        "shell": 68.0, "seat_angle": 72.4}
WHOLE = {**REAR, **FRONT}


def bicycle(**numbers):
    return make_bicycle(solve(Measured(**numbers)))


def scipys_standing(numbers):
    """Rear axle, front axle and ground, found by a solver from what each number means."""
    lean = math.radians(numbers["head_angle"])
    up, ahead = (-math.cos(lean), math.sin(lean)), (math.sin(lean), math.cos(lean))
    top = np.array((numbers["reach"], numbers["stack"]))

    def faults(unknown):
        rear, front, (slope, level) = unknown[:2], unknown[2:4], unknown[4:]
        normal = np.array((-math.sin(slope), math.cos(slope)))
        crown_to_axle = front - top
        return (
            rear[1] - numbers["drop"],
            math.hypot(*rear) - numbers["chain_stay"],
            crown_to_axle @ np.array(up) + numbers["head_tube"] + numbers["lower_stack"]
            + numbers["fork_length"],
            crown_to_axle @ np.array(ahead) - numbers["rake"],
            rear @ normal - level - numbers["rear_wheel"].radius,
            front @ normal - level - numbers["front_wheel"].radius,
        )

    found = fsolve(faults, (-400.0, 50.0, 550.0, 50.0, 0.0, -250.0), xtol=1e-13)
    return found[:2], found[2:4], math.degrees(found[4]), found[5]


# Trail R / tan H - rake / sin H: rake 50, H 71.5 72 73 printed 59.7 56.6 50.4, which fit R = 336
# (read in a public text); 343, 73, 43 computed from the same formula.
@pytest.mark.parametrize(("radius", "angle", "rake", "said", "within"), [
    (336, 71.5, 50, 59.7, 0.05), (336, 72, 50, 56.6, 0.05), (336, 73, 50, 50.4, 0.05),
    (343, 73, 43, 59.9008782114, 1e-9)])
def test_the_trail_is_as_published(radius, angle, rake, said, within):
    assert trail(radius, angle, rake) == pytest.approx(said, abs=within)


# Computed: chain stay 410, drop 70, horizontal sqrt(410^2 - 70^2).
def test_the_axle_is_as_far_back_as_published():
    x, y, z = bicycle(drop=70.0, chain_stay=410.0).points["axle"]
    assert (x, y, z) == (pytest.approx(-403.980197534, abs=1e-9), 0, 70)


# A donor's head tube at 68 degrees: common practice, no source.
def test_a_head_axis_at_68_degrees_leans_back_by_22():
    (_, along) = bicycle(head_angle=68.0, head_bottom=(380.0, 370.0)).axes["head-axis"]
    assert math.degrees(math.atan2(-along[0], along[2])) == pytest.approx(22)
    assert math.hypot(*along) == pytest.approx(1)


@pytest.mark.parametrize("change", [
    {}, {"drop": -22.0}, {"head_angle": 68.0}, {"rake": -5.0},
    {"front_wheel": Wheel(203, 50), "rear_wheel": Wheel(343, 32)}], ids=str)
def test_points_and_ground_are_where_scipys_solver_finds_them(change):
    numbers = {**WHOLE, **change}
    ours = bicycle(**numbers)
    rear, front, slope, level = scipys_standing(numbers)
    assert np.array(ours.points["axle"])[[0, 2]] == pytest.approx(rear, abs=1e-7)
    assert np.array(ours.points["front-axle"])[[0, 2]] == pytest.approx(front, abs=1e-7)
    got = measure(ours)
    assert got.tilt == pytest.approx(-slope, abs=1e-8)
    assert got.head_angle == pytest.approx(numbers["head_angle"] + slope, abs=1e-8)
    assert got.seat_angle == pytest.approx(numbers["seat_angle"] + slope, abs=1e-8)
    assert got.bracket_height == pytest.approx(-level, abs=1e-7)


def test_the_trail_on_the_ground_is_where_the_steering_axis_meets_it():
    ours = bicycle(**WHOLE)
    (at, along), ground = ours.axes["head-axis"], ours.ground
    at, along = np.array(at)[[0, 2]], np.array(along)[[0, 2]]
    meets = at - ground.height(tuple(at)) / (along @ np.array(ground.up)) * along
    contact = np.array(ours.parts.front_axle) - 300.5 * np.array(ground.up)
    assert ground.ahead(tuple(meets)) - ground.ahead(tuple(contact)) == pytest.approx(
        measure(ours).trail, abs=1e-9)


def test_the_wheelbase_is_between_the_two_points_of_contact():
    ours = bicycle(**WHOLE)
    up = np.array(ours.ground.up)
    contacts = [np.array(wheel.at)[[0, 2]] - wheel.wheel.radius * up for wheel in ours.wheels]
    assert math.dist(*contacts) == pytest.approx(measure(ours).wheelbase, abs=1e-9)
    assert all(abs(ours.ground.height(tuple(one))) < 1e-9 for one in contacts)


def test_the_points_of_both_sides_are_a_hubs_or_a_shells_width_apart():
    points = bicycle(**WHOLE).points
    for name, width in (("shell", 68), ("axle", 130), ("front-axle", 100)):
        left, right = points[f"{name}-left"], points[f"{name}-right"]
        assert left[1] - right[1] == width and left[1] > 0
        assert (left[0], left[2]) == (right[0], right[2])


def test_the_head_tubes_top_is_at_reach_and_stack_and_the_crown_below_its_bottom():
    points = {name: np.array(point) for name, point in bicycle(**WHOLE).points.items()}
    assert points["head-top"] == pytest.approx((352, 0, 508))
    assert math.dist(points["head-top"], points["head-bottom"]) == pytest.approx(121)
    assert math.dist(points["head-bottom"], points["crown"]) == pytest.approx(11.5)
    assert math.dist(points["crown"], points["front-axle"]) == pytest.approx(math.hypot(377, 44))


@pytest.mark.parametrize(("numbers", "names"), [
    ({}, {"bottom-bracket"}),
    ({"shell": 73.0}, {"bottom-bracket", "shell-left", "shell-right"}),
    ({"drop": 58.0, "axle_back": 415.0}, {"bottom-bracket", "axle"}),
    ({"head_angle": 70.0, "head_bottom": (380.0, 368.0)}, {"bottom-bracket", "head-bottom"})])
def test_part_of_the_numbers_gives_the_points_of_that_part(numbers, names):
    ours = bicycle(**numbers)
    assert set(ours.points) == names and ours.ground is None


def test_with_the_rear_wheel_only_the_ground_is_level():
    ours = bicycle(**REAR)
    assert ours.ground == Ground(0, REAR["rear_wheel"].radius - 63)
    assert measure(ours).trail is None and measure(ours).wheelbase is None


@pytest.mark.parametrize("without", ["reach", "head_bottom", "front_centre", "wheelbase"])
@pytest.mark.parametrize("rear", ["drop", "height"])
@pytest.mark.parametrize("stay", ["chain_stay", "axle_back"])
def test_the_same_bicycle_measured_another_way_is_the_same_bicycle(without, rear, stay):
    level = without in ("front_centre", "wheelbase")
    start = bicycle(**{**WHOLE, "front_wheel": Wheel(300.5, 47), "stack": 508.0})
    if level:  # these two ways take the axes as level: stand it level first
        rise = start.points["front-axle"][2] - start.points["axle"][2]
        wheel = Wheel(REAR["rear_wheel"].radius + rise, 47)
        start = bicycle(**{**WHOLE, "front_wheel": wheel})
    parts, got = start.parts, measure(start)
    numbers = {key: value for key, value in WHOLE.items()
            if key not in ("drop", "chain_stay", "reach", "stack")}
    numbers["front_wheel"] = parts.fork.wheel
    numbers[rear] = {"drop": 63.0, "height": got.bracket_height}[rear]
    numbers[stay] = {"chain_stay": 427.0, "axle_back": -parts.rear.axle[0]}[stay]
    numbers |= {"reach": {"reach": 352.0, "stack": 508.0}, "head_bottom": {
        "head_bottom": parts.head.bottom}, "front_centre": {
        "front_centre": math.hypot(*parts.front_axle)}, "wheelbase": {
        "wheelbase": got.wheelbase}}[without]
    again = bicycle(**numbers)
    assert again.points.keys() == start.points.keys()
    for name, point in start.points.items():
        assert again.points[name] == pytest.approx(point, abs=1e-8)


AXLES = st.tuples(st.floats(-500, -300), st.floats(-80, 120), st.floats(350, 800),
                  st.floats(-80, 120))


@examples(60)
@given(AXLES, st.floats(120, 320), st.floats(120, 320))
def test_the_ground_touches_both_wheels_from_below(axles, rear_radius, front_radius):
    rear, front = axles[:2], axles[2:]
    ground = stand(rear, rear_radius, front, front_radius)
    assert ground.height(rear) == pytest.approx(rear_radius, abs=1e-9)
    assert ground.height(front) == pytest.approx(front_radius, abs=1e-9)


@examples(40)
@given(st.floats(60, 80), st.floats(0, 80), st.floats(300, 450), st.floats(0.2, 5))
def test_a_bicycle_twice_as_large_has_the_same_angles_and_twice_the_lengths(
        angle, rake, length, scale):
    def made(by):
        head = Head(angle, (380 * by, 370 * by), 120 * by)
        fork = Fork(length * by, rake * by, 10 * by, wheel=Wheel(300 * by, 47 * by))
        rear = Rear((-415 * by, 58 * by), wheel=Wheel(290 * by, 40 * by))
        return make_bicycle(Parts(None, 72.0, rear, head, fork))

    try:
        one = measure(made(1))
    except CoperError:
        assume(False)
    other = measure(made(scale))
    for name in ("head_angle", "seat_angle", "tilt"):
        assert getattr(other, name) == pytest.approx(getattr(one, name), abs=1e-9)
    for name in ("trail", "wheelbase", "bracket_height"):
        assert getattr(other, name) == pytest.approx(scale * getattr(one, name), abs=1e-7)


@pytest.mark.parametrize(("numbers", "said"), [
    ({**WHOLE, "reach": -200.0}, "overlap"),
    ({**WHOLE, "reach": -900.0}, "ahead of the rear"),
    ({**WHOLE, "stack": 5000.0}, "would lean"),
    ({**REAR, "drop": 380.0}, "below the ground"),
    ({**REAR, "drop": 427.0}, "chain_stay is 427 mm"),
    ({"height": 900.0, "rear_wheel": Wheel(300, 47), "chain_stay": 420.0}, "below the bracket"),
    ({key: value for key, value in {**WHOLE, "front_centre": 20.0}.items()
      if key not in ("reach", "stack")}, "does not reach")])
def test_numbers_of_no_bicycle_are_refused(numbers, said):
    with pytest.raises(CoperError, match=said):
        bicycle(**numbers)


def test_the_standover_is_the_upper_side_of_the_top_tube_above_the_ground():
    ours = bicycle(**WHOLE)
    (foot, seat), (bottom, head) = ours.axes["seat-axis"], ours.axes["head-axis"]
    start, end = np.array(foot) + 430 * np.array(seat), np.array(bottom) + 95 * np.array(head)
    top = Tube(parse_tube("25.4 x 0.9"), start, end, "top-tube")
    down = Tube(parse_tube("28.6 x 0.9"), (0, 0, 0), bottom, "down-tube")
    stay = Tube(parse_tube("14 x 0.8"), (-150, 7, 400), ours.points["axle-left"], "stay")
    # Plumb above the middle of the axis the skin is half a diameter over the cosine of its slope.
    ground, middle = ours.ground, (start + end) / 2
    rise = ground.height(tuple(end[[0, 2]])) - ground.height(tuple(start[[0, 2]]))
    cosine = math.sqrt(1 - (rise / math.dist(start, end)) ** 2)
    said = ground.height(tuple(middle[[0, 2]])) + 12.7 / cosine
    assert measure(ours, (down, stay, top)).standover == pytest.approx(said, abs=1e-9)
    assert measure(ours, (stay,)).standover is None
    low = measure(ours, (down, stay)).standover
    assert low is not None and low < said
