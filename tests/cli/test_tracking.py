"""``coper tracking`` as a person uses it."""

import json
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from coper.frame.tube import Tube
from coper.job.read import parse_job
from coper.job.tracking import job_measures, job_rear_end, width_across
from coper.shapes.read import parse_tube
from coper.sheets.tracking_log import rear_end_log_blocks
from tests.cli.run import replaced, run
from tests.drawing.readback import pdf_texts, svg_texts

SIZES = ("--head-diameter", "31.8", "--seat-diameter", "28.6", "--head-to-seat", "570",
         "--seat-to-dropout", "410", "--hub", "130")
READ = (*SIZES, "--straight-edge", "54.2,47.9")
JOB = """
[bicycle]
drop = 60
chain_stay = 420
rear_wheel = "47-507"
rear_hub = 130

[tubes.seat-tube]
shape = "28.6 x 0.9"
start = { at = [0, 0, 0] }
end = { at = [-160, 0, 450] }

[tubes.head-tube]
shape = "36 x 1.2"
start = { at = [430, 0, 330] }
end = { at = [390, 0, 440] }
"""


def printed(*words, status=0):
    found, out, err = run("tracking", *words)
    assert (found, err) == (status, "")
    return out


def data(*words, status=0):
    return json.loads(printed(*words, "--json", status=status))["tracking"]


def refused(*words):
    status, out, err = run("tracking", *words)
    assert (status, out) == (2, "")
    assert err.count("\n") == 1 and "; " in err
    return err


def job_file(tmp_path, text=JOB):
    path = tmp_path / "frame.toml"
    path.write_text(text)
    return str(path)


def test_json_has_every_name_of_the_contract():
    everything = json.loads(printed(*READ, "--string", "36,33", "--dropout-thickness", "5",
                                    "--width", "130", "--stays", "411,410",
                                    "--wheel", "47-507", "--json"))
    found = everything["tracking"]
    assert {"readings", "expected", "off", "rim", "width", "skew", "limit", "ok",
            "advice"} <= set(found)
    assert found["off"] == pytest.approx((54.2 - 47.9) / 2)
    assert found["skew"]["angle"] == pytest.approx(0.4407280728)  # computed, atan(1 / 130)
    # a rim of 507 / 2 swings by its radius times the sine of that
    assert found["rim"]["front"] - found["rim"]["middle"] == pytest.approx(
        253.5 * np.sin(np.radians(0.4407280728)))
    assert found["limit"] == 0.5 and found["ok"] is False
    assert everything["units"] == {"length": "mm", "angle": "deg"} and everything["cautions"]


def test_what_was_not_read_is_null():
    found = data(*READ)
    for name in ("by_string", "width", "skew"):
        assert found[name] is None
    assert found["readings"]["string"] is None and found["expected"]["string"] is None


def test_the_summary_says_which_way_and_what_each_should_have_been():
    out = printed(*READ)
    assert "left 54.20 mm, right 47.90 mm; should be 51.85 mm" in out
    assert "stands 3.15 mm (1/8 in) to the left" in out
    assert "left dropout 3.15 mm (1/8 in) to the right" in out
    assert "0.50 mm (dropout faces, Barnett's Manual, 5th ed., ch. 8)" in out
    assert "OUT" in out and "Leave the bridge in place" in out and "29 CFR 1910.252(c)" in out


def test_it_ends_with_1_only_where_a_limit_that_was_given_is_not_held():
    assert "OUT" in printed(*READ)
    assert "OUT" in printed(*READ, "--limit", "3", status=1)
    assert "GOOD" in printed(*READ, "--limit", "3.2")


def test_a_limit_is_not_held_by_readings_that_cannot_be_right():
    wrong = (*SIZES, "--straight-edge", "54,54", "--width", "130")
    assert "NOT SURE" in printed(*wrong)
    assert "NOT SURE" in printed(*wrong, "--limit", "1", status=1)
    assert data(*wrong)["ok"] is False


def test_inches_and_mm_say_the_same():
    inches = data(*SIZES, "--straight-edge", "2-1/8in, 1.875in")
    assert inches["off"] == pytest.approx(0.125 * 25.4)
    assert inches == data(*SIZES, "--straight-edge", "53.975,47.625")


def test_blocks_turn_the_sense_of_the_readings():
    found = data(*SIZES, "--dropout-thickness", "5", "--spacer", "65", "--straight-edge", "9,6")
    assert found["expected"]["face"] == "outer" and found["off"] == pytest.approx(-1.5)


