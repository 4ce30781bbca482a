"""``coper joint`` as a person uses it."""

import csv
import io
import json
import subprocess
import sys

import numpy as np
import pytest

from tests.cli.run import run

GOOD = ("28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3")


def printed(*words):
    status, out, err = run("joint", *words)
    assert (status, err) == (0, "")
    return out


def data(*words):
    return json.loads(printed(*words, "--json"))


def test_the_summary_says_back_what_was_understood_in_mm_and_inches():
    out = printed("1-1/8in x 18bwg", "around 119.7", "--angle", "62°30'", "--offset", "-1/8in")
    assert "diameter 28.58 mm (1-1/8 in)" in out
    assert "wall 1.24 mm (0.049 in)" in out
    assert "diameter 38.10 mm (1-1/2 in)" in out
    assert "62.5°" in out
    assert "offset -3.18 mm (-1/8 in)" in out


def test_the_summary_names_the_points_the_saw_and_the_ordinates():
    out = printed(*GOOD, "--steps", "8")
    assert "long point   8.17 mm (21/64 in) up the branch from the main's axis, clock 103.8" in out
    assert "set 28° from square" in out and "233 rpm" in out
    assert "0 (heel)" in out and "180 (toe)" in out and "225" in out
    assert "eye, hand and breathing protection" in out


def test_the_summary_says_where_the_joint_is_open():
    out = printed("38.1 x 1.2", "25.4", "--angle", "62", "--offset", "7")
    assert "Open from clock" in out and "overhangs" in out
    assert "TOO SMALL" in out


def test_a_saw_that_is_too_shallow_is_said_to_be():
    # Computed: OD / sin A is 2.12 in, and the usual saw cuts 1-7/8 in.
    assert "TOO SHALLOW" in printed("38.1 x 0.9", "50", "--angle", "45")


def test_json_has_every_name_of_the_contract():
    found = data(*GOOD, "--turn", "10")
    assert found["units"] == {"length": "mm", "angle": "deg"}
    assert {"coper", "joint", "cope", "template", "footprint", "saw", "cautions"} <= set(found)
    cope = found["cope"]
    lists = ("clock", "outer", "inner", "dihedral", "main")
    assert {len(cope[name]) for name in lists} == {720}
    assert cope["clock"] == [k * 0.5 for k in range(720)]
    assert {"clock", "along"} == set(cope["long_point"]) == set(cope["short_point"])
    assert {len(found["template"][name]) for name in ("x", "y")} == {720}
    assert {len(found["footprint"][name]) for name in ("x", "arc")} == {720}
    assert {"diameter", "set_angle", "offset", "centre_beyond_long_point", "depth_needed",
            "depth_ok", "rpm", "ok"} <= set(found["saw"])
    assert found["joint"]["turn"] == 10 and found["joint"]["branch"]["wall"] == 0.9


def test_json_follows_the_check_formula():
    cope = data(*GOOD, "--points", "48")["cope"]
    angle, clock = np.radians(62), np.radians(cope["clock"])
    root = np.sqrt(19.05**2 - (3 + 14.3 * np.sin(clock)) ** 2)
    formula = (root + 14.3 * np.cos(clock) * np.cos(angle)) / np.sin(angle)
    np.testing.assert_allclose(cope["outer"], formula, rtol=0, atol=1e-9)


def test_json_has_null_where_open_and_the_ends_of_the_stretch():
    cope = data("38.1 x 1.2", "25.4", "--angle", "62", "--offset", "7")["cope"]
    ((start, stop),) = cope["open"]
    for clock, outer, main in zip(cope["clock"], cope["outer"], cope["main"], strict=True):
        inside = start < clock < stop
        assert (outer is None) == inside == (main is None)


def test_the_square_cut_lies_further_up_than_the_bevelled_one():
    one, other = data(*GOOD)["template"]["y"], data(*GOOD, "--cut", "square")["template"]["y"]
    assert all(b >= a - 1e-9 for a, b in zip(one, other, strict=True))
    assert max(b - a for a, b in zip(one, other, strict=True)) > 0.5


