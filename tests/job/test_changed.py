"""A change that stays: the file has it, and the main frame stands where it stood."""

import math
import tomllib

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from coper import Change, CoperError, parse_job
from coper.bicycle.change import changed
from coper.bicycle.measures import measure
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.job.changed import changed_job, kept_job
from coper.job.touched import cut_anew, moved_tubes
from tests.profiles import examples

STAYS = ("bottom-bracket", "head-top", "head-bottom", "crown")
OLD = {"drop": 58, "chain_stay": 419, "rear_wheel": "40-507", "rear_hub": 130, "seat_angle": 69,
       "head_angle": 70, "head_tube": 110, "fork_length": 350, "rake": 45, "lower_stack": 12,
       "front_wheel": "40-507", "front_centre": 551}


def text(numbers, more=""):
    def value(one):
        return f'"{one}"' if isinstance(one, str) else str(one)

    return "\n".join(("[bicycle]", *(f"{key} = {value(one)}" for key, one in numbers.items()),
                      more))


def on_the_ground(points, head_angle, rear_radius, front_radius):
    """The head angle over a ground that a root finder puts under two wheels; x and z of points."""
    (rx, _, rz), (fx, _, fz) = points["axle"], points["front-axle"]

    def apart(slope):
        nx, nz = -math.sin(slope), math.cos(slope)
        return (fx * nx + fz * nz - front_radius) - (rx * nx + rz * nz - rear_radius)

    return head_angle + math.degrees(brentq(apart, -0.75, 0.75, xtol=1e-14))


def front_axle_by_hand(points, head_angle, length, rake, stack):
    """From the head tube's lower edge down the steering axis, then square to it."""
    (x, _, z), lean = points["head-bottom"], math.radians(head_angle)
    down = length + stack
    return (x + down * math.cos(lean) + rake * math.sin(lean),
            z - down * math.sin(lean) + rake * math.cos(lean))


@examples(25)
@given(st.sampled_from(["front_centre", "wheelbase", "stack", "head_bottom"]),
       st.sampled_from(["mm", "in", "cm"]), st.booleans(), st.floats(64, 76), st.floats(-20, 80),
       st.floats(320, 460), st.floats(20, 70), st.integers(30, 60), st.integers(30, 60),
       st.one_of(st.none(), st.floats(-10, 90)), st.one_of(st.none(), st.floats(380, 480)))
def test_a_kept_change_leaves_the_frame_and_its_head_angle_is_the_one_that_scipy_finds(
        place, unit, by_height, lean, drop, length, rake, front, rear, new_drop, new_stay):
    numbers = {**OLD, "head_angle": lean, "drop": drop}
    del numbers["front_centre"]
    places = {"front_centre": {"front_centre": 570}, "wheelbase": {"wheelbase": 980},
              "stack": {"reach": 352, "stack": 490}, "head_bottom": {"head_bottom": [375, 382]}}
    numbers |= places[place]
    if by_height:
        numbers["height"] = 293.5 - numbers.pop("drop")
    one = {"mm": 1, "in": 25.4, "cm": 10}[unit]
    angles = ("seat_angle", "head_angle")
    scaled = {key: value if key in angles or isinstance(value, str) else
              [part / one for part in value] if isinstance(value, list) else value / one
              for key, value in numbers.items()}
    job = parse_job(f'units = "{unit}"\n{text(scaled)}')
    change = Change(length, rake, parse_wheel(f"{front}-559"), Wheel(300.0 + rear, float(rear)),
                    new_drop, new_stay)
    try:
        wanted = changed(job.bicycle, change)
    except CoperError:
        assume(False)
    after = kept_job(job, change).after.bicycle
    for name in STAYS:
        assert after.points[name] == pytest.approx(job.bicycle.points[name], abs=1e-6)
    assert after.axes["seat-axis"] == job.bicycle.axes["seat-axis"]
    at = front_axle_by_hand(job.bicycle.points, lean, length, rake, 12)
    assert after.points["front-axle"][::2] == pytest.approx(at, abs=1e-6)
    assert after.points["axle"] == pytest.approx(wanted.points["axle"], abs=1e-6)
    assert measure(after).head_angle == pytest.approx(on_the_ground(
        after.points, lean, 300 + rear, 559 / 2 + front), abs=1e-7)


