"""Gaps to tyres, cranks and heels: closed forms, laws and brute force."""

import math

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from coper import Bent, Box, CoperError, Plate, Round, Tube, make_piece, plain_end, shape_end
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.drive import Drive, Pedal, ShoeHeel, Sprockets
from coper.bicycle.clearance.slot import Slot
from coper.bicycle.clearance.sweep import CRANK_END_MM, crank_off, heel_off, lean_angle
from coper.bicycle.clearance.tyre import tyre_off
from coper.bicycle.ground import Ground
from coper.bicycle.standing import StandingWheel
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.frame.nearest import nearest_spot
from coper.telling.records.clearance import clearance_record
from coper.telling.words.clearance import near_rows
from tests.profiles import examples

WHEEL = parse_wheel("47-507")
AXLE = (-420.0, 0.0, 58.0)
REAR = StandingWheel("rear", WHEEL, AXLE)


def piece(shape, start, end, **more):
    tube = Tube(shape, np.array(start, float), np.array(end, float), **more)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def tyre(one, wheel=WHEEL, axle=AXLE):
    return nearest_spot(one, tyre_off(wheel, axle))


def at_radius(radius, degrees):
    turn = math.radians(degrees)
    return AXLE[0] + radius * math.cos(turn), AXLE[2] + radius * math.sin(turn)


@examples(10)
@given(st.tuples(*[st.floats(-500, 100)] * 3), st.tuples(*[st.floats(-150, 150)] * 3),
       st.sampled_from([Round(28), Box(40, 12), Round(60)]))
def test_the_faces_of_ends_that_are_too_far_away_are_left_out_and_no_place_is_lost(at, way, shape):
    assume(np.linalg.norm(way) > 20)
    one = piece(shape, at, np.add(at, way))
    for off in (tyre_off(WHEEL, AXLE), crank_off(152, 62), heel_off(152, ShoeHeel(170, 88))):
        assert nearest_spot(one, off, even=True) == nearest_spot(one, off)


@pytest.mark.parametrize("degrees", [0, 37, 120, 255])
def test_a_bridge_behind_the_tyre_clears_it_by_what_is_left_of_the_radii(degrees):
    x, z = at_radius(320, degrees)
    found = tyre(piece(Round(9.5), (x, 30, z), (x, -30, z)))
    assert found.gap == pytest.approx(320 - 4.75 - 300.5, abs=1e-6)
    assert found.along == pytest.approx(30, abs=1e-2)
    near = at_radius(320 - 4.75, degrees)
    assert (found.point[0], found.point[2]) == pytest.approx(near, abs=1e-2)


@pytest.mark.parametrize(("y", "top", "bend"), [(34, 320, 30), (60, 312, 50), (45, 330, 44)])
def test_a_hoop_over_the_tyre_is_nearest_where_its_legs_and_quarter_rings_are(y, top, bend):
    """Up beside the wheel, across over it and down: its centreline by hand, in 10,000 steps."""
    x, (foot, high) = AXLE[0], (AXLE[2] + 150, AXLE[2] + top)
    hoop = Tube(Round(14), (x, -y, foot), (x, y, foot), "hoop",
                corners=((x, -y, high), (x, y, high)), radii=(bend, bend))
    found = tyre(make_piece(hoop, plain_end(hoop, "start"), plain_end(hoop, "end")))
    turn, share = np.radians(np.linspace(0, 90, 5_000)), np.linspace(0, 1, 5_000)
    ring = np.stack((y - bend + bend * np.cos(turn), high - bend + bend * np.sin(turn)), axis=-1)
    leg = np.stack((np.full(5_000, float(y)), foot + share * (high - bend - foot)), axis=-1)
    across = np.stack((share * (y - bend), np.full(5_000, float(high))), axis=-1)
    beside, up = np.concatenate((ring, leg, across)).T
    least = np.hypot(beside, up - AXLE[2] - WHEEL.middle).min() - 23.5 - 7
    assert found.gap == pytest.approx(least, abs=1e-4)


