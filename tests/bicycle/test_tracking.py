"""What readings at the dropouts say: published values, laws, and what calls for another look."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.bicycle.tracking.doubts import good
from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.skew import stay_skew
from coper.bicycle.tracking.straight_edge import StraightEdge, lay
from coper.bicycle.tracking.string_gaps import string_faces, string_gap
from coper.bicycle.tracking.tracking import DROPOUT_LIMIT, TrackingReadings, own_limit, track
from coper.errors import CoperError
from coper.telling.words.tracking import advice
from coper.telling.words.tracking_doubts import doubts
from tests.profiles import examples

REAR = RearEnd(31.8, 28.6, 570.0, 410.0, 130.0, thickness=5.0, rim_radius=253.5)
BARE, BLOCKS = StraightEdge(), StraightEdge(spacer=60.0)


def edge_pair(off, width=130.0, edge=BARE, rear=REAR):
    """The readings of a rear end ``off`` to the left, by the edge's own reading of each face."""
    laid = lay(rear, edge)
    return LeftRight(laid.reading(width / 2 + off), laid.reading(width / 2 - off))


def string_pair(off, width=130.0, rear=REAR):
    return LeftRight(*(string_gap(rear, width / 2 + way * off + rear.thickness) for way in (1, -1)))


def read(**readings):
    return track(REAR, BARE, TrackingReadings(**readings))


# Computed: the string test's 2 delta (1 - d / L), delta 1.5, d 410, L 980 (method read).
def test_a_string_round_a_thin_head_tube_gives_the_published_difference():
    thin = replace(REAR, head_diameter=1e-9)
    pair = string_pair(1.5, rear=thin)
    assert pair.left - pair.right == pytest.approx(1.74489795918, abs=1e-10)


def test_a_head_tube_of_real_thickness_changes_the_published_difference_by_little():
    pair = string_pair(1.5)
    assert pair.left - pair.right == pytest.approx(1.74489795918, abs=0.002)
    assert pair.left - pair.right != pytest.approx(1.74489795918, abs=1e-6)


# Computed: stays unequal by 1 mm on 130, atan(1 / 130).
def test_stays_unequal_by_1_mm_on_130_skew_the_axle_as_published():
    assert stay_skew(LeftRight(411.0, 410.0), 130.0).angle == pytest.approx(0.4407280728, abs=1e-10)


def test_a_rear_end_a_quarter_inch_out_reads_half_an_inch_apart():
    # the trade's case, common practice, no source
    for edge in (BARE, StraightEdge(spacer=80.0)):
        pair = edge_pair(6.35, edge=edge)
        assert abs(pair.left - pair.right) == pytest.approx(12.7)
        assert track(REAR, edge, TrackingReadings(edge=pair)).off == pytest.approx(6.35)


def test_the_usual_limit_is_the_published_one():
    assert DROPOUT_LIMIT.mm == 0.5  # Barnett's Manual, 5th ed., ch. 8, dropout faces
    assert "Barnett" in DROPOUT_LIMIT.source
    assert good(read(edge=edge_pair(0.49))) and not good(read(edge=edge_pair(0.51)))
    assert good(track(REAR, BARE, TrackingReadings(edge=edge_pair(0.51)), own_limit(0.6)))


@pytest.mark.parametrize("edge", [BARE, BLOCKS, StraightEdge(thickness=5.0)])
def test_a_straight_frame_reads_the_same_on_both_sides_and_is_left_alone(edge):
    found = track(REAR, edge, TrackingReadings(
        edge=edge_pair(0.0, edge=edge), string=string_pair(0.0), width=130.0,
        stays=LeftRight(412.0, 412.0)))
    assert found.readings.edge.left == found.readings.edge.right == found.expected_edge
    assert found.readings.string.left == pytest.approx(found.expected_string)
    assert (found.off, found.rim.front, found.rim.rear) == pytest.approx((0, 0, 0), abs=1e-12)
    assert good(found) and doubts(found) == () and advice(found) == (
        "Within the limit: leave it alone.",)


@pytest.mark.parametrize(("edge", "face"), [(BARE, "inner"), (BLOCKS, "outer")])
def test_blocks_take_the_edge_outside_the_dropouts(edge, face):
    assert lay(REAR, edge).face == face


def test_a_thicker_head_tube_makes_the_edge_run_inward_to_the_rear():
    stands = [lay(replace(REAR, head_diameter=size), BARE).stand for size in (28.6, 31.8, 44.0)]
    assert stands[0] == 14.3 and stands == sorted(stands, reverse=True)


OFFS = st.floats(-12, 12)


@given(off=OFFS, width=st.floats(118, 137), blocks=st.booleans())
@examples(40)
def test_readings_give_back_the_off_and_the_width_that_made_them(off, width, blocks):
    edge = StraightEdge(spacer=80.0) if blocks else BARE
    found = track(REAR, edge, TrackingReadings(edge=edge_pair(off, width, edge),
                                       string=string_pair(off, width)))
    for faces in (found.edge, found.string):
        assert (faces.off, faces.width) == pytest.approx((off, width), abs=1e-9)