def test_a_front_centre_left_beside_a_new_fork_would_have_moved_the_head_tube():
    before = parse_job(text(OLD)).bicycle.points["head-bottom"]
    by_hand = parse_job(text({**OLD, "fork_length": 434})).bicycle.points["head-bottom"]
    kept = kept_job(parse_job(text(OLD)), Change(fork_length=434.0)).after.bicycle
    assert math.dist(before, by_hand) > 75
    assert kept.points["head-bottom"] == pytest.approx(before, abs=1e-6)


@pytest.mark.parametrize(("numbers", "change", "keys"), [
    ({}, Change(fork_length=380.0), {"head_bottom", "fork_length", "front_centre"}),
    ({"reach": 345, "stack": 484, "front_centre": 551}, Change(rake=40.0),
     {"rake", "front_centre"}),
    ({"reach": 345, "stack": 484, "front_centre": 551}, Change(rear_wheel=parse_wheel("47-507")),
     {"rear_wheel"}),
    ({"head_bottom": [382.6, 380.6], "wheelbase": 964, "front_centre": 551, "height": 236},
     Change(rear_wheel=parse_wheel("47-507")), {"rear_wheel", "height", "wheelbase"}),
    ({"axle_back": 415, "chain_stay": None}, Change(drop=40.0),
     {"drop", "axle_back", "head_bottom", "front_centre"}),
    ({"axle_back": 415, "chain_stay": None}, Change(chain_stay=440.0),
     {"chain_stay", "axle_back", "head_bottom", "front_centre"}),
    ({"axle_back": 415}, Change(chain_stay=440.0),
     {"chain_stay", "axle_back", "head_bottom", "front_centre"}),
    ({"drop": None, "height": 236}, Change(rake=40.0),
     {"drop", "height", "rake", "head_bottom", "front_centre"}),
    ({"reach": 345, "stack": 484, "front_centre": None}, Change(head_angle=70.5), {"drop"}),
    ({"reach": 345, "stack": 484, "front_centre": None, "front_wheel": None, "rear_wheel": None},
     Change(front_wheel=parse_wheel("47-507")), {"front_wheel"})])
def test_only_what_was_measured_with_the_old_parts_is_replaced(numbers, change, keys):
    job = parse_job(text({key: value for key, value in {**OLD, **numbers}.items()
                          if value is not None}))
    kept = kept_job(job, change)
    old, new = (tomllib.loads(one.text)["bicycle"] for one in (job, kept.after))
    assert {key for key in {*old, *new} if old.get(key) != new.get(key)} == keys
    assert {edit.key for edit in kept.edits} == keys
    assert kept.after.bicycle.points["head-bottom"] == pytest.approx(
        job.bicycle.points["head-bottom"], abs=1e-6)


TUBES = """
[tubes.seat-tube]
shape = "30 x 1"
start = { at = "bottom-bracket" }
end = { at = { along = "seat-axis", by = 450 } }
[tubes.stay]
shape = "20 x 1"
start = { at = [0, 30, 0] }
end = { at = { from = "axle", by = [0, 60, 0] } }
mirror = true
[tubes.bridge]
shape = "12 x 1"
start = { at = [-300, 40, 42], on = ["stay"] }
end = { at = [-300, -40, 42], on = ["stay"] }
[tubes.lamp]
shape = "10 x 1"
start = { at = "crown" }
end = { at = { from = "front-axle", by = [90, 0, 200] } }
"""


def test_a_look_and_a_kept_change_are_the_same_job_and_say_which_tubes_move():
    job = parse_job(text(OLD, TUBES))
    change = Change(fork_length=380.0, drop=40.0)
    kept, look = kept_job(job, change).after, changed_job(job, change)
    assert look.tubes == kept.tubes and look.bicycle == kept.bicycle and look.change == change
    moved = moved_tubes(job, look)
    assert moved == {"stay": ("end",), "lamp": ("end",)}
    assert cut_anew(look, moved) == ("bridge",)
    assert changed_job(job, Change()) is job


def test_a_byte_order_mark_stays_where_it_is():
    job = parse_job("\ufeff" + text(OLD))
    assert kept_job(job, Change(rake=40.0)).after.text.startswith("\ufeff[bicycle]\n")


def test_a_change_that_breaks_a_point_of_the_job_is_refused_with_that_point():
    job = parse_job(text(OLD, '[points]\nrung = { along = "stay", height = 42 }\n' + TUBES))
    with pytest.raises(CoperError, match=r"^with this change: points.rung"):
        changed_job(job, Change(drop=0.0))
