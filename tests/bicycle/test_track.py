"""Two rear wheels, left and right of the middle plane: where they stand and what is near them."""

import math

import numpy as np
import pytest
from scipy.optimize import minimize

from coper import JobError, make_pieces, parse_job
from coper.bicycle.change import Change, changed
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.measures import measure
from coper.bicycle.wheel import Wheel
from coper.errors import CoperError
from coper.job.layout import job_layout
from coper.job.tracking import job_measures
from coper.telling.lines import Caution
from coper.telling.records.bicycle import bicycle_record
from coper.telling.records.clearance import clearance_record
from coper.telling.records.layout import layout_record
from coper.telling.words.clearance import clearance_lines

TRACK, RADIUS, TYRE, HALF_TUBE = 600.0, 254.0, 40.0, 9.0
AXLE_X, AXLE_Z = -math.sqrt(430.0**2 - 35.0**2), 35.0

REAR = """
[bicycle]
drop = 35
chain_stay = 430
rear_wheel = { radius = 254, tyre = 40 }
"""
FRONT = """
head_angle = 70
reach = 380
stack = 480
head_tube = 120
fork_length = 390
rake = 45
front_wheel = "40-507"
"""
TRIKE = REAR + "rear_track = 600\n"

ENDS = {"left": ((-150.0, 245.0, 20.0), (-600.0, 262.0, 130.0)),
        "right": ((-170.0, -230.0, 60.0), (-560.0, -240.0, -70.0))}
"""Two stays, one each side, not mirrored: each beside the wheel of its own side."""
STAYS = "".join(f"""
[tubes.{name}]
shape = "18 x 1"
start = {{ at = {list(start)} }}
end = {{ at = {list(end)} }}
""" for name, (start, end) in ENDS.items())


def clearances(text):
    job = parse_job(text)
    return make_clearances(make_pieces(job), job.bicycle, job.drive)


def gap_of(found, wheel, tube):
    return next(gap for gap in found.tyre if gap.part == wheel and gap.tube == tube)


def line_to_tyre(tube, side):
    """The gap by hand: from a point of the tube's axis to the circle in the middle of the tyre.

    Both are parameters, tried on a grid, and the best refined by scipy; each with its half width
    (where the nearest is beside the tube, as here).
    """
    start, end = map(np.array, ENDS[tube])
    middle = RADIUS - TYRE / 2

    def apart(at):
        share, turn = at
        on = start + share * (end - start)
        rim = (AXLE_X + middle * math.cos(turn), side * TRACK / 2, AXLE_Z + middle * math.sin(turn))
        return float(np.linalg.norm(on - rim))

    tried = [(share, turn) for share in np.linspace(0, 1, 41)
             for turn in np.linspace(0, 2 * math.pi, 72)]
    best = minimize(apart, min(tried, key=apart), bounds=((0, 1), (None, None)), tol=1e-12)
    return best.fun - TYRE / 2 - HALF_TUBE


@pytest.mark.parametrize(("wheel", "side"), [("rear-left", 1), ("rear-right", -1)])
@pytest.mark.parametrize("tube", ["left", "right"])
def test_every_wheel_has_its_own_gap_to_the_stays_of_both_sides(wheel, side, tube):
    gap = gap_of(clearances(TRIKE + STAYS), wheel, tube).spot.gap
    # the nearest of a long tube's skin lies in the section that its axis is nearest in
    assert gap == pytest.approx(line_to_tyre(tube, side), abs=0.02)


def test_the_nearest_tube_of_a_wheel_is_the_stay_of_its_own_side():
    found = clearances(TRIKE + STAYS)
    for side in ("left", "right"):
        own = [gap for gap in found.tyre if gap.part == f"rear-{side}"]
        assert min(own, key=lambda gap: gap.spot.gap).tube == side
    # the two stays are at different distances: wheels that changed sides would not pass
    assert gap_of(found, "rear-left", "left").spot.gap < gap_of(found, "rear-right",
                                                               "right").spot.gap - 5


def test_a_tube_through_the_spokes_of_one_wheel_is_not_through_the_other():
    axle = """
[tubes.axle-tube]
shape = "30 x 2"
start = { at = [-428.57, 0, 35] }
end = { at = [-428.57, 350, 35] }
"""
    found = clearances(TRIKE + axle)
    assert [(gap.part, gap.spokes) for gap in found.tyre] == [
        ("rear-left", True), ("rear-right", False)]


def test_the_slot_moves_both_wheels():
    found = clearances(TRIKE + "[drive]\nslot = 20\nslot_at = 5\n" + STAYS)
    for wheel in ("rear-left", "rear-right"):
        assert len({gap.axle for gap in found.tyre if gap.part == wheel}) == 3


def test_the_wheels_stand_half_the_track_to_the_left_and_to_the_right():
    bicycle = parse_job(TRIKE).bicycle
    places = {wheel.name: wheel.at for wheel in bicycle.wheels}
    assert list(places) == ["rear-left", "rear-right"]
    assert places["rear-left"] == pytest.approx((AXLE_X, 300, 35))
    assert places["rear-right"] == pytest.approx((AXLE_X, -300, 35))
    assert bicycle.points["rear-wheel-left"] == places["rear-left"]
    assert bicycle.points["axle"] == pytest.approx((AXLE_X, 0, 35))
    assert bicycle_record_of(TRIKE)["wheels"]["rear-right"]["at"][1] == -300