def test_the_edges_thickness_changes_what_is_expected_and_not_how_far_it_is_off():
    one, other = data(*READ), data(*READ, "--edge", "6")
    assert other["expected"]["straight_edge"] == pytest.approx(
        one["expected"]["straight_edge"] - 6)
    assert other["off"] == one["off"]


def test_a_job_file_tells_the_measures(tmp_path):
    found = data(job_file(tmp_path), "--straight-edge", "54,50")
    frame = found["frame"]
    axle, head = np.array((-np.sqrt(420**2 - 60**2), 60.0)), np.array((410.0, 385.0))
    assert frame["head_to_seat"] + frame["seat_to_dropout"] == pytest.approx(
        np.linalg.norm(head - axle))
    crossing = axle + (head - axle) / np.linalg.norm(head - axle) * frame["seat_to_dropout"]
    assert crossing[0] / -160 == pytest.approx(crossing[1] / 450)
    assert (frame["head_diameter"], frame["seat_diameter"], frame["hub"]) == (36, 28.6, 130)
    assert frame["rim_radius"] == 253.5 and found["off"] == pytest.approx(2)


def test_an_option_goes_before_the_job_file(tmp_path):
    found = data(job_file(tmp_path), "--hub", "135", "--straight-edge", "54,50")
    assert found["frame"]["hub"] == 135 and found["frame"]["head_diameter"] == 36


def test_the_demo_needs_no_measure_but_the_readings():
    demo = Path(__file__).parents[2] / "demo" / "wagtail.toml"
    found = data(str(demo), "--straight-edge", "55,52")
    assert found["off"] == pytest.approx(1.5)
    assert found["frame"]["seat_diameter"] == pytest.approx(31.8)
    assert found["frame"]["head_diameter"] == pytest.approx(36)


def test_the_width_of_a_taper_is_that_of_the_place():
    tube = Tube(parse_tube("40 to 30 over 200 x 1"), (0, 0, 0), (30, 0, 190))
    assert width_across(tube, 50.0) == pytest.approx(37.5)


@pytest.mark.parametrize(("turn", "across"), [(0, 44.0), (90, 30.0)])
def test_the_width_of_an_oval_is_that_from_left_to_right(turn, across):
    tube = Tube(parse_tube("oval 44 by 30 x 1"), (0, 0, 0), (30, 0, 190), turn=turn)
    assert width_across(tube, 50.0) == pytest.approx(across)


def test_a_job_that_tells_enough_gives_the_packet_its_log():
    assert len(rear_end_log_blocks(job_rear_end(parse_job(JOB)))) == 5
    bare = JOB.replace("rear_hub = 130\n", "")
    assert job_rear_end(parse_job(bare)) is None and "hub" not in job_measures(parse_job(bare))


def test_the_log_is_written_without_any_reading(tmp_path):
    target = tmp_path / "log.pdf"
    out = printed(*SIZES, "--dropout-thickness", "5", "--pdf", str(target), "--paper", "letter")
    assert f"wrote {target}" in out
    document = target.read_bytes()
    with pypdfium2.PdfDocument(document) as opened:
        assert len(opened) == 2
    said, more = (" ".join(word for word, _ in pdf_texts(document, page)) for page in (0, 1))
    assert "51.85 mm" in said and "--seat-to-dropout 410" in said
    assert "heat-treated" in said and "If it is out" in more  # cautions never alone on the last


def test_the_command_on_the_log_gives_the_same_frame(tmp_path):
    target = tmp_path / "log.svg"
    printed(*SIZES, "--dropout-thickness", "5", "--edge", "4", "--svg", str(target))
    said = " ".join(word for word, _ in svg_texts(target.read_text()))
    command = said[said.index("coper tracking --head"):].split(" LEFT,RIGHT")[0].split()
    again = data(*command[2:], "54.2,47.9")
    assert again == data(*READ, "--dropout-thickness", "5", "--edge", "4")


def test_a_log_that_is_there_is_kept_unless_force_is_given(tmp_path):
    target = tmp_path / "log.pdf"
    target.write_text("mine")
    assert "--force" in refused(*SIZES, "--pdf", str(target))
    assert target.read_text() == "mine"
    printed(*SIZES, "--pdf", str(target), "--force")
    assert target.read_bytes().startswith(b"%PDF")