def test_a_straight_stay_beside_the_wheel_is_nearest_where_it_passes_the_section():
    # Parallel to x at the height of the axle, y off the plane: nearest at the section's middle.
    found = tyre(piece(Round(16), (-300, 40, 58), (0, 40, 58)))
    assert found.gap == pytest.approx(40 - 8 - 23.5, abs=1e-6)
    assert found.point[0] == pytest.approx(AXLE[0] + WHEEL.middle, abs=1e-2)


def test_a_tube_that_ends_before_the_tyre_is_nearest_at_the_middle_of_its_end():
    # Pointing at the axle in the wheel's plane, cut off plain 12 mm before the tread.
    x, z = at_radius(WHEEL.radius + 12, 20)
    far = at_radius(WHEEL.radius + 300, 20)
    found = tyre(piece(Round(20), (far[0], 0, far[1]), (x, 0, z)))
    assert found.gap == pytest.approx(12, abs=1e-6)
    assert found.along == pytest.approx(288)


def test_a_plain_end_cut_back_takes_its_gap_with_it():
    x, z = at_radius(WHEEL.radius + 12, 20)
    far = at_radius(WHEEL.radius + 300, 20)
    tube = Tube(Round(20), (far[0], 0, far[1]), (x, 0, z))
    short = make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end", 7.5))
    assert tyre(short).gap == pytest.approx(19.5, abs=1e-6)


def test_a_coped_end_ends_at_its_edge():
    # The stay ends on a bridge: what its generators would be behind that edge does not count.
    main = Tube(Round(30), (-60, 40, 58), (-60, -40, 58), "main")
    stay = Tube(Round(20, 0.9), (-60, 0, 58), (0, 0, 200), "stay")
    coped = make_piece(stay, shape_end(stay, "start", [main]), plain_end(stay, "end"))
    plain = make_piece(stay, plain_end(stay, "start"), plain_end(stay, "end"))
    assert tyre(coped).gap > tyre(plain).gap + 4
    edge = stay.pose.outward(coped.start.cope.points)
    assert tyre(coped).gap == pytest.approx(tyre_off(WHEEL, AXLE)(edge).min(), abs=1e-6)


def test_a_bent_hoop_round_the_tyre_keeps_its_way_off_it():
    # A hoop in the wheel's plane about the axle itself, 40 mm outside the tread.
    radius = WHEEL.radius + 40
    start, end = at_radius(radius, 180), at_radius(radius, 100)
    hoop = piece(Bent(16, radius), (start[0], 0, start[1]), (end[0], 0, end[1]))
    crown = hoop.tube.pose.origin
    assert (crown[0], crown[2]) == pytest.approx(at_radius(radius, 140), abs=1e-6)
    assert tyre(hoop).gap == pytest.approx(40 - 8, abs=1e-6)


sizes = st.floats(0.4, 3)
places = st.tuples(st.floats(-700, 0), st.floats(-80, 80), st.floats(-200, 400))


@examples(15)
@given(places, places, sizes)
def test_twice_as_large_a_bicycle_has_twice_the_gaps(start, end, scale):
    assume(math.dist(start, end) >= 30)
    one = tyre(piece(Round(18), start, end)).gap
    larger = piece(Round(18 * scale), np.multiply(start, scale), np.multiply(end, scale))
    wheel = Wheel(WHEEL.radius * scale, WHEEL.tyre * scale)
    other = tyre(larger, wheel, tuple(np.multiply(AXLE, scale))).gap
    assert other == pytest.approx(one * scale, abs=1e-6)


@examples(15)
@given(places, places, st.floats(-180, 180))
def test_twins_have_the_same_gap_on_either_side_of_the_wheel(start, end, turn):
    assume(math.dist(start, end) >= 30)
    tube = Tube(Box(20, 12, 2), start, end, "rail", "left", turn)
    twin = tube.mirrored()
    one, other = (make_piece(each, plain_end(each, "start"), plain_end(each, "end"))
                  for each in (tube, twin))
    assert tyre(one).gap == pytest.approx(tyre(other).gap, abs=1e-6)