def bicycle_record_of(text):
    from coper.bicycle.before_after import measured

    return bicycle_record(measured(parse_job(text).bicycle, ()))


def test_on_the_ground_it_measures_what_the_same_bicycle_does_with_one_wheel():
    one, two = (parse_job(text + FRONT).bicycle for text in (REAR, TRIKE))
    assert measure(two) == measure(one) and measure(two).trail is not None


def test_one_wheel_in_the_middle_and_none_at_all_are_what_they_were():
    assert [wheel.name for wheel in parse_job(REAR).bicycle.wheels] == ["rear"]
    none = parse_job("[bicycle]\ndrop = 35\nchain_stay = 430\n").bicycle
    assert none.wheels == () and none.ground is None and "rear-wheel-left" not in none.points


def test_height_is_compared_with_the_wheels_on_the_ground_and_two_rear_ones_are_no_front_one():
    height = 254.0 - 35.0
    assert parse_job(TRIKE + f"height = {height}\n").bicycle is not None
    with pytest.raises(JobError, match=r"height: 250 mm, but drop and rear_wheel give 219"):
        parse_job(TRIKE + "height = 250\n")


def test_another_rear_wheel_stays_a_pair():
    bicycle = changed(parse_job(TRIKE).bicycle, Change(rear_wheel=Wheel(260.0, 57.0), drop=20.0))
    assert [(wheel.name, wheel.at[1], wheel.wheel.tyre) for wheel in bicycle.wheels] == [
        ("rear-left", 300, 57), ("rear-right", -300, 57)]
    with pytest.raises(CoperError, match="stand in each other"):
        changed(parse_job(TRIKE.replace("600", "50")).bicycle, Change(rear_wheel=Wheel(260, 57)))


def test_a_front_wheel_between_two_rear_ones_runs_into_neither():
    near = TRIKE.replace("430", "200").replace("35", "0") + FRONT.replace("380", "-80")
    assert parse_job(near).bicycle is not None
    with pytest.raises(JobError, match="the two wheels overlap"):
        parse_job(near.replace("rear_track = 600\n", ""))


@pytest.mark.parametrize(("text", "said"), [
    (TRIKE.replace("600", "40"), "bicycle.rear_track: two wheels 40 mm apart, with tyres 40 mm"),
    (TRIKE.replace("600", "-600"), "bicycle.rear_track: -600 is not a size"),
    (TRIKE.replace("600", '"wide"'), "bicycle.rear_track: "),
    (TRIKE.replace("rear_wheel = { radius = 254, tyre = 40 }\n", ""),
     "bicycle.rear_wheel: missing, and rear_track needs it; measure rear_wheel, or take out"),
    ("[bicycle]\nrear_track = 600\nrear_wheel = '40-507'\n", "bicycle.drop: missing"),
])
def test_a_track_that_cannot_be_is_one_line_at_its_key(text, said):
    with pytest.raises(JobError) as caught:
        parse_job(text)
    assert any(said in str(fault) and "\n" not in str(fault) for fault in caught.value.faults)


def test_what_is_not_checked_with_two_rear_wheels_is_stated_and_the_chain_is_still_counted():
    drive = "[drive]\nring = 44\nsprocket = 18\ncrank = 165\npedal = { out = 150, under = 14 }\n"
    one, two = (clearances(text + drive + STAYS) for text in (REAR, TRIKE))
    assert one.lean is not None and two.lean is None
    assert one.chain == two.chain
    assert clearance_record(one)["not_checked"] == []
    said, = clearance_record(two)["not_checked"]
    assert said in [line.words for line in clearance_lines(two, "", None)
                    if isinstance(line, Caution)]
    assert "lean" in said and "chain" in said


def test_tracking_is_refused_with_what_to_measure_instead():
    with pytest.raises(CoperError) as caught:
        job_measures(parse_job(TRIKE + "rear_hub = 130\n"))
    assert caught.value.where == "bicycle.rear_track" and "both rims" in caught.value.cure
    assert job_measures(parse_job(REAR + "rear_hub = 130\n"))["hub"] == 130


def test_on_the_table_both_stand_over_each_other_and_do_not_lift_the_frame():
    job, single = parse_job(TRIKE + STAYS), parse_job(REAR + STAYS)
    laid, other = (job_layout(one, make_pieces(one)) for one in (job, single))
    assert laid.table == other.table
    wheels = layout_record(laid)["wheels"]
    plane = laid.table.plane
    assert [(wheel["name"], wheel["height"]) for wheel in wheels] == [
        ("rear-left", plane + 300), ("rear-right", plane - 300)]
    assert [rim.name for rim in laid.rims] == ["rear-left and rear-right"]
    said, = laid.cautions
    assert said.startswith(f"The middle of the rear-right wheel is {300 - plane:g} mm below")


def test_a_point_clear_of_the_rear_wheel_is_clear_of_both_from_the_side():
    bridge = """
[points]
bridge = { along = "left", clear_of = "rear-wheel", gap = 15 }
"""
    start = [-150, 245, 35]
    stay = STAYS.replace(str(list(ENDS["left"][0])), str(start)).replace(
        str(list(ENDS["left"][1])), "[-420, 245, 35]")
    x, _, z = parse_job(TRIKE + bridge + stay).points["bridge"]
    assert math.hypot(x - AXLE_X, z - AXLE_Z) == pytest.approx(RADIUS + 15)
