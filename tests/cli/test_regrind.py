"""``coper regrind`` as a person uses it."""

import json
import re

import numpy as np
import pypdfium2
import pytest

from coper import Joint, Round
from tests.cli.run import run
from tests.drawing.readback import pdf_size, pdf_texts, svg_paths, svg_size, svg_texts

JOINT = ("28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3")
GAPS = "0=1.1,45=0.85,90=0.1,135=0.15,180=0.9,225=1.25,270=0.95,315=0.95"
GOOD = (*JOINT, "--gaps", GAPS)


def printed(*words):
    status, out, err = run("regrind", *words)
    assert (status, err) == (0, "")
    return out


def data(*words):
    return json.loads(printed(*words, "--json"))


def test_json_has_every_name_of_the_contract():
    found = data(*GOOD)
    result = found["regrind"]
    assert {"clock", "remove", "largest", "seats_deeper", "causes"} <= set(result)
    assert len(result["clock"]) == len(result["remove"])
    assert min(result["remove"]) == 0
    assert max(result["remove"]) == pytest.approx(result["largest"])
    assert {cause["cause"] for cause in result["causes"]} == {
        "turned on the tube", "wrong angle", "wrong offset"}
    for cause in result["causes"]:
        assert set(cause) == {"cause", "amount", "unit", "explains", "low", "high"}
        assert cause["low"] < cause["amount"] < cause["high"]
    assert found["units"] == {"length": "mm", "angle": "deg"} and found["cautions"]


def test_json_is_null_where_open_and_where_nothing_is_known():
    gaps = "0=0,180=0,240=0,300=0"
    wide = data("38.1 x 1.2", "25.4", "--angle", "62", "--offset", "7", "--gaps", gaps)
    assert None in wide["regrind"]["remove"]
    flat = data("28.6 x 0.9", "plate 6", "--angle", "90", "--gaps", "0=0,90=.3,180=.6,270=.3")
    assert {cause["cause"] for cause in flat["regrind"]["causes"] if cause["low"] is None} == {
        "turned on the tube", "wrong offset"}


def test_the_summary_tells_metal_length_and_causes_in_order():
    lines = printed(*GOOD).splitlines()
    found = data(*GOOD)["regrind"]
    assert any(line.startswith("  take off") and f"{found['largest']:.2f} mm" in line
               for line in lines)
    assert any(line.startswith("  seats") and f"{found['seats_deeper']:.2f} mm" in line
               for line in lines)
    places = [next(number for number, line in enumerate(lines) if cause["cause"] in line)
              for cause in found["causes"]]
    assert places == sorted(places)
    head = next(number for number, line in enumerate(lines) if "take off mm" in line)
    assert sum(re.match(r"  [\d.]+ .* \d+\.\d\d +\d\.\d{3}$", line) is not None
               for line in lines[head + 1:]) == 24


def test_a_closed_end_needs_nothing():
    out = printed(*JOINT, "--gaps", "0=0,90=0,180=0,270=0")
    assert "nothing: the end closes as it is" in out and "metal" not in out


def test_order_and_units_of_the_readings_do_not_matter():
    one = data(*JOINT, "--gaps", "0=0.254,120=0,240=.5mm")
    other = data(*JOINT, "--gaps", " 240deg = 0.5 , 0 = 0.01in, 120=0")
    assert one == other


def strip(tmp_path):
    target = tmp_path / "strip.svg"
    printed(*GOOD, "--svg", str(target))
    return target.read_text()


def test_the_strip_shows_the_edge_and_the_metal_at_true_scale(tmp_path):
    text = strip(tmp_path)
    paths, found = svg_paths(text), data(*GOOD)["regrind"]
    old, new = paths["existing-edge"], paths["cut"]
    girth = np.pi * 28.7
    for line in (old, new):
        assert line[-1, 0] - line[0, 0] == pytest.approx(girth, abs=0.01)
    across = np.linspace(0.0, girth, 200)
    clock = 180 + across / girth * 360
    removed, existing = (np.interp(across, line[:, 0] - line[0, 0], line[:, 1])
                         for line in (new, old))
    asked = np.interp(clock, found["clock"], found["remove"], period=360)
    np.testing.assert_allclose(removed - existing, asked, rtol=0, atol=0.02)
    turn = next(cause["amount"] for cause in found["causes"]
                if cause["cause"] == "turned on the tube")
    cope = Joint(Round(28.6, wall=0.9), Round(38.1), angle=62, offset=3).cope()
    edge = cope.at((clock - turn) % 360).outer
    np.testing.assert_allclose(existing - existing[0], edge - edge[0], rtol=0, atol=0.02)
    assert svg_size(text) == pytest.approx((210, 297))


