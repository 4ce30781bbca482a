"""The ``[drive]`` table: what it says, and its faults at their keys."""

import pytest

from coper import JobError, parse_job
from coper.bicycle.clearance.drive import Drive, Pedal, ShoeHeel, Sprockets
from coper.bicycle.clearance.slot import Slot

TUBE = """
[tubes.shell]
shape = "40 x 3"
start = { at = [0, -34, 0] }
end = { at = [0, 34, 0] }
"""


def drive(text, head=""):
    return parse_job(f"{head}\n[drive]\n{text}\n{TUBE}").drive


def test_every_key_is_read():
    assert drive("""
slot = 22
slot_angle = "-12°30'"
slot_at = 8
ring = 44
sprocket = 18
crank = 165
crank_inside = 62
heel = { back = 180, out = 90 }
pedal = { out = 150, under = 14 }
""") == Drive(Slot(22, -12.5, 8), Sprockets(44, 18), 165, 62, ShoeHeel(180, 90), Pedal(150, 14))


def test_a_job_without_the_table_has_an_empty_drive():
    assert parse_job(TUBE).drive == drive("") == Drive()


def test_the_axle_is_drawn_half_way_in_a_level_slot_unless_given():
    assert drive("slot = 22").slot == Slot(22, 0.0, 11)
    assert drive("slot = 22\nslot_at = 0").slot.at == 0


def test_lengths_are_in_the_jobs_unit():
    found = drive('slot = 1\ncrank = "165mm"\nheel = { back = 7, out = "3-1/2in" }', 'units = "in"')
    assert found.slot.travel == 25.4 and found.crank == 165
    assert found.heel == ShoeHeel(pytest.approx(177.8), pytest.approx(88.9))


@pytest.mark.parametrize(("text", "where", "cure"), [
    ("slotted = 22", "drive.slotted", "did you mean slot?"),
    ("slot = 0", "drive.slot", "above 0"),
    ("slot = 'long'", "drive.slot", "long"),
    ("slot = 20\nslot_at = 21", "drive.slot_at", "give 0 to 20 mm"),
    ("slot = 20\nslot_at = -1", "drive.slot_at", "give 0 to 20 mm"),
    ("slot = 20\nslot_angle = 120", "drive.slot_angle", "give -90 to 90"),
    ("slot = 20\nslot_angle = 'level'", "drive.slot_angle", "62"),
    ("slot_at = 8", "drive.slot", "slot = 22"),
    ("slot_angle = 8", "drive.slot", "slot = 22"),
    ("ring = 44", "drive.sprocket", "sprocket = 18"),
    ("sprocket = 18", "drive.ring", "ring = 44"),
    ("ring = 44.5\nsprocket = 18", "drive.ring", "whole number, 6 to 130"),
    ("ring = true\nsprocket = 18", "drive.ring", "whole number"),
    ("ring = 44\nsprocket = 5", "drive.sprocket", "whole number"),
    ("ring = 44\nsprocket = " + "9" * 400, "drive.sprocket", "whole number"),
    ("ring = 44\nsprocket = '18'", "drive.sprocket", "whole number"),
    ("crank = -165", "drive.crank", "above 0"),
    ("crank_inside = 62", "drive.crank", "crank = 165"),
    ("crank = 165\ncrank_inside = 0", "drive.crank_inside", "above 0"),
    ("heel = { back = 180, out = 90 }", "drive.crank", "crank = 165"),
    ("crank = 165\nheel = { back = 180 }", "drive.heel.out", "missing"),
    ("crank = 165\nheel = { back = 180, out = 90, in = 3 }", "drive.heel.in", "no such key"),
    ("crank = 165\nheel = 180", "drive.heel", "write { back = …, out = … }"),
    ("crank = 165\npedal = { out = 150, under = 'x' }", "drive.pedal.under", "x"),
    ("crank = 165\npedal = {}", "drive.pedal.under", "missing"),
])
def test_a_fault_is_named_at_its_key_with_what_would_mend_it(text, where, cure):
    with pytest.raises(JobError) as raised:
        drive(text)
    found = {fault.where: str(fault) for fault in raised.value.faults}
    assert cure in found[where]


def test_all_faults_of_the_table_are_listed_at_once():
    with pytest.raises(JobError) as raised:
        drive("slot = -1\nring = 44\nheel = { out = 'wide' }\ncranck = 3")
    assert {fault.where for fault in raised.value.faults} == {
        "drive.slot", "drive.sprocket", "drive.crank", "drive.heel.back", "drive.heel.out",
        "drive.cranck"}


def test_a_table_that_is_none_is_a_fault():
    with pytest.raises(JobError, match="drive: 3 is not a table"):
        parse_job(f"drive = 3\n{TUBE}")