def test_all_measures_that_are_missing_are_named_in_one_line():
    err = refused("--head-diameter", "31.8", "--straight-edge", "54,50")
    for option in ("--seat-diameter", "--head-to-seat", "--seat-to-dropout", "--hub"):
        assert option in err
    assert "--head-diameter" not in err


@pytest.mark.parametrize(("words", "said"), [
    (SIZES, "nothing was read"),
    ((*SIZES, "--straight-edge", "54.2"), "--straight-edge: '54.2' is not a pair"),
    ((*SIZES, "--straight-edge", "54,2,47,9"), "is not a pair"),
    ((*SIZES, "--straight-edge", "far,near"), "--straight-edge: far"),
    ((*SIZES, "--straight-edge", "-3,4"), "--straight-edge: -3 mm on the left cannot be a reading"),
    ((*SIZES, "--straight-edge", "nan,4"), "--straight-edge: nan"),
    ((*SIZES, "--straight-edge", "0,140"), "70 mm off the middle"),
    ((*SIZES, "--string", "36,33"), "--dropout-thickness: missing"),
    ((*SIZES, "--string", "36,0", "--dropout-thickness", "5"), "no gap on the right"),
    ((*SIZES, "--stays", "411,410"), "--wheel: missing"),
    ((*SIZES, "--stays", "411,410", "--wheel", "26"), "--wheel: '26' is not a tyre size"),
    ((*SIZES, "--stays", "411,410", "--wheel", "47-507", "--rim-radius", "250"), "keep one"),
    ((*SIZES, "--width", "1300"), "--width: 1300 mm between dropouts"),
    ((*SIZES, "--stays", "411,41", "--wheel", "47-507"), "--stays: the two lengths"),
    ((*SIZES, "--width", "0"), "--width: 0 is not a size"),
    ((*READ, "--limit", "0"), "--limit: 0 mm cannot be a limit"),
    ((*READ, "--limit", "half"), "--limit: half"),
    ((*READ, "--spacer", "-2"), "--spacer: -2 mm cannot be a thickness"),
    ((*READ, "--spacer", "52", "--dropout-thickness", "5"), "--spacer: the straight edge would"),
    ((*READ, "--spacer", "52"), "--dropout-thickness: missing"),
    ((*READ, "--hub", "wide"), "--hub: wide"),
    ((*READ, "--edge", "-2"), "--edge: -2 mm cannot be a thickness"),
    ((*SIZES, "--string", "-3,4", "--dropout-thickness", "5"), "--string: -3 mm on the left"),
    ((*SIZES, "--stays", "411,0", "--wheel", "47-507"), "--stays: 0 is not a size"),
    ((*READ, "--seat-diameter", "0"), "--seat-diameter: 0 is not a size"),
    ((*READ, "--rim-radius", "-1"), "--rim-radius: -1 is not a size"),
    ((*READ, "--head-to-seat", "20"), "would overlap"),
    ((*READ, "--head-tube", "head-tube"), "--head-tube: names a tube of a job"),
    ((*READ, "--paper", "a5"), "--paper"),
    ((*READ, "--strait-edge", "1,2"), "did you mean --straight-edge?"),
    (("none.toml", *READ), "none.toml"),
])
def test_what_cannot_be_used_is_one_clear_line(words, said):
    assert said in refused(*replaced(words))


@pytest.mark.parametrize(("old", "new", "said"), [
    ("[430, 0, 330]", "[430, 3, 330]", "head-tube: it is"),
    ("[-160, 0, 450]", "[-30, 0, 90]", "seat-tube: a straight edge from the axle"),
    ("end = { at = [-160, 0, 450] }", "end = { at = [900, 0, 450] }", "does not stand between"),
    ('shape = "36 x 1.2"', 'shape = "36 bent to 400 x 1.2"', "head-tube"),
])
def test_tubes_of_a_job_that_no_edge_can_lie_on_are_named(old, new, said, tmp_path):
    assert JOB.count(old) == 1
    path = job_file(tmp_path, JOB.replace(old, new))
    err = refused(path, "--straight-edge", "54,50")
    assert said in err and path in err


def test_a_tube_that_the_job_has_not_is_named_with_the_nearest(tmp_path):
    err = refused(job_file(tmp_path), "--head-tube", "haed-tube", "--straight-edge", "54,50")
    assert "did you mean head-tube?" in err