def test_a_far_side_of_an_edge_outside_the_dropouts_is_refused_and_not_passed_over():
    with pytest.raises(CoperError, match="its thickness does not count") as raised:
        lay(REAR, StraightEdge(spacer=60.0, thickness=5.0))
    assert raised.value.where == "edge thickness"


@given(off=OFFS, longer=st.floats(-8, 8))
@examples(30)
def test_a_mirrored_frame_tells_the_same_with_the_other_sign(off, longer):
    pair, gaps, stays = edge_pair(off), string_pair(off), LeftRight(410 + longer, 410.0)
    one = read(edge=pair, string=gaps, stays=stays, width=130.0)
    other = read(edge=LeftRight(pair.right, pair.left), string=LeftRight(gaps.right, gaps.left),
                 stays=LeftRight(stays.right, stays.left), width=130.0)
    for get in (lambda f: f.off, lambda f: f.string.off, lambda f: f.skew.angle,
                lambda f: f.rim.front, lambda f: f.rim.rear):
        assert get(other) == pytest.approx(-get(one), abs=1e-9)
    assert (other.moves.left, other.moves.right) == pytest.approx(
        (-one.moves.right, -one.moves.left), abs=1e-9)


@given(off=OFFS, scale=st.floats(0.5, 2))
@examples(30)
def test_a_frame_twice_as_large_reads_twice_as_much(off, scale):
    sizes = {name: getattr(REAR, name) * scale for name in RearEnd.__dataclass_fields__}
    for make in (edge_pair, string_pair):
        small, large = make(off), make(off * scale, 130 * scale, rear=RearEnd(**sizes))
        assert (large.left, large.right) == pytest.approx(
            (small.left * scale, small.right * scale))


@given(off=OFFS, width=st.floats(118, 137))
@examples(30)
def test_after_the_moves_the_hub_stands_in_the_middle(off, width):
    moves = read(edge=edge_pair(off, width), width=width).moves
    faces = off + width / 2 + moves.left, off - width / 2 + moves.right
    assert faces == pytest.approx((65, -65), abs=1e-9)


@given(longer=st.floats(-10, 10), off=OFFS)
@examples(30)
def test_the_rim_runs_where_a_wheel_square_to_the_axle_runs(longer, off):
    found = read(edge=edge_pair(off), stays=LeftRight(400 + longer, 400.0), width=130.0)
    left, right = np.array([-longer, 65.0]), np.array([0.0, -65.0])
    axle = (left - right) / np.linalg.norm(left - right)
    ahead = np.array([axle[1], -axle[0]])  # square to the axle, forward
    assert ahead[0] > 0
    assert found.rim.front == pytest.approx(off + 253.5 * ahead[1], abs=1e-9)
    assert found.rim.rear == pytest.approx(off - 253.5 * ahead[1], abs=1e-9)


def test_a_longer_left_stay_points_the_wheel_to_the_left():
    found = read(stays=LeftRight(411.0, 410.0))
    assert found.rim.front > 0 > found.rim.rear and found.rim.middle == 0 and found.off is None


def test_a_reading_error_is_passed_on_as_uncertainty():
    pair = edge_pair(3.0)
    wrong = LeftRight(pair.left + 0.25, pair.right - 0.25)
    found = read(edge=wrong)
    assert abs(found.off - 3.0) <= found.faces.uncertainty + 1e-9
    gaps = string_pair(3.0)
    wrong = string_faces(REAR, LeftRight(gaps.left + 0.25, gaps.right - 0.25))
    assert 0.25 < abs(wrong.off - 3.0) <= wrong.uncertainty * 1.01


def test_a_misread_side_is_found_by_the_other_way_of_reading():
    pair = edge_pair(2.0)
    found = read(edge=LeftRight(pair.left, pair.right + 3), string=string_pair(2.0))
    said = doubts(found)[0]
    assert "disagree by 1.50 mm" in said and "Read the right side again" in said


def test_the_measured_width_belies_a_misread_edge_and_the_string_is_taken():
    pair = edge_pair(2.0)
    found = read(edge=LeftRight(pair.left, pair.right + 3), string=string_pair(2.0), width=130.0)
    assert found.off == pytest.approx(2.0)
    assert any("straight edge's readings make the dropouts 133.00 mm apart" in said
               and "off may be wrong by 1.50 mm" in said for said in doubts(found))


def test_readings_that_cannot_be_right_are_never_good():
    pair = edge_pair(0.0)
    found = read(edge=LeftRight(pair.left + 2, pair.right + 2), width=130.0)
    assert found.within and not good(found)
    assert advice(found)[0].startswith("Read again before you do anything") and len(
        advice(found)) == 1
    wide = read(edge=LeftRight(pair.left + 4, pair.right), width=130.0)
    assert advice(wide)[0] == advice(found)[0]