def test_the_strip_names_its_clocks_and_carries_bars(tmp_path):
    text = strip(tmp_path)
    words = [word for word, _ in svg_texts(text)]
    assert {"0", "45", "90", "0 heel", "180 toe"} <= set(words) and "waste" not in words
    bar = svg_paths(text)["check-across"]
    assert np.ptp(bar[:, 0]) == pytest.approx(100, abs=0.002)


def test_the_pdf_has_the_strip_and_how_to_use_it(tmp_path):
    target = tmp_path / "strip.pdf"
    printed(*GOOD, "--pdf", str(target))
    document = target.read_bytes()
    with pypdfium2.PdfDocument(document) as opened:
        assert len(opened) == 1
    assert pdf_size(document) == pytest.approx((210, 297), abs=0.01)
    words = " ".join(word for word, _ in pdf_texts(document))
    assert "Regrind" in words and "Measure both 100 mm bars first" in words


def test_files_are_kept_unless_force_is_given(tmp_path):
    target = tmp_path / "kept.pdf"
    target.write_text("mine")
    status, _, err = run("regrind", *GOOD, "--pdf", str(target))
    assert status == 2 and "--force" in err and target.read_text() == "mine"
    printed(*GOOD, "--pdf", str(target), "--force")
    assert target.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(("gaps", "words"), [
    (None, "--gaps: missing"),
    ("", "0 readings are too few"),
    ("0=0.1,90=0", "2 readings are too few"),
    ("0=0.1,90=0,90=0.2", "gaps at clock 90: read twice"),
    ("0=0.1,90=-0.2,180=0", "gaps at clock 90: -0.2 mm is no gap"),
    ("0=0.1,90=99,180=0", "gaps at clock 90: 99 mm is no gap"),
    ("0=0.1,90,180=0", "--gaps: '90' is not a reading"),
    ("0=0,1,90=0,180=0", "--gaps: '1' is not a reading"),
    ("0=0.1,360=0,180=0", "gaps at clock 360: there is no such clock"),
    ("-10=0.1,90=0,180=0", "gaps at clock -10: there is no such clock"),
    ("0=0.1,90=some,180=0", "--gaps: '90=some': some"),
    ("0=0.1,north=0,180=0", "--gaps: 'north=0': north"),
    ("0=0.1,90=nan,180=0", "--gaps: '90=nan'"),
    (",".join(f"{clock}=0" for clock in range(25)), "25 readings are too many"),
    ("0=3.5,45=3.5,90=3.5,135=3.5,180=3.5,225=3.5,270=3.5,315=3.5", "contact nowhere"),
    ("0=9,90=9,180=9", "contact nowhere"),
])
def test_readings_that_cannot_be_used_are_one_clear_line(gaps, words):
    status, out, err = run("regrind", *JOINT, *(() if gaps is None else ("--gaps", gaps)))
    assert (status, out) == (2, "")
    assert words in err and err.count("\n") == 1 and "; " in err


SAWN = ("28.6 x 0.9", "36", "--angle", "62")
SAWN_GAPS = "0=0.00,45=0.17,90=0.37,135=0.17,180=0.00,225=0.17,270=0.37,315=0.17"


def test_the_gap_that_a_saw_leaves_is_no_fault():
    out = printed(*SAWN, "--cut", "saw=1-1/2in", "--gaps", SAWN_GAPS)
    assert "nothing:" in out and "The metal" not in out
    found = data(*SAWN, "--cut", "saw=1-1/2in", "--gaps", SAWN_GAPS)
    assert found["cut"] == "saw" and found["passes"] == [
        {"diameter": pytest.approx(38.1), "offset": 0.0, "at": 0.0}]
    assert not any(found["regrind"]["remove"])


def test_without_the_saw_its_readings_are_ground_by_themselves():
    found = data(*SAWN, "--gaps", SAWN_GAPS)["regrind"]
    assert found["by"] == "readings" and found["causes"] == []
    assert found["largest_gap_after"] < 0.2 < found["largest_gap"] and found["largest"] < 0.6
    assert "the metal follows the readings themselves" in printed(*SAWN, "--gaps", SAWN_GAPS)


