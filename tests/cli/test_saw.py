"""``coper saw`` as a person uses it."""

import json
import re

import pytest

from tests.cli.run import run

JOINT = ("28.6 x 0.9", "36", "--angle", "90")


def printed(*words, status=0):
    found, out, err = run("saw", *words)
    assert (found, err) == (status, "")
    return out


def data(*words, status=0):
    return json.loads(printed(*words, "--json", status=status))


def test_json_has_every_name_of_the_contract():
    found = data("28.6 x 0.9", "36", "--angle", "62", "--offset", "3", "--limit", "1")
    names = {"diameter", "set_angle", "offset", "centre_beyond_long_point", "depth_needed",
             "depth_ok", "rpm", "largest_gap", "ok"}
    assert names <= set(found["saw"])
    assert found["saw"] == found["choices"][0]
    assert len(found["choices"]) == 16 and all(names <= set(row) for row in found["choices"])
    assert found["saw"]["diameter"] == pytest.approx(38.1) and found["saw"]["set_angle"] == 28
    assert found["saw"]["rpm"] == 233  # a saw maker's table: 350 rpm for 1 in in mild steel


def test_saws_that_leave_tube_uncut_come_last_with_no_gap():
    rows = data(*JOINT, "--kit", "20,1-1/2in,1-3/8in", "--limit", "1")["choices"]
    assert [row["covers"] for row in rows] == [True, True, False]
    assert [len(row["passes"]) for row in rows] == [1, 1, 0]
    assert rows[-1]["diameter"] == 20 and rows[-1]["largest_gap"] is None
    assert rows[-1]["ok"] is False


def test_two_passes_have_a_row_of_their_own_before_the_one_pass_that_they_beat():
    rows = data(*JOINT, "--kit", "38.1,35,20")["choices"]
    assert [len(row["passes"]) for row in rows] == [2, 1, 1, 0]
    two, one = rows[:2]
    assert two["diameter"] == one["diameter"] == 35 and two["largest_gap"] < one["largest_gap"] / 4
    assert set(two["passes"][0]) >= {"offset", "centre_beyond_long_point", "depth_needed"}
    assert two["passes"][0]["offset"] == -two["passes"][1]["offset"] == two["offset"]
    assert one["passes"] == [{key: one[key] for key in two["passes"][0]}]


def test_the_summary_says_how_to_make_two_passes():
    out = printed("28.6 x 0.9", "36", "--angle", "62", "--offset", "3", "--kit", "1in,1-1/8in")
    assert "take         saw 28.58 mm (1-1/8 in), in two passes" in out
    assert "28° from square for both passes" in out
    # Derived in coper/joint/saw/two_pass.py: c sin of a quarter of the arc either side of its
    # middle, c 4.3846, the arc from -38.89 to 73.97 degrees about the main; the saw's axis lies
    # -0.81 and 3.14 mm beside the main's, the tube's 3 mm.
    assert "first pass   saw's axis 3.81 mm (5/32 in) off the tube's, to clock 270 (side)" in out
    assert "second pass  saw's axis 0.14 mm (0 in) off the tube's, to clock 90 (side)" in out
    assert "the end hangs on until the second pass" in out and "no pilot drill" in out
    assert re.search(r"28\.58 +1-1/8 +0\.67 +at the ears +deep enough, in two passes", out)
    assert "leaves tube uncut in one pass (34.60 mm needed)" in out


def test_the_saws_axis_is_given_on_the_side_where_it_is():
    # A positive offset puts the tube's axis on the side of clock 90, so the saw's on that of 270.
    words = ("28.6 x 0.9", "36", "--offset", "3", "--kit", "28.575")
    for angle, turn, side in (("62", "0", "270"), ("118", "0", "270"), ("118", "90", "180")):
        out = printed(*words, "--angle", angle, "--turn", turn)
        assert f"3.81 mm (5/32 in) off the tube's, to clock {side}" in out


def test_the_summary_gives_the_choice_the_setting_and_the_runner_up():
    out = printed(*JOINT, "--kit", "38.1,35,20", "--limit", "0.4")
    assert "take         saw 35.00 mm (1-3/8 in)" in out
    assert "0.34 mm (0.014 in) at most, in the throat, clock 0 (main +)" in out
    assert "0° from square" in out
    # Computed: sqrt(17.5^2 - 14.3^2) beyond the long point; OD / sin A deep.
    assert "10.09 mm (25/64 in) beyond the long point" in out
    assert "28.60 mm needed, 47.63 mm available: deep enough" in out
    assert "or else      38.10 mm (1-1/2 in): 0.37 mm (0.015 in) at most, at the ears" in out
    assert "two passes" not in out
    assert "leaves tube uncut in one pass (28.60 mm needed)" in out
    assert "eye, hand and breathing protection" in out