def test_readings_good_to_their_error_raise_no_doubt():
    pair, gaps = edge_pair(2.0), string_pair(2.0)
    found = read(edge=LeftRight(pair.left + 0.25, pair.right - 0.25),
                 string=LeftRight(gaps.left - 0.24, gaps.right + 0.24), width=130.0)
    assert doubts(found) == ()


def test_dropouts_far_from_the_hubs_width_are_doubted():
    pair = edge_pair(2.0)
    (said,) = doubts(read(edge=LeftRight(pair.left + 20, pair.right)))
    assert "150.00 mm apart" in said and "130.00 mm" in said


def test_a_measure_too_near_the_limit_to_tell_is_said():
    (said,) = doubts(read(edge=edge_pair(0.6)))
    assert "too near the limit" in said
    assert doubts(read(edge=edge_pair(1.6))) == ()


def bent(left_shorter):
    """Where a tube from the origin along x ends, as an arc, its left fibre shorter by that much."""
    length, across = 400.0, 20.0
    turn = left_shorter / across  # the fibres' lengths differ by turn times their distance
    return length / turn * (1 - np.cos(turn))


@pytest.mark.parametrize("off", [3.0, -3.0])
def test_heat_is_put_on_the_side_that_the_rear_end_has_to_go_to(off):
    lines = advice(read(edge=edge_pair(off)))
    way = "right" if off > 0 else "left"
    assert f"3.00 mm (1/8 in) to the {way}. Heat pulls it there from the {way} side" in lines[0]
    # A stay shortened on its left bends to the left: + there, as in the frame's axes.
    assert np.sign(bent(0.1 if way == "left" else -0.1)) == (1 if way == "left" else -1)
    skins = [line.split(" side, the ")[1].split(" ")[0] for line in lines[:2]]
    assert skins == (["inner", "outer"] if off > 0 else ["outer", "inner"])


@pytest.mark.parametrize(("width", "skin"), [(134.0, "inner"), (126.0, "outer")])
def test_dropouts_of_the_wrong_width_go_half_each(width, skin):
    found = read(width=width)
    assert (found.moves.left, found.moves.right) == pytest.approx(
        ((130 - width) / 2, (width - 130) / 2))
    assert all(f"the {skin} one" in line for line in advice(found)[:2])


def test_one_side_that_is_within_the_limit_is_left():
    lines = advice(read(edge=edge_pair(1.0, 132.0), width=132.0))
    assert "2.00 mm" in lines[0] and lines[1].startswith("Right dropout: leave it")


def test_more_than_heat_pulls_is_said():
    assert not any("quarter inch" in line for line in advice(read(edge=edge_pair(6.35))))
    assert any("quarter inch" in line for line in advice(read(edge=edge_pair(7.5))))


def test_unequal_stays_are_no_work_for_heat():
    (line,) = advice(read(stays=LeftRight(410.0, 412.0)))
    assert line.startswith("Right stay 2.00 mm") and "heat does not mend that" in line


@pytest.mark.parametrize(("sizes", "words"), [
    ({"head_diameter": 0.0}, "head tube diameter 0 mm is not a size"),
    ({"hub": float("nan")}, "hub width nan mm is not a size"),
    ({"thickness": -5.0}, "dropout thickness -5 mm"),
    ({"head_to_seat": 30.0}, "head tube and seat tube 30 mm apart would overlap"),
    ({"seat_to_dropout": 14.0}, "seat tube and dropout 14 mm apart"),
])
def test_a_frame_that_cannot_be_is_refused(sizes, words):
    with pytest.raises(CoperError, match=words):
        replace(REAR, **sizes)


def test_an_edge_that_runs_into_the_dropout_names_the_blocks_that_would_do():
    with pytest.raises(CoperError, match="use blocks of 57 mm or more"):
        lay(REAR, StraightEdge(spacer=53.0))
    assert lay(REAR, StraightEdge(spacer=57.0)).face == "outer"


@pytest.mark.parametrize(("readings", "words"), [
    ({"edge": LeftRight(-1.0, 3.0)}, "straight edge: -1 mm on the left cannot be a reading"),
    ({"string": LeftRight(3.0, float("inf"))}, "string: inf mm on the right cannot be a reading"),
    ({"string": LeftRight(30.0, 0.0)}, "no gap on the right"),
    ({"edge": LeftRight(0.0, 120.0)}, "60 mm off the middle"),
    ({"string": LeftRight(4000.0, 4000.0)}, "off the hub's width"),
    ({"width": 190.0}, "190 mm between dropouts for a hub of 130 mm"),
    ({"stays": LeftRight(410.0, 4100.0)}, "too far apart"),
    ({"width": 0.0}, "width 0 mm"),
    ({"stays": LeftRight(0.0, 410.0)}, "stay 0 mm"),
])
def test_readings_that_cannot_be_are_refused(readings, words):
    with pytest.raises(CoperError, match=words):
        read(**readings)


@pytest.mark.parametrize("mm", [0.0, -1.0, 26.0, float("nan")])
def test_a_limit_that_is_none_is_refused(mm):
    with pytest.raises(CoperError, match="cannot be a limit"):
        own_limit(mm)
