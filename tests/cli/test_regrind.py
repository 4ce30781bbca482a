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
    ("0=1,45=0,90=1,135=0,180=1,225=0,270=1,315=0", "no error of turn, angle or offset"),
    ("0=.5,45=.5,90=.5,135=.5,180=.5,225=.5,270=.5,315=.5", "contact nowhere"),
])
def test_readings_that_cannot_be_used_are_one_clear_line(gaps, words):
    status, out, err = run("regrind", *JOINT, *(() if gaps is None else ("--gaps", gaps)))
    assert (status, out) == (2, "")
    assert words in err and err.count("\n") == 1 and "; " in err
