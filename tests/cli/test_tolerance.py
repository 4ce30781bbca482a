"""``coper tolerance`` as a person uses it."""

import io
import json
import re

import pytest

from coper.cli.main import main
from coper.cli.parser import make_parser
from coper.joint.tolerance.spread import SEED, Scatter
from coper.joint.tolerance.tolerance import UNITS
from tests.cli.run import replaced, run
from tests.drawing.readback import pdf_size, pdf_texts, svg_size

JOINT = ("28.6 x 0.9", "plate 6", "--angle", "90")
STILL = tuple(word for thing in UNITS for word in (f"--{thing}-scatter", "0"))


@pytest.fixture(autouse=True)
def fewer_joints(usual, monkeypatch):
    """A few hundred will do once ``usual`` has put all of them together."""
    monkeypatch.setattr("coper.verbs.tolerance.JOINTS", 300)


def printed(*words, status=0):
    found, out, err = run("tolerance", *words)
    assert (found, err) == (status, "")
    return out


def data(*words, status=0):
    return json.loads(printed(*words, "--json", status=status))


@pytest.fixture(scope="module")
def usual():
    return printed(*JOINT), data(*JOINT)


def test_json_has_every_name_and_no_infinity(usual):
    found = usual[1]
    assert found["units"] == {"length": "mm", "angle": "deg"} and found["cautions"]
    tolerance = found["tolerance"]
    assert set(tolerance) == {"limit", "limit_source", "ideal", "possible", "things", "spread",
                              "square_cut"}
    assert list(tolerance["things"]) == ["angle", "turn", "offset", "diameter", "length"]
    for care in tolerance["things"].values():
        assert set(care) == {"unit", "gap_per_unit", "largest_error", "looked_up_to", "errors",
                             "gaps"}
        assert len(care["errors"]) == len(care["gaps"])
    assert set(tolerance["spread"]) == {"joints", "seed", "scatter", "percentiles", "good", "saves"}
    assert tolerance["spread"]["joints"] == 10_000


def test_the_summary_tells_what_the_json_does(usual):
    out, found = usual[0], usual[1]["tolerance"]
    angle = found["things"]["angle"]["largest_error"]["plus"]
    assert re.search(rf"angle +0\.50 / 0\.50 mm per degree +\+{int(angle * 100) / 100:g}°", out)
    assert re.search(r"length +1\.00 / 1\.00 mm per mm +\+0\.3 mm / -0\.3 mm", out)
    for share, gap in found["spread"]["percentiles"].items():
        assert re.search(rf"{share} in 100 +no gap above {gap:.2f} mm", out)
    assert re.search(rf"{found['spread']['good']:.1%} +under the limit of 0\.30 mm", out)
    assert out.count("does not matter") == 3
    assert "a square cut closes as well as a bevelled one" in out


def test_the_limit_of_tig_is_taken_where_none_is_given_and_that_is_said(usual):
    assert "none was given, so that of tig is used" in usual[0]
    assert usual[1]["tolerance"]["limit"] == 0.3
    assert "none was given" not in printed(*JOINT, *STILL, "--process", "mig")


def test_a_square_cut_that_never_closes_enough_says_what_would_do_and_ends_with_1():
    words = ("28.6 x 2", "30", "--angle", "90", "--cut", "square", *STILL)
    out = printed(*words, "--limit", "0.5", status=1)
    ideal = data(*words)["tolerance"]["ideal"]
    assert f"TOO OPEN     {ideal - 0.5:.2f} mm above the limit with nothing wrong" in out
    assert out.count("nothing does") == 5
    assert "cut bevelled" in out and "or use a process that bridges" in out
    assert "nothing does" in printed(*words)  # no limit was given: printed, but no check fell short


def test_the_wall_is_described_for_either_cut():
    for cut in ("bevelled", "square"):
        out = printed("28.6 x 0.9", "36", "--angle", "90", "--cut", cut, *STILL, "--limit", "1")
        assert "an ideal square cut leaves 0.68 mm" in out and "closed at the root" in out
        assert "dressing the bevel saves 0.68 mm" in out