def test_two_passes_are_written_as_their_log_writes_them():
    found = data(*SAWN, "--offset", "3", "--cut", "saw=1-1/4in@3.46,2.5@1.24,3.29",
                 "--gaps", "0=0.1,90=0.2,180=0.1,270=0")
    assert [(one["offset"], one["at"]) for one in found["passes"]] == [(3.46, -2.5), (1.24, -3.29)]


@pytest.mark.parametrize(("cut", "words"), [
    ("saw=20", "leaves part of the tube uncut"),
    ("saw=", "saw="),
    ("saw=40@1,2,3", "is no pass"),
    ("saw=40@1,2@1,2@1,2", "3 passes are too many"),
    ("mitre", "'mitre' is not known"),
])
def test_a_cut_that_cannot_be_is_one_clear_line(cut, words):
    status, out, err = run("regrind", *SAWN, "--cut", cut, "--gaps", SAWN_GAPS)
    assert (status, out) == (2, "") and "cut" in err and err.count("\n") == 1
    assert words.removeprefix("saw=") in err


def test_within_a_limit_the_end_is_left_as_it_is():
    status, out, _ = run("regrind", *GOOD, "--limit", "1.3")
    assert status == 0 and "it fits, leave it" in out and "GOOD" in out


def test_above_a_limit_no_more_goes_than_half_of_it_asks_for():
    status, out, err = run("regrind", *GOOD, "--process", "mig", "--json")
    found, full = json.loads(out)["regrind"], data(*GOOD)["regrind"]
    assert (status, err) == (1, "") and found["limit"] == 1.0 and not found["ok"]
    assert found["largest_gap_after"] == pytest.approx(0.5, abs=0.02)
    assert found["largest"] < full["largest"] - 0.3
    assert "TOO OPEN" in run("regrind", *GOOD, "--limit", "0.5")[1]


def test_an_end_that_touches_nowhere_it_was_read_is_said_to():
    gaps = ",".join(f"{clock}=0.5" for clock in range(0, 360, 45))
    assert "touches at none of these clocks" in printed(*JOINT, "--gaps", gaps)


GROUND = ("22.2 x 0.8", "40", "--angle", "83.64")


@pytest.mark.parametrize("words", [
    (*GROUND, "--gaps", "0=.45,45=.5,90=.65,135=.7,180=.15,190=0,225=.6,270=.7,315=.75"),
    (*GROUND, "--gaps", "0=.25,45=.3,90=.3,135=.35,180=.55,220=0,225=0,270=.5,315=.55"),
    (*GROUND, "--gaps", "0=.05,45=0,90=0,135=.2,180=1,225=.2,270=0,315=0"),
    ("28.6 x 0.9", "32", "--angle", "90", "--gaps",
     "135=0.02,180=0.90,225=0.66,270=0.48,315=0.66,0=0.91,45=0.70,90=0.37"),
])
def test_true_readings_of_an_end_ground_by_hand_get_advice_that_closes_them(words):
    found = data(*words)["regrind"]
    assert found["largest_gap_after"] < 0.2 < found["largest_gap"]
    assert found["largest"] <= found["largest_gap"] * 1.1


EIGHT_READ = "0=.4,45=.35,90=.3,135=.1,180=.05,225=.2,270=.3,315=.35"


def test_the_clocks_to_read_too_and_the_cost_in_length_are_printed_and_in_the_json():
    words = (*JOINT, "--gaps", EIGHT_READ)
    found, out = data(*words)["regrind"], printed(*words)
    assert found["read_also"] and all(f"{clock:g}" in out for clock in found["read_also"])
    assert "read also at clock 22, 68," in out
    deeper = f"{found['seats_deeper']:.2f} mm"
    assert re.search(rf"length +the other end comes {deeper}", out)


def test_a_limit_below_what_the_saw_leaves_is_said_to_be_out_of_reach():
    words = (*JOINT, "--cut", "saw=1-3/8in", "--gaps", EIGHT_READ, "--limit")
    status, out, _ = run("regrind", *words, "0.1")
    own = json.loads(run("regrind", *words, "0.1", "--json")[1])["regrind"]["own_gap"]
    assert status == 1 and f"the cut leaves {own:.2f} mm by itself, more than the limit" in out
    assert own > 0.1
    assert "by itself, more than the limit" not in run("regrind", *words, f"{own + 0.1:.2f}")[1]
