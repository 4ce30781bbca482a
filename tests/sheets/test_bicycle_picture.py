"""A bicycle with what was measured on it as dimension lines."""

import re
from pathlib import Path

import numpy as np
import pytest

from coper.bicycle.measured import Measured
from coper.drawing.bounds import leaves
from coper.drawing.marks import Group, Text
from coper.job.read import parse_job
from coper.sheets.bicycle_picture import NAME, WIDE_MM, bicycle_picture
from coper.units import lengths_in
from tests.pages.room import overlapping

TOP = Path(__file__).parents[2]
DEMO = (TOP / "demo" / "wagtail.toml").read_text()
OTHER = re.sub(r"(?m)^(reach|stack) = .*\n", "", DEMO).replace(
    "[bicycle]", "[bicycle]\nwheelbase = 963.7\nfront_centre = 551\nheight = 236.4\n"
    "axle_back = 415\nhead_bottom = [382.6, 380.6]")
TRIKE = re.sub(r"(?m)^rear_brake = .*\n", "", DEMO).replace(
    "rear_hub = 130", "rear_hub = 130\nrear_track = 600")
TEXTS = {"demo": DEMO, "other keys": OTHER, "trike": TRIKE,
         **{name: (TOP / "coper/job/starters" / f"{name}.toml").read_text()
            for name in ("bicycle-mm", "bicycle-in")}}


def picture(text):
    job = parse_job(text)
    with lengths_in(job.units):
        return job, bicycle_picture(job.bicycle, job.measured)


def groups(page):
    return {mark.name.removeprefix(NAME): mark for mark in page.marks
            if isinstance(mark, Group) and mark.name.startswith(NAME)}


def words(group):
    return [mark.words for mark in leaves(group.marks) if isinstance(mark, Text)]


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_every_measured_number_has_its_line_with_its_value_and_no_other_has(text):
    job, page = picture(text)
    found = groups(page)
    assert {key for key in Measured.__dataclass_fields__ if job.measured.has(key)} == set(found)
    assert all(len(words(group)) == 1 for group in found.values())


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_no_words_of_the_picture_stand_on_others(text, units):
    job = parse_job(text)
    with lengths_in(units):
        page = bicycle_picture(job.bicycle, job.measured)
    assert list(overlapping(page.marks)) == []


def test_values_are_in_the_jobs_unit():
    assert words(groups(picture(DEMO)[1])["chain_stay"]) == ["419"]
    job = parse_job(DEMO)
    with lengths_in("in"):
        page = bicycle_picture(job.bicycle, job.measured)
    assert words(groups(page)["chain_stay"]) == ["16.496"]


def test_a_length_is_drawn_to_the_scale_of_the_wheels():
    job, page = picture(DEMO)
    found = groups(page)
    lines = [leaf.points for leaf in leaves(found["reach"].marks) if not isinstance(leaf, Text)]
    across = np.ptp(np.concatenate(lines)[:, 0])
    wide = sum(wheel.wheel.radius for wheel in job.bicycle.wheels) + 963.69
    assert across / WIDE_MM == pytest.approx(345 / wide, rel=0.01)


def test_part_of_the_numbers_give_part_of_the_picture():
    job = parse_job('[bicycle]\ndrop = 58\nchain_stay = 419\n')
    page = bicycle_picture(job.bicycle, job.measured)
    assert set(groups(page)) == {"drop", "chain_stay"}


def test_a_bicycle_of_which_nothing_is_known_has_no_picture():
    job = parse_job("[bicycle]\nshell = 68\n")
    assert bicycle_picture(job.bicycle, job.measured) is None
