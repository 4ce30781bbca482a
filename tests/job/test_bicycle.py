"""The bicycle of a job: read, solved, and every fault with its key and what would mend it."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import CoperError, JobError, make_pieces, parse_job
from tests.profiles import examples

REAR = """
[bicycle]
drop = 58
chain_stay = 419
rear_wheel = "47-507"
rear_hub = 130
shell = 68
seat_angle = 72
"""
FRONT = """
head_angle = 70
reach = 340
stack = 481
head_tube = 120
fork_length = 335
rake = 45
front_wheel = "47-507"
"""
STAY = """
[tubes.stay]
shape = "22.2 x 0.8"
start = { at = [0, 20, 0] }
end = { at = "axle-left", back = 15 }
"""


def without(text, *keys):
    for key in keys:
        text, count = re.subn(rf"(?m)^{key} = .*\n", "", text)
        assert count == 1
    return text


BAD = [
    # a value by itself
    ("bicycle = 3", "bicycle", "not a table"),
    (REAR + "chainstay = 3", "bicycle.chainstay", "did you mean chain_stay?"),
    (REAR.replace("58", "'high'"), "bicycle.drop", "high"),
    (REAR.replace("419", "-419"), "bicycle.chain_stay", "above 0"),
    (REAR.replace("419", "0"), "bicycle.chain_stay", "above 0"),
    (REAR.replace('"47-507"', '"507-47"'), "bicycle.rear_wheel", 'such as "47-507"'),
    (REAR.replace('"47-507"', "300"), "bicycle.rear_wheel", "{ radius = 300, tyre = 47 }"),
    (REAR.replace('"47-507"', "{ radius = 300 }"), "bicycle.rear_wheel.tyre", "missing"),
    (REAR.replace('"47-507"', "{ radius = 300, tire = 4 }"), "bicycle.rear_wheel.tire",
     "did you mean tyre?"),
    (REAR.replace('"47-507"', "{ radius = 30, tyre = 47 }"), "bicycle.rear_wheel", "check both"),
    (REAR.replace("72", "172"), "bicycle.seat_angle", "from the horizontal at the back"),
    (REAR.replace("72", "18"), "bicycle.seat_angle", "from the horizontal at the back"),
    (REAR + FRONT + "lower_stack = -3", "bicycle.lower_stack", "below 0"),
    (REAR + "head_angle = 70\nhead_bottom = [1, 2, 3]", "bicycle.head_bottom", "write [x, z]"),
    (REAR + "head_angle = 70\nhead_bottom = [1, 'z']", "bicycle.head_bottom[1]", "z"),
    # missing
    (without(REAR, "drop"), "bicycle.drop", "or give height"),
    (without(REAR, "chain_stay"), "bicycle.chain_stay", "or give axle_back"),
    ("[bicycle]\nrear_hub = 130", "bicycle.drop", "missing"),
    (without(REAR, "drop", "rear_wheel") + "height = 242", "bicycle.rear_wheel",
     "height needs it"),
    (REAR + "head_angle = 70", "bicycle.head_bottom", "or front_centre, or wheelbase"),
    (REAR + without(FRONT, "head_angle"), "bicycle.head_angle", "needs it"),
    (REAR + without(FRONT, "stack"), "bicycle.stack", "reach needs it"),
    (REAR + without(FRONT, "head_tube"), "bicycle.head_tube", "reach needs it"),
    (REAR + without(FRONT, "rake"), "bicycle.rake", "fork_length needs it"),
    (REAR + without(FRONT, "fork_length"), "bicycle.fork_length", "rake needs it"),
    (REAR + without(FRONT, "reach", "stack", "front_wheel") + "wheelbase = 950",
     "bicycle.front_wheel", "wheelbase needs it"),
    ("[bicycle]" + without(FRONT, "reach", "stack") + "front_centre = 540", "bicycle.chain_stay",
     "missing"),
    # too much, and not the same
    (REAR + "height = 250", "bicycle.height",
     "250 mm, but drop and rear_wheel give 242.5 mm"),
    (REAR + FRONT + "height = 250", "bicycle.height",
     "head_angle, fork_length, rake, drop and rear_wheel give 237.79 mm"),
    (REAR + "axle_back = 405", "bicycle.axle_back", "but chain_stay and drop give 414.97 mm"),
    (REAR + FRONT + "front_centre = 600", "bicycle.front_centre",
     "600 mm, but reach, stack, head_tube, head_angle, fork_length and rake give"),
    (REAR + FRONT + "wheelbase = 1000", "bicycle.wheelbase", "fork_length, rake and chain_stay"),
    (REAR + FRONT + "head_bottom = [381, 360]", "bicycle.stack",
     "481 mm, but head_bottom, head_angle and head_tube give 472.76 mm"),
    # numbers of no bicycle
    (REAR.replace("58", "458"), "bicycle.drop", "the chain_stay is 419 mm"),
    (REAR.replace("58", "310"), "bicycle", "below the ground"),
    (REAR + FRONT.replace("340", "-340"), "bicycle", "overlap"),
    # its points in the job
    (REAR + "[points]\naxle = [0, 0, 0]", "points.axle", "[bicycle] already has a point axle"),
    (without(REAR, "rear_hub"), "tubes.stay.end.at",
     "the bicycle's numbers do not give axle-left; give drop, chain_stay, rear_hub"),
    (REAR + "[points]\nlug = { from = 'axle-lef', by = [0, 0, 0] }", "points.lug.from",
     "did you mean axle-left?"),
    (REAR + "[points]\ntop = { along = 'seat-axes', by = 3 }", "points.top.along",
     "did you mean seat-axis?"),
    (REAR + "[points]\ntop = { along = 'head-axis', by = 3 }", "points.top.along",
     "give head_angle in [bicycle]"),
    (REAR + "[points]\ntop = { along = 'seat-axis' }", "points.top.by", "missing"),
    (REAR + "[points]\ntop = { along = 'seat-axis', by = [1, 2, 3] }", "points.top.by",
     "not a number"),
    (REAR + "[points]\ntop = { along = 'seat-axis', by = 3, from = 'axle' }", "points.top.from",
     "take out from"),
]


@pytest.mark.parametrize(("text", "path", "said"), BAD, ids=lambda value: value[-40:])
def test_a_fault_is_named_with_its_key_and_how_to_mend_it(text, path, said):
    with pytest.raises(JobError) as caught:
        parse_job(text + STAY)
    found = [(fault.where, str(fault)) for fault in caught.value.faults]
    assert [line for where, line in found if where == path and said in line], found
    assert all("\n" not in line and "; " in line for _, line in found)


def test_a_bicycle_with_a_fault_does_not_make_a_fault_of_each_use_of_its_points():
    with pytest.raises(JobError) as caught:
        parse_job(REAR.replace("58", "true") + STAY)
    assert [fault.where for fault in caught.value.faults] == ["bicycle.drop"]


def test_all_that_is_missing_comes_at_once():
    with pytest.raises(JobError) as caught:
        parse_job("[bicycle]\nrear_hub = 130\nfront_hub = 100" + STAY)
    assert {fault.where for fault in caught.value.faults} == {
        f"bicycle.{key}" for key in ("drop", "chain_stay", "head_angle", "fork_length", "rake",
                                     "head_bottom")}


def test_tubes_and_points_use_the_bicycles_points_and_axes():
    job = parse_job(REAR + FRONT + """
    [points]
    dropout = { from = "axle-left", by = [0, 2, 0] }
    seat-top = { along = "seat-axis", by = 400 }
    head-low = { along = "head-axis", by = -10 }
    """ + STAY)
    axle = job.bicycle.points["axle-left"]
    assert job.tubes[0].end.at == axle
    assert job.points["dropout"] == (axle[0], axle[1] + 2, axle[2])
    # cos and sin of 72 degrees, to 12 places
    assert job.points["seat-top"] == pytest.approx(
        (-400 * 0.309016994375, 0, 400 * 0.951056516295), abs=1e-8)
    bottom, low = job.bicycle.points["head-bottom"], job.points["head-low"]
    assert low[0] > bottom[0] and low[2] == pytest.approx(bottom[2] - 10 * 0.939692620786)
    assert len(make_pieces(job)) == 1


def test_bare_numbers_of_the_bicycle_are_in_the_jobs_unit_and_angles_in_degrees():
    ours = parse_job('units = "in"\n[bicycle]\ndrop = 2.5\nchain_stay = "425mm"\n'
                     'rear_wheel = { radius = 12, tyre = 1.75 }\nseat_angle = "72°30\'"'
                     + STAY.replace("axle-left", "axle")).bicycle
    assert ours.parts.rear.axle[1] == 63.5
    assert ours.parts.rear.chain_stay == pytest.approx(425)
    assert (ours.parts.rear.wheel.radius, ours.parts.rear.wheel.tyre) == (304.8, 44.45)
    assert ours.parts.seat_angle == 72.5


def test_a_number_too_many_that_says_the_same_within_2_mm_is_welcome():
    job = parse_job(REAR + FRONT + "height = 237\naxle_back = 416\nfront_centre = 540.5" + STAY)
    assert job.bicycle == parse_job(REAR + FRONT + STAY).bicycle


def test_a_job_may_be_a_bicycle_only_but_has_no_pieces_then():
    job = parse_job(REAR + FRONT)
    assert job.tubes == () and job.bicycle is not None
    with pytest.raises(JobError, match="no tube"):
        make_pieces(job)


def test_a_frame_that_is_begun_loads_without_a_tube_and_has_no_pieces_either():
    job = parse_job("[points]\naxle = [1, 2, 3]\n[tubes]\n")
    assert job.tubes == () and job.points == {"axle": (1, 2, 3)}
    with pytest.raises(JobError, match=r"tubes: the job has no tube; .*\[tubes\.shell\]"):
        make_pieces(job)


JUNK = st.one_of(
    st.sampled_from(["nan", "-inf", "true", "[]", "{}", "''", "0", "-0.0", "1e5", "-99999",
                     "'47-507'", "90", "'1in'", "1e-9", "[380, 370]",
                     "{ radius = 1, tyre = 0.5 }"]),
    st.floats(-900, 900).map(repr))
KEYS = sorted(set(re.findall(r"(?m)^(\w+) =", REAR + FRONT)) | {
    "height", "axle_back", "front_centre", "wheelbase", "head_bottom", "lower_stack", "front_hub"})


@examples(200)
@given(st.dictionaries(st.sampled_from(KEYS), JUNK, max_size=4), st.sets(st.sampled_from(KEYS)))
def test_no_bicycle_ends_in_a_traceback(changed, left_out):
    lines = dict(line.split(" = ", 1) for line in (REAR + FRONT).splitlines() if " = " in line)
    kept = {key: value for key, value in lines.items() if key not in left_out} | changed
    try:
        bicycle = parse_job("\n".join(("[bicycle]", *(f"{key} = {value}" for key, value
                                                      in kept.items())))).bicycle
    except CoperError as error:
        assert "; " in str(error)
    else:
        assert all(abs(part) < 1e7 for point in bicycle.points.values() for part in point)