def test_the_seed_and_the_scatters_reach_the_joints():
    first = ("--offset-scatter", "0", "--length-scatter", "0", "--turn-scatter", "0")
    one, same, other = (data(*JOINT, *first, "--seed", seed)["tolerance"]["spread"]
                        for seed in ("7", "7", "8"))
    assert one == same and one["percentiles"] != other["percentiles"]
    assert one["scatter"] == {"angle": 0.5, "turn": 0, "offset": 0, "diameter": 0.05, "length": 0}


def test_the_options_left_out_are_the_usual_values():
    given = make_parser().parse_args(["tolerance", *JOINT])
    assert Scatter(*(getattr(given, f"{thing}_scatter") for thing in UNITS)) == Scatter()
    assert given.seed == SEED


def test_the_picture_comes_in_three_formats(tmp_path):
    files = [tmp_path / f"care.{kind}" for kind in ("svg", "pdf", "png")]
    for target in files:
        assert f"wrote {target}" in printed(*JOINT, *STILL, "--picture", str(target))
    svg, pdf, png = (target.read_bytes() for target in files)
    assert pdf_size(pdf) == pytest.approx(svg_size(svg.decode()), abs=0.02)
    assert any("largest gap with the angle off by" in words for words, _ in pdf_texts(pdf))
    assert png.startswith(b"\x89PNG")
    status, _, err = run("tolerance", *JOINT, *STILL, "--picture", str(files[0]))
    assert status == 2 and "--force" in err and files[0].read_bytes() == svg


BAD = [
    (("--angle-scatter", "-1"), "--angle-scatter: -1 deg is no scatter", "0 to 30 deg"),
    (("--turn-scatter", "1m"), "--turn-scatter", "1m"),
    (("--offset-scatter", "1m"), "--offset-scatter: 1000 mm is no scatter", "0 to 25 mm"),
    (("--offset-scatter", "25"), "joints that scatter so cannot be put together", "smaller"),
    (("--length-scatter", "some"), "--length-scatter", "some"),
    (("--seed", "-1"), "seed: -1 is no seed", "from 0 up"),
    (("--seed", "first"), "--seed", "whole number"),
    (("--limit", "0"), "--limit: a gap of 0 mm is no limit", "above 0 and up to 25 mm"),
    (("--limit", "1", "--process", "tig"), "--limit", "one of the two"),
    (("--process", "tigg"), "--process", "did you mean tig?"),
    (("--cut", "saw=30"), "--cut", "bevelled, square"),
    (("--angle", "0"), "angle", "above 0 and below 180"),
    (("--diameter-scater", "1"), "--diameter-scater is not an option", "--diameter-scatter"),
    (("--picture", "care.jpg"), "care.jpg", ".svg, .pdf or .png"),
]


@pytest.mark.parametrize(("words", "where", "cure"), BAD, ids=lambda value: str(value)[:60])
def test_bad_input_gets_one_line_that_names_the_fault_and_the_mend(words, where, cure):
    quiet = STILL if "--picture" in words else ()
    status, out, err = run("tolerance", "28.6 x 0.9", "36",
                           *replaced(("--angle", "62", *quiet, *words)))
    assert (status, out) == (2, "")
    assert err.startswith("coper: ") and err.count("\n") == 1
    assert where in err and cure in err


class Terminal(io.StringIO):
    """A stream that is one."""

    def isatty(self):
        return True


def test_a_terminal_sees_how_far_the_joints_are_and_then_a_clean_line():
    out, err = Terminal(), Terminal()
    assert main(("tolerance", *JOINT), out, err) == 0
    steps = err.getvalue().split("\r\x1b[K")
    assert "joint 65 of 300 …" in steps and "joint 257 of 300 …" in steps
    assert steps[-1] == "" and "joint" not in out.getvalue().splitlines()[0]
