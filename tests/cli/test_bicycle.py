"""``coper bicycle`` as a person runs it."""

import json
import re
import shlex
from pathlib import Path

import pytest

from coper.cli.parser import verb_module
from tests.cli.run import run

TOP = Path(__file__).parents[2]
DEMO = str(TOP / "demo" / "wagtail.toml")
PART = "[bicycle]\ndrop = 58\nchain_stay = 419\nrear_hub = 130\n"


def record(*words):
    status, out, err = run("bicycle", *words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in the JSON"))


@pytest.fixture
def part(tmp_path):
    file = tmp_path / "part.toml"
    file.write_text(PART)
    return str(file)


def test_the_demo_tells_its_measures_and_points():
    status, out, err = run("bicycle", DEMO)
    assert (status, err) == (0, "")
    for said in ("head angle on the ground", "bottom bracket height", "trail", "wheelbase",
                 "axle-left", "front-axle", "seat-axis", "rear wheel"):
        assert said in out
    assert "nan" not in out and max(map(len, out.splitlines())) <= 100


def test_the_json_holds_points_axes_ground_wheels_and_no_change():
    answer = record(DEMO)
    assert answer["units"] == {"length": "mm", "angle": "deg"} and answer["change"] is None
    bicycle = answer["bicycle"]
    assert set(bicycle) == {"points", "axes", "ground", "wheels"}
    assert set(bicycle["ground"]) == {"head_angle", "seat_angle", "wheelbase", "trail",
                                      "bracket_height", "standover", "tilt", "drop"}
    assert set(bicycle["wheels"]) == {"rear", "front"}
    assert bicycle["points"]["bottom-bracket"] == [0, 0, 0]
    assert set(bicycle["axes"]["head-axis"]) == {"at", "along"}


def test_a_change_is_shown_before_and_after_and_as_a_difference():
    change = record(DEMO, "--fork-length", "14in", "--rake", "40", "--front-wheel", "47-559")[
        "change"]
    assert change["asked"] == {"fork_length": 355.6, "rake": 40, "front_wheel": {
        "radius": 326.5, "tyre": 47, "size": "47-559"}}
    for name, added in change["difference"].items():
        before, after = change["before"][name], change["after"][name]
        assert added is None if before is None else added == pytest.approx(after - before)
    assert change["after"]["head_angle"] < change["before"]["head_angle"]
    assert change["bicycle"]["ground"] == change["after"]


def test_the_wanted_head_angle_comes_with_the_drop_and_the_axle_that_give_it():
    words = (DEMO, "--fork-length", "365", "--head-angle", "70°")
    change = record(*words)["change"]
    assert change["after"]["head_angle"] == pytest.approx(70)
    assert change["after"]["drop"] == pytest.approx(change["bicycle"]["points"]["axle"][2])
    again = record(*words[:3], f"--drop={change['after']['drop']!r}")["change"]
    assert again["after"]["head_angle"] == pytest.approx(70, abs=1e-9)
    out = run("bicycle", *words)[1]
    assert re.search(r"head angle on the ground .* 70°", out)
    assert "points that move" in out and "head-top" not in out


def test_a_measured_wheel_may_be_given_by_radius_and_tyre():
    asked = record(DEMO, "--rear-wheel", "radius 12in tyre 45")["change"]["asked"]
    assert asked["rear_wheel"] == {"radius": 304.8, "tyre": 45, "size": ""}


def test_part_of_a_bicycle_gives_its_points_and_says_why_there_is_no_ground(part):
    answer = record(part)["bicycle"]
    assert set(answer["points"]) == {"bottom-bracket", "axle", "axle-left", "axle-right"}
    assert answer["ground"]["bracket_height"] is None and answer["wheels"] == {}
    assert "add rear_wheel" in run("bicycle", part)[1]


def test_a_wheel_that_was_not_there_before_has_no_difference(part):
    status, out, err = run("bicycle", part, "--rear-wheel", "47-507")
    assert (status, err) == (0, "")
    row = next(line for line in out.splitlines() if "bottom bracket height" in line)
    assert row.count("not known") == 2 and "242.50 mm" in row


def test_a_level_top_tube_tells_the_standover(tmp_path):
    # Both axes at 90 degrees and a level tube: 242.5 above ground, 400 up, half of 25.4.
    file = tmp_path / "job.toml"
    file.write_text(PART + """
rear_wheel = "47-507"
seat_angle = 90
head_angle = 90
head_bottom = [500, 350]
[tubes.over]
shape = "25.4 x 0.9"
start = { at = { along = "seat-axis", by = 400 } }
end = { at = { along = "head-axis", by = 50 } }
""")
    ground = record(str(file))["bicycle"]["ground"]
    assert ground["standover"] == pytest.approx(242.5 + 400 + 12.7)
    assert "standover" in run("bicycle", str(file))[1]


@pytest.mark.parametrize(("words", "said"), [
    ((), "FILE"), (("none.toml",), "none.toml: no such file"),
    ((DEMO, "--fork-length", "0"), "--fork-length: "),
    ((DEMO, "--fork-length", "far"), "--fork-length: "),
    ((DEMO, "--rake", "4x"), "--rake: "),
    ((DEMO, "--front-wheel", "26in"), "--front-wheel: "),
    ((DEMO, "--front-wheel", "radius 30 tyre 47"), "--front-wheel: "),
    ((DEMO, "--rear-wheel", ""), "--rear-wheel: "),
    ((DEMO, "--drop", "600"), "--drop: "),
    ((DEMO, "--drop=-10", "--head-angle", "70"), "--head-angle: "),
    ((DEMO, "--head-angle", "7"), "--head-angle: "),
    ((DEMO, "--head-angle", "steep"), "--head-angle: "),
    ((DEMO, "--front-wheel", "radius 700 tyre 40"),
     "wagtail.toml: with this change: the two wheels overlap"),
    ((DEMO, "--fork-lenth", "300"), "did you mean --fork-length?")])
def test_words_that_cannot_be_used_get_one_line(words, said):
    status, out, err = run("bicycle", *words)
    assert (status, out) == (2, "")
    assert said in err and err.count("\n") == 1 and "; " in err


def test_a_job_without_a_bicycle_is_refused_in_one_line(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text("[tubes.a]\nshape = '20'\n"
                    "start = { at = [0, 0, 0] }\nend = { at = [0, 0, 9] }\n")
    status, out, err = run("bicycle", str(file))
    assert (status, out) == (2, "")
    assert err == f"coper: {file}: bicycle: missing; add it, such as [bicycle] with drop and " \
                  "chain_stay\n"


def test_a_change_of_what_the_bicycle_has_not_is_refused_at_its_option(part):
    status, _, err = run("bicycle", part, "--rake", "40")
    assert status == 2 and err.startswith("coper: --rake: the bicycle has no fork to change; ")




@pytest.mark.parametrize("line", re.findall(
    r"(?m)^ *coper (bicycle demo/.* --(?!json).*)$", verb_module("bicycle").EXAMPLES))
def test_every_such_command_of_the_readme_runs(line, monkeypatch):
    monkeypatch.chdir(TOP)
    status, out, err = run(*shlex.split(line))
    assert (status, err) == (0, "") and "difference" in out


def test_the_help_names_every_point_and_axis_that_there_is():
    from coper.bicycle.bicycle import AXIS_NEEDS, POINT_NEEDS

    page = verb_module("bicycle").__doc__
    for name in (*POINT_NEEDS, *AXIS_NEEDS):
        assert re.search(rf"\b{name}\b", page), name