def test_a_best_saw_above_the_limit_ends_with_1_and_says_what_else_to_do():
    out = printed(*JOINT, "--kit", "38.1,30", "--process", "tig", status=1)
    assert "TOO OPEN     no better setting of the kit's saws was found, sidew" in out
    assert data(*JOINT, "--kit", "38.1,30", "--process", "tig", status=1)["saw"]["ok"] is False
    assert "GOOD" in printed(*JOINT, "--kit", "38.1,35", "--process", "tig")


def test_a_depth_that_falls_short_of_what_was_given_ends_with_1():
    out = printed(*JOINT, "--kit", "36", "--depth", "25", status=1)
    assert "28.60 mm needed, 25.00 mm available: TOO SHALLOW: cut from both sides" in out
    printed(*JOINT, "--kit", "36", "--depth", "30")


STEEP = ("28.6 x 0.9", "36", "--angle", "20", "--process", "tig", "--kit", "35,40")


def test_a_cut_that_not_even_both_sides_reach_has_no_setting_and_no_verdict():
    out = printed(*STEEP, "--depth", "40", status=1)
    assert "NO SAW       the cut is 83.64 mm deep" in out
    assert "reach 80.00 mm from both sides" in out
    assert "use the template, or a saw 41.82 mm deep or more" in out
    assert not any(word in out for word in ("GOOD", "TOO OPEN", "cut from both", "rpm", "or else"))
    assert data(*STEEP, "--depth", "40", status=1)["saw"]["sides"] is None
    # The depth that is named is enough.
    assert "cut from both sides" in printed(*STEEP, "--depth", "41.82", status=1)
    assert data(*STEEP, "--depth", "41.82", status=1)["saw"]["sides"] == 2
    assert data(*STEEP, "--depth", "84")["saw"]["sides"] == 1


BAD = [
    (("--kit", ","), "--kit", "1in,1-1/4in"),
    (("--kit", ""), "--kit", "1in,1-1/4in"),
    (("--kit", "1in,x"), "--kit", "28.6"),
    (("--kit", "12,15"), "kit", "take one of 28.60 mm or more"),
    (("--kit", "0,40"), "--kit: 0 is not a size", "above 0"),
    (("--depth", "0"), "--depth: 0 is not a size", "above 0"),
    (("--depth", "deep"), "--depth", "deep"),
    (("--limit", "99"), "--limit", "up to 25 mm"),
    (("--process", "tgi"), "--process", "did you mean tig?"),
    (("--offset", "60"), "offset", "misses the main"),
    (("--kitt", "1in"), "--kitt is not an option", "did you mean --kit?"),
]


@pytest.mark.parametrize(("words", "where", "cure"), BAD, ids=lambda value: str(value)[:60])
def test_bad_input_gets_one_line_that_names_the_fault_and_the_mend(words, where, cure):
    status, out, err = run("saw", *JOINT, *words)
    assert (status, out) == (2, "")
    assert err.startswith("coper: ") and err.count("\n") == 1
    assert where in err and cure in err


@pytest.mark.parametrize(("turn", "side"), [("20", "90 (side)"), ("-20", "270 (side)")])
def test_a_saw_moved_sideways_says_to_which_side_and_what_it_saves(turn, side):
    # A main turned the other way is the mirror image: the saw is moved to the other side.
    words = ("28.6 x 0.9", "oval 40 by 32", "--angle", "62", "--main-turn", turn, "--kit", "44.45")
    out = printed(*words, "--limit", "0.35")
    assert f"off the main's axis, to clock {side}: level with it the gap would be 2.55 mm" in out
    assert "saw 44.45 mm (1-3/4 in), moved sideways" in out
    saw = data(*words, "--limit", "0.35")["saw"]
    assert (saw["aside"] < 0) == (side[:2] == "90") and saw["level_gap"] > 2.5 and saw["ok"]


def test_a_saw_that_is_a_little_too_narrow_says_where_to_file():
    out = printed("28.6 x 0.9", "25.4", "--angle", "62", "--process", "tig")
    assert "saw 25.40 mm (1 in), and a file" in out
    assert "file         through at clocks 63 to 117 and 243 to 297: the saw covers all but" in out
    saw = data("28.6 x 0.9", "25.4", "--angle", "62", "--process", "tig")["saw"]
    assert saw["covers"] is False and len(saw["slivers"]) == 2
