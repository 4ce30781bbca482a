"""Points where a builder means them: on a tube, at a height, clear of a wheel."""

import json
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import parse_job
from coper.job.faults import JobError
from tests.cli.run import run
from tests.profiles import examples

REAR = """
[bicycle]
drop = 65
chain_stay = 440
rear_wheel = "47-507"
rear_hub = 130
"""

STAYS = """
[tubes.stay]
shape = "16 x 1"
start = { at = [-60, 30, 430] }
end = { at = [-435, 62, 65] }
mirror = true
"""

START, END = np.array((-60.0, 30, 430)), np.array((-435.0, 62, 65))
RADIUS = 507 / 2 + 47
AXLE = np.array((-math.sqrt(440**2 - 65**2), 0, 65))


def point(words, text=REAR + STAYS):
    return np.array(parse_job(f"{text}\n[points]\np = {words}\n").points["p"])


def test_by_is_measured_up_the_tube_from_its_start():
    found = point('{ along = "stay", by = 100 }')
    assert math.dist(found, START) == pytest.approx(100)
    assert np.cross(found - START, END - START) == pytest.approx(np.zeros(3), abs=1e-9)
    assert math.dist(found, END) < math.dist(START, END)


def test_of_twins_it_is_the_left_one_unless_the_right_is_asked_for():
    left = point('{ along = "stay", by = 100 }')
    right = point('{ along = "stay", by = 100, side = "right" }')
    assert left[1] > 30 and right == pytest.approx(left * (1, -1, 1))
    turned = STAYS.replace("30, 430", "-30, 430").replace("62, 65", "-62, 65")
    assert point('{ along = "stay", by = 100 }', REAR + turned) == pytest.approx(left)


def test_height_is_the_points_own_z():
    found = point('{ along = "stay", height = 249 }')
    assert found[2] == pytest.approx(249)
    assert np.cross(found - START, END - START) == pytest.approx(np.zeros(3), abs=1e-6)


def test_clear_of_a_wheel_is_its_tread_and_the_gap_away_seen_from_the_side():
    found = point('{ along = "stay", clear_of = "rear-wheel", gap = 15 }')
    assert np.hypot(*(found - AXLE)[[0, 2]]) == pytest.approx(RADIUS + 15)
    share = (found - START)[0] / (END - START)[0]
    assert 0 < share < 1


