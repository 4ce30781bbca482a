"""What ``[drive]`` says of fork, brakes, mudguards and rims, and its faults at their keys."""

import pytest

from coper import JobError, parse_job
from coper.bicycle.clearance.fitted import Brake, Crown, Fitted, ForkInside, Guard, Hole

BICYCLE = """
[bicycle]
drop = 58
chain_stay = 419
rear_wheel = "40-507"
"""
FORK = """
head_angle = 70
head_bottom = [382.6, 380.6]
fork_length = 350
rake = 45
front_wheel = "40-507"
"""
TUBES = """
[points]
hole = [-215, 3, 297]
[tubes.bridge]
shape = "10 x 1"
start = { at = [-215, 30, 300] }
end = { at = [-211, -30, 294] }
[tubes.stay]
shape = "14 x 1"
start = { at = [0, 30, 300] }
end = { at = [-400, 60, 60] }
mirror = true
[tubes.hoop]
shape = "16 bent to 110 x 1.2"
start = { at = [-370, 70, 397] }
end = { at = [-370, -70, 397] }
"""


def drive(text, bicycle=BICYCLE + FORK, head="", tubes=TUBES):
    return parse_job(f"{head}\n{bicycle}\n[drive]\n{text}\n{tubes}").drive


def test_every_key_is_read():
    found = drive("""
fork_crown = { under = 24, length = 36 }
fork_blades = 62
rear_brake = { bolt = "bridge", reach = [55, 73] }
front_brake = { hole = 12, ahead = 25, reach = [70, 90], pad = -1 }
rear_guard = { width = 50, gap = 12 }
front_guard = { width = 48, gap = 9 }
rear_rim_off = 1.5
front_rim_off = -0.5
""")
    assert found.fork == ForkInside(Crown(24, 36), 62)
    assert found.rear == Fitted(Brake((-213, 0, 297), 55, 73, 0), Guard(50, 12), 1.5)
    assert found.front == Fitted(Brake(Hole(12, 25), 70, 90, -1), Guard(48, 9), -0.5)


@pytest.mark.parametrize(("bolt", "at"), [
    ('"hole"', (-215, 3, 297)), ("[-200, 0, 290]", (-200, 0, 290)),
    ('{ from = "axle", by = [200, 0, 230] }', None),
    ('{ along = "bridge", by = 0 }', (-215, 30, 300))])
def test_a_bolt_is_any_point_of_the_job(bolt, at):
    found = drive(f"rear_brake = {{ bolt = {bolt}, reach = [55, 73] }}").rear.brake.bolt
    assert found == at if at else found[2] == 288


def test_a_point_comes_before_a_tube_of_the_same_name():
    tubes = TUBES.replace("hole = [", "bridge = [")
    found = drive('rear_brake = { bolt = "bridge", reach = [55, 73] }', tubes=tubes)
    assert found.rear.brake.bolt == (-215, 3, 297)


def test_lengths_are_in_the_jobs_unit():
    bicycle = '[bicycle]\naxle_back = 16\ndrop = 2\nrear_wheel = "40-507"'
    found = drive('rear_guard = { width = 2, gap = "12mm" }\nrear_rim_off = -0.1', bicycle,
                  'units = "in"', "[tubes.b]\nshape = '1 x 0.1'\nstart = { at = [0, 0, 0] }\n"
                  "end = { at = [9, 0, 0] }")
    assert found.rear == Fitted(None, Guard(50.8, 12), -2.54)