@examples(15)
@example((-18.0, 14.0, -8.0), (-676.5, 8.0, -133.5))
@given(places, places)
def test_no_place_of_the_skin_is_nearer_than_the_least_gap(start, end):
    assume(math.dist(start, end) >= 30)
    one = piece(Round(18), start, end)
    clock, along = np.meshgrid(np.radians(np.arange(0, 360, 3)),
                               np.linspace(0, one.tube.length, 200))
    pose = one.tube.pose
    own = np.stack((9 * np.cos(clock), 9 * np.sin(clock), along), axis=-1)
    points = pose.outward(own)
    for off in (tyre_off(WHEEL, AXLE), crank_off(165, 62), heel_off(165, ShoeHeel(180, 90))):
        found = nearest_spot(one, off)
        # A tube that is right through the tyre has many places about its middle circle, each a
        # lowest one: there the depth is known to 1 % of the tyre, which is all that it says.
        sure = 1e-9 if found.gap > -WHEEL.tyre / 4 else WHEEL.tyre / 100
        assert found.gap <= off(points).min() + sure
        assert off(np.array(found.point)) == pytest.approx(found.gap, abs=1e-9)


# Cranks and heels

def test_a_stay_inside_the_cranks_circle_is_off_by_what_is_left_beside_it():
    stay = piece(Round(20), (-40, 40, 0), (-300, 40, 0))
    assert nearest_spot(stay, crank_off(165, 62)).gap == pytest.approx(62 - 50, abs=1e-6)


def test_a_stay_beyond_the_cranks_end_is_off_by_what_is_left_ahead_of_it():
    end = 165 + CRANK_END_MM
    post = piece(Round(20), (-end - 30, 90, -100), (-end - 30, 90, 100))
    assert nearest_spot(post, crank_off(165, 62)).gap == pytest.approx(30 - 10, abs=1e-6)


def test_a_stay_that_the_crank_hits_has_the_depth_of_the_overlap():
    stay = piece(Round(20), (-40, 55, 0), (-300, 55, 0))
    assert nearest_spot(stay, crank_off(165, 62)).gap == pytest.approx(62 - 65, abs=1e-6)


def test_the_heel_goes_round_behind_the_crank():
    # At the far rear of the heel's circle, and just inside its reach sideways.
    stay = piece(Round(16), (-300, 80, 0), (-420, 80, 0))
    assert nearest_spot(stay, heel_off(165, ShoeHeel(180, 92))).gap == pytest.approx(
        92 - 88, abs=1e-6)
    behind = piece(Round(16), (-400, 120, -50), (-400, 120, 50))
    assert nearest_spot(behind, heel_off(165, ShoeHeel(180, 92))).gap == pytest.approx(
        400 - 8 - 345, abs=1e-6)


# Leaning

@examples(40)
@given(st.floats(230, 320), st.floats(140, 180), st.floats(110, 190), st.floats(20, 60))
def test_the_leaning_ground_touches_the_tyre_and_the_pedal(height, crank, out, width):
    pedal = Pedal(out, 12)
    lean = math.radians(lean_angle(height, crank, pedal, width))
    # Seen from behind: a line at that slope through the pedal's edge, and the tyre's section.
    edge = np.array((out, height - crank - 12))
    square = np.array((-math.sin(lean), math.cos(lean)))
    middle = np.array((0.0, width / 2))
    assert (middle - edge) @ square == pytest.approx(width / 2, abs=1e-9)


@pytest.mark.parametrize("tyres", [(32, 57), (60, 28), (40, 40)])
def test_on_unlike_tyres_the_ground_touches_both_and_the_pedal(tyres):
    # Solved in space: a plane below two tori, tipped until the pedal's edge lies on it.
    axles, radii, reach, out = ((-420.0, 58.0), (590.0, 20.0)), (300.0, 340.0), 165.0 + 12, 150.0

    def under(lean, tip):
        """How far the plane of that lean and tip lies below the origin, by each wheel."""
        across = np.cos(lean)
        return [across * (np.sin(tip) * x - np.cos(tip) * z + radius - tyre / 2) + tyre / 2
                for (x, z), radius, tyre in zip(axles, radii, tyres, strict=True)]

    def tip(lean):
        return brentq(lambda one: np.subtract(*under(lean, one)), -0.3, 0.3, xtol=1e-14)

    def clear(lean):
        return under(lean, tip(lean))[0] - reach * np.cos(lean) - out * np.sin(lean)

    level = tip(0.0)
    ground = Ground(-math.degrees(level), under(0.0, level)[0])
    wheels = tuple(
        StandingWheel(name, Wheel(radius, tyre), (x, 0, z)) for name, (x, z), radius, tyre
        in zip(("rear", "front"), axles, radii, tyres, strict=True))
    found = make_clearances((), Bicycle(wheels=wheels, ground=ground),
                            Drive(crank=165, pedal=Pedal(out, 12)))
    assert found.lean == pytest.approx(math.degrees(brentq(clear, 0.0, 1.2)), abs=1e-3)