def test_a_bridge_clear_of_the_tyre_is_so_by_its_skin_and_is_one_line_an_end(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(REAR + STAYS + """
[tubes.bridge]
shape = "10 x 1"
start = { at = { along = "stay", clear_of = "rear-wheel", gap = 15 }, on = ["stay"] }
end = { at = { along = "stay", clear_of = "rear-wheel", gap = 15, side = "right" }, on = ["stay"] }
""")
    bridge = parse_job(file.read_text()).tubes[1]
    start, end = np.array(bridge.start.at), np.array(bridge.end.at)
    assert end == pytest.approx(start * (1, -1, 1)) and start[1] > 0
    assert np.hypot(*(start - AXLE)[[0, 2]]) == pytest.approx(RADIUS + 15 + 5)
    # what clearance measures between the tyre and the tube is what was asked for
    status, out, _ = run("clearance", str(file), "--json")
    assert status == 0
    gaps = [row["gap"] for row in json.loads(out)["clearance"] if row["tube"] == "bridge"]
    assert min(gaps) == pytest.approx(15, abs=1e-6)


@examples(40)
@given(st.floats(-300, 300), st.floats(-300, 300), st.floats(60, 500), st.floats(1, 60))
def test_a_place_clear_of_the_wheel_is_so_far_from_it_wherever_the_tube_runs(x, z, rise, gap):
    text = f"""
[tubes.post]
shape = "20 x 1"
start = {{ at = [{AXLE[0] + x / 10}, 40, {AXLE[2] + z / 10}] }}
end = {{ at = [{AXLE[0] + x}, 45, {AXLE[2] + RADIUS + 60 + rise}] }}
"""
    found = point(f'{{ along = "post", clear_of = "rear-wheel", gap = {gap} }}', REAR + text)
    assert np.hypot(*(found - AXLE)[[0, 2]]) == pytest.approx(RADIUS + gap)


BAD = [
    ('{ along = "stae", by = 3 }', "points.p.along", "did you mean stay?"),
    ('{ along = "stay" }', "points.p.by", "missing"),
    ('{ along = "stay", by = 3, height = 4 }', "points.p.height", "take out by, or height"),
    ('{ along = "stay", clear_of = "rear-wheel" }', "points.p.gap", "missing"),
    ('{ along = "stay", clear_of = "front-wheel", gap = 5 }', "points.p.clear_of",
     "do not give a front-wheel"),
    ('{ along = "stay", clear_of = "wheel", gap = 5 }', "points.p.clear_of", "is not known"),
    ('{ along = "stay", by = 3, gap = 5 }', "points.p.gap", "add clear_of"),
    ('{ along = "stay", clear_of = "rear-wheel", gap = 900 }', "points.p.gap", "are not on it"),
    ('{ along = "level", height = 5 }', "points.p.height", "runs level at z = 20"),
    ('{ along = "level", by = 5, side = "left" }', "points.p.side", "has no twin"),
    ('{ along = "across", clear_of = "rear-wheel", gap = 5 }', "points.p.clear_of", "runs across"),
    ('{ along = "far", clear_of = "rear-wheel", gap = 5 }', "points.p.gap", "stays 2263 mm off"),
    ('{ along = "hoop", by = 5 }', "points.p.along", "is bent"),
    ('{ along = "itself", by = 5 }', "points.p", ""),
    ('{ height = 5 }', "points.p.height", "say it with along"),
]

MORE = """
[tubes.level]
shape = "20 x 1"
start = { at = [0, 0, 20] }
end = { at = [90, 0, 20] }
[tubes.across]
shape = "20 x 1"
start = { at = [-400, 0, 20] }
end = { at = [-400, 90, 20] }
[tubes.far]
shape = "20 x 1"
start = { at = [0, 0, 2628.5] }
end = { at = [90, 0, 2628.5] }
[tubes.hoop]
shape = "20 bent to 90 x 1"
start = { at = [0, 0, 0] }
end = { at = [90, 0, 0] }
"""


@pytest.mark.parametrize(("words", "where", "said"), BAD, ids=[words for words, *_ in BAD])
def test_what_cannot_be_is_named_with_its_key_and_its_cure(words, where, said):
    text = REAR + STAYS + MORE
    if "itself" in words:
        text += '[tubes.itself]\nshape = "9 x 1"\nstart = { at = "p" }\nend = { at = [0, 9, 0] }\n'
        where, said = "tubes.itself.start.at", "points go round in a circle: p from tube itself"
    with pytest.raises(JobError) as caught:
        point(words, text)
    lines = [(fault.where, str(fault)) for fault in caught.value.faults]
    assert [line for place, line in lines if place == where and said in line], lines


def test_two_places_that_are_as_far_are_asked_about():
    text = REAR + f"""
[tubes.over]
shape = "20 x 1"
start = {{ at = [{AXLE[0] - 400}, 40, {AXLE[2] + 200}] }}
end = {{ at = [{AXLE[0] + 400}, 40, {AXLE[2] + 200}] }}
"""
    with pytest.raises(JobError, match=r"two places .* 1[0-9.]+ and 6[0-9.]+ mm along; say which"):
        point('{ along = "over", clear_of = "rear-wheel", gap = 5 }', text)


@pytest.mark.parametrize(("first_at", "half"), [(0, 11.1), (100, 11.1 + 100 * 4.1 / 330)])
def test_a_tube_that_begins_within_its_taper_is_as_thick_as_it_is_there(first_at, half):
    """22.2 to 14 over 330: 4.1 mm of radius go over 330 mm."""
    plan = parse_job(REAR + STAYS + f"""
[tubes.bridge]
shape = "22.2 to 14 over 330 x 0.8"
shape_from = {first_at}
start = {{ at = {{ along = "stay", clear_of = "rear-wheel", gap = 20 }} }}
end = {{ at = [-90, -30, 430] }}
""").tubes[1]
    flat = np.array(plan.start.at)[[0, 2]] - AXLE[[0, 2]]
    assert np.hypot(*flat) == pytest.approx(RADIUS + 20 + half, abs=1e-6)