@pytest.mark.parametrize(("text", "where", "cure"), [
    ("fork_crown = 24", "drive.fork_crown", "{ under = …, length = … }"),
    ("fork_crown = { under = 24 }", "drive.fork_crown.length", "missing"),
    ("fork_crown = { under = 24, length = 0 }", "drive.fork_crown.length", "above 0"),
    ("fork_crown = { under = 350, length = 30 }", "drive.fork_crown.under", "past the axle"),
    ("fork_crown = { under = 24, length = 30, lenght = 3 }", "drive.fork_crown.lenght",
     "mean length?"),
    ("fork_blades = 0", "drive.fork_blades", "above 0"),
    ("fork_blade = 60", "drive.fork_blade", "mean fork_blades?"),
    ("rear_guard = { width = 50 }", "drive.rear_guard.gap", "missing"),
    ("rear_guard = { width = -50, gap = 12 }", "drive.rear_guard.width", "above 0"),
    ("rear_guard = 50", "drive.rear_guard", "{ width = …, gap = … }"),
    ("rear_rim_off = 45", "drive.rear_rim_off", "below 0 to the right"),
    ("front_rim_off = 'left'", "drive.front_rim_off", "left"),
    ("rear_brake = 57", "drive.rear_brake", "reach = [47, 57]"),
    ("rear_brake = { reach = [55, 73] }", "drive.rear_brake.bolt", "missing"),
    ("rear_brake = { bolt = 'bridge' }", "drive.rear_brake.reach", "missing"),
    ("rear_brake = { bolt = 'brigde', reach = [55, 73] }", "drive.rear_brake.bolt", "mean bridge?"),
    ("rear_brake = { bolt = 'stay', reach = [55, 73] }", "drive.rear_brake.bolt", "two of stay"),
    ("rear_brake = { bolt = 'hoop', reach = [55, 73] }", "drive.rear_brake.bolt", "is bent"),
    ("rear_brake = { bolt = 12, reach = [55, 73] }", "drive.rear_brake.bolt", "[x, y, z]"),
    ("rear_brake = { bolt = 'hole', reach = [73, 55] }", "drive.rear_brake.reach",
     "write the shortest first"),
    ("rear_brake = { bolt = 'hole', reach = [55] }", "drive.rear_brake.reach", "two lengths"),
    ("rear_brake = { bolt = 'hole', reach = 55 }", "drive.rear_brake.reach", "not a list"),
    ("rear_brake = { bolt = 'hole', reach = [0, 55] }", "drive.rear_brake.reach[0]", "above 0"),
    ("rear_brake = { bolt = 'hole', reach = [55, 73], pad = 250 }", "drive.rear_brake.pad",
     "off any rim"),
    ("rear_brake = { hole = 12, reach = [55, 73] }", "drive.rear_brake.hole", "front brake's"),
    ("rear_brake = { bolt = 'hole', ahead = 9, reach = [55, 73] }", "drive.rear_brake.ahead",
     "add hole"),
    ("front_brake = { bolt = 'hole', hole = 9, reach = [55, 73] }", "drive.front_brake.bolt",
     "take out hole"),
    ("front_brake = { hole = -9, reach = [55, 73] }", "drive.front_brake.hole", "above 0"),
])
def test_a_fault_is_one_line_at_its_key_with_what_would_mend_it(text, where, cure):
    with pytest.raises(JobError) as raised:
        drive(text)
    (fault,) = raised.value.faults
    assert fault.where == where and cure in str(fault)


@pytest.mark.parametrize(("text", "key"), [
    ("fork_blades = 60", "fork_blades"), ("front_guard = { width = 50, gap = 12 }", "front_guard"),
    ("front_brake = { hole = 12, reach = [55, 73] }", "front_brake")])
def test_what_there_is_no_wheel_for_is_a_fault(text, key):
    with pytest.raises(JobError, match=f"drive.{key}: the bicycle's numbers give no front wheel"):
        drive(text, BICYCLE)


def test_two_rear_wheels_have_no_brake_in_the_middle_and_no_one_rim():
    trike = f"{BICYCLE}\nrear_track = 600"
    for key in ("rear_brake = { bolt = 'hole', reach = [55, 73] }", "rear_rim_off = 2"):
        with pytest.raises(JobError, match="two rear wheels"):
            drive(key, trike)
    assert drive("rear_guard = { width = 50, gap = 12 }", trike).rear.guard == Guard(50, 12)


def test_a_bicycle_with_a_fault_has_only_that_one():
    with pytest.raises(JobError) as raised:
        drive("fork_blades = 60\nrear_rim_off = 1", BICYCLE.replace("chain_stay", "chainstay"))
    assert all(fault.where.startswith("bicycle.") for fault in raised.value.faults)