def test_a_pedal_that_reaches_the_ground_upright_leaves_no_lean():
    assert lean_angle(170, 165, Pedal(150, 15), 40) == 0
    assert 0 < lean_angle(181, 165, Pedal(150, 15), 40) < 1


def test_on_a_thin_tyre_the_lean_is_the_slope_to_the_pedal():
    lean = lean_angle(270, 165, Pedal(150, 15), 0.001)
    assert lean == pytest.approx(math.degrees(math.atan(90 / 150)), abs=1e-3)


# All together

BRIDGE = piece(Round(9.5), (AXLE[0], 30, 58 + 320), (AXLE[0], -30, 58 + 320), name="bridge")
STAYS = [piece(Round(16), (-20, y, 5), (-410, y, 58), name="stay", side=side)
         for y, side in ((50, "left"), (-50, "right"))]
BICYCLE = Bicycle(points={"axle": AXLE}, wheels=(REAR,), ground=Ground(0.0, 242.5))


def test_every_tube_is_measured_at_both_ends_of_the_slot_and_as_drawn():
    drive = Drive(slot=Slot(22, 10, 8))
    found = make_clearances([BRIDGE, *STAYS], BICYCLE, drive)
    assert {(gap.tube, gap.side, gap.axle) for gap in found.tyre} == {
        (tube, side, axle) for tube, side in (("bridge", "centre"), ("stay", "left"),
                                              ("stay", "right"))
        for axle in ("drawn", "front of slot", "rear of slot")}
    assert [gap.spot.gap for gap in found.tyre] == sorted(gap.spot.gap for gap in found.tyre)
    # The axle 14 mm to the rear and up at 10 degrees leaves so much below the bridge.
    away = math.hypot(14 * math.cos(math.radians(10)), 320 - 14 * math.sin(math.radians(10)))
    rear = next(gap for gap in found.tyre if gap.tube == "bridge" and gap.axle == "rear of slot")
    assert rear.spot.gap == pytest.approx(away - 4.75 - 300.5, abs=1e-6)


def test_twins_share_a_row_and_far_tubes_are_only_counted():
    far = piece(Round(16), (-20, 300, 5), (-410, 300, 58), name="far")
    found = make_clearances([*STAYS, far], BICYCLE, Drive())
    rows, further = near_rows(found.tyre)
    assert [(row.tube, row.gap.side) for row in rows] == [("stay, both sides", "left")]
    assert further == 1


def test_unlike_sides_get_a_row_each():
    skew = [STAYS[0], piece(Round(16), (-20, -45, 5), (-410, -45, 58), name="stay", side="right")]
    rows, _ = near_rows(make_clearances(skew, BICYCLE, Drive()).tyre)
    assert [row.tube for row in rows] == ["stay, right", "stay, left"]


def test_a_tube_through_the_spokes_comes_first_and_clears_no_limit():
    through = piece(Round(16), (-420, 60, 160), (-420, -60, 160), name="through")
    found = make_clearances([BRIDGE, through], BICYCLE, Drive())
    assert [(gap.tube, gap.spokes) for gap in found.tyre] == [
        ("through", True), ("bridge", False)]
    assert found.tyre[0].spot.gap > 100 and not found.tyre[0].clears(1)
    assert found.tyre[1].clears(14) and not found.tyre[1].clears(15)


def test_a_hoop_that_goes_round_the_wheel_is_not_in_its_spokes():
    # Both legs stand beside the spokes, the crown below the tread.
    hoop = piece(Bent(16, 80), (-420, 79.9, -192), (-420, -79.9, -192), name="hoop", turn=90)
    assert hoop.tube.start[2] - 58 > -WHEEL.middle > hoop.tube.pose.origin[2] - 58
    assert not make_clearances([hoop], BICYCLE, Drive()).tyre[0].spokes