def test_the_saw_of_the_mains_own_size_is_set_as_the_geometry_says():
    # Saw maker's table: 350 rpm for 1 in in mild steel; depth OD / sin A (computed).
    saw = data("1.5in x 1", "2in", "--angle", "45")["saw"]
    assert saw["set_angle"] == 45 and saw["rpm"] == 175
    assert saw["depth_needed"] == pytest.approx(2.1213203 * 25.4, abs=1e-4)
    assert saw["depth_ok"] is False and saw["ok"] is False
    shallower = data("1.25in x 1", "2in", "--angle", "45")["saw"]
    assert shallower["depth_needed"] == pytest.approx(1.7677670 * 25.4, abs=1e-4)
    assert shallower["depth_ok"] is True


def test_the_saws_axis_lies_beyond_the_blanks_end_by_the_saddles_rest():
    # Computed at 90 degrees: sqrt(R^2 - r^2) from the long point to the main's axis.
    saw = data("28.6 x 0.9", "31.8", "--angle", "90")["saw"]
    assert saw["centre_beyond_long_point"] == pytest.approx((15.9**2 - 14.3**2) ** 0.5)


@pytest.mark.parametrize("steps", [8, 12, 16, 24])
def test_the_table_gives_the_cut_from_a_straight_line(steps, tmp_path):
    target = tmp_path / "cope.csv"
    printed(*GOOD, "--steps", str(steps), "--table", str(target))
    rows = list(csv.DictReader(io.StringIO(target.read_text())))
    assert len(rows) == steps
    for row in rows:
        angle, clock = np.radians(62), np.radians(float(row["clock_deg"]))
        root = np.sqrt(19.05**2 - (3 + 14.3 * np.sin(clock)) ** 2)
        along = (root + 14.3 * np.cos(clock) * np.cos(angle)) / np.sin(angle)
        cut = float(row["line_from_axis_mm"]) - along
        assert float(row["line_to_cut_mm"]) == pytest.approx(cut, abs=0.0051)
        assert float(row["line_to_cut_mm"]) >= 10
        assert float(row["way_round_mm"]) == pytest.approx(14.3 * clock, abs=0.0051)


def test_on_a_taper_the_way_round_is_that_of_the_line():
    lines = printed("50 to 30 over 80 x 1.5", "60", "--angle", "62").splitlines()
    (head,) = [line for line in lines if "straight round the branch" in line]
    row = next(line for line in lines if line.lstrip().startswith("180 (toe)"))
    level = float(head.split("branch, ")[1].split(" mm")[0])
    diameter = 50 - 20 * level / 80
    assert float(row.split("(toe)")[1].split()[0]) == pytest.approx(
        np.pi * diameter / 2, abs=0.006)


def test_an_open_step_of_the_table_has_empty_cells(tmp_path):
    target = tmp_path / "cope.csv"
    printed("38.1 x 1.2", "25.4", "--angle", "62", "--offset", "7", "--table", str(target))
    rows = list(csv.DictReader(io.StringIO(target.read_text())))
    assert any(row["line_to_cut_mm"] == row["line_to_cut_in"] == "" for row in rows)


def test_the_stretch_of_a_tube_that_does_not_unroll_is_reported_and_said():
    words = ("oval 30 by 17 to 14 over 80 x 0.9", "38.1", "--angle", "62")
    stretch = data(*words)["template"]["stretch"]
    assert 0.05 < stretch < 2
    assert f"off by up to {stretch:.2f} mm" in printed(*words)
    assert data(*GOOD)["template"]["stretch"] == 0


def test_the_module_shows_its_examples_when_asked_for_help():
    asked = subprocess.run([sys.executable, "-m", "coper", "joint", "--help"],
                           capture_output=True, text=True, check=True)
    assert "examples:" in asked.stdout and "--angle 62" in asked.stdout


def test_a_reader_that_has_seen_enough_is_no_fault():
    shell = f"{sys.executable} -m coper joint '28.6 x 0.9' 38.1 --angle 62 --json | head -c 20"
    piped = subprocess.run(["bash", "-c", f"set -o pipefail; {shell}"],
                           capture_output=True, text=True, check=False)
    assert piped.stderr == ""
    assert piped.stdout.startswith('{"coper": ')