def test_the_pedal_is_off_the_front_tyre_by_what_is_left_of_the_front_centre():
    front = StandingWheel("front", WHEEL, (600.0, 0.0, 58.0))
    bicycle = Bicycle(points={"axle": AXLE}, wheels=(REAR, front))
    found = make_clearances([BRIDGE], bicycle, Drive(crank=165))
    assert found.toe_overlap == pytest.approx(math.hypot(600, 58) - 165 - 300.5)


def test_published_values_are_guidance_with_their_source():
    # Tyre to frame 1.6 mm (16 CFR 1512.11(b)), shoe to front wheel
    # 89 mm (16 CFR 1512.17(d)), lean 25 deg.
    front = StandingWheel("front", WHEEL, (550.0, 0.0, 58.0))
    bicycle = Bicycle(points={"axle": AXLE}, wheels=(REAR, front), ground=Ground(0.0, 242.5))
    found = make_clearances([BRIDGE], bicycle, Drive(crank=165, pedal=Pedal(150, 14)))
    rules = {one.source: (one.least, one.unit, one.ok) for one in found.guidance}
    assert rules == {"16 CFR 1512.11(b)": (1.6, "mm", True),
                    "16 CFR 1512.17(d)": (89.0, "mm", False), "16 CFR 1512": (25.0, "deg", False)}


def test_a_plate_with_a_width_keeps_clear_by_its_nearer_side():
    # The middle plane of the wheel is y 0: a face at 40 with the thickness away from it, or towards
    # it, stands 40 or 34 from it, and so much nearer the tyre's side.
    gaps = {}
    for turn in (0, 180):
        plate = Tube(Plate(6, 20), AXLE + np.array((100, 40, 230)),
                     AXLE + np.array((-100, 40, 230)), "guard", turn=turn + 90)
        cut = make_piece(plate, plain_end(plate, "start"), plain_end(plate, "end"))
        found, = make_clearances([cut], BICYCLE, Drive()).tyre
        gaps[float(plate.pose.axes[1][1]) > 0] = found.spot.gap
    assert gaps[False] - gaps[True] == pytest.approx(6, abs=1) and min(gaps.values()) > 0


def test_a_plate_without_a_width_is_left_out_and_said_so():
    plate = piece(Plate(6), (-20, 60, 5), (-410, 60, 58), name="dropout")
    found = make_clearances([BRIDGE, plate], BICYCLE, Drive())
    assert found.left_out == ("dropout",)
    assert {gap.tube for gap in found.tyre} == {"bridge"}


@pytest.mark.parametrize(("bicycle", "drive", "says"), [
    (None, Drive(), "rear_wheel"),
    (Bicycle(points={"axle": AXLE}), Drive(slot=Slot(20, 0, 10)), "rear_wheel"),
    (None, Drive(sprockets=Sprockets(44, 18)), "chain_stay and drop"),
    (BICYCLE, Drive(sprockets=Sprockets(130, 130)), "check the teeth")])
def test_what_is_missing_is_named_with_what_would_mend_it(bicycle, drive, says):
    with pytest.raises(CoperError, match=says) as raised:
        make_clearances([BRIDGE], bicycle, drive)
    assert raised.value.where in ("bicycle", "drive.ring")


def test_cranks_are_measured_without_any_wheel():
    found = make_clearances(STAYS, None, Drive(crank=165, crank_inside=62))
    assert found.tyre == () and found.crank[0].spot.gap == pytest.approx(62 - 58, abs=1e-6)


def test_the_record_holds_every_gap_with_its_place():
    found = make_clearances([BRIDGE], BICYCLE, Drive(
        crank=165, crank_inside=62, heel=ShoeHeel(180, 90), sprockets=Sprockets(44, 18)))
    record = clearance_record(found)
    row, = record["clearance"]
    assert set(row) == {"wheel", "axle", "tube", "side", "gap", "at", "spokes"}
    assert set(row["at"]) == {"along", "clock", "x", "y", "z"}
    assert record["crank"][0]["tube"] == record["heel"][0]["tube"] == "bridge"
    assert record["chain"]["ring"] == 44 and record["toe"] is None
