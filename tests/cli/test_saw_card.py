"""``coper saw`` writes a set-up card and a log; ``coper job --json`` tells every end's set-up."""

import json

import pytest

from coper.units import format_inches, format_mm
from tests.cli.run import run
from tests.drawing.readback import pdf_size, pdf_texts, svg_size, svg_texts

JOINT = ("28.6 x 0.9", "36", "--angle", "62", "--offset", "3")
INCHES = ("1-1/8in x 0.035in", "1-1/2in", "--angle", "118", "--offset", "-1/4in")


def said(document):
    return [words for words, _ in pdf_texts(document)]


@pytest.mark.parametrize("joint", [JOINT, INCHES], ids=["mm", "inches"])
def test_the_numbers_on_the_card_are_those_of_the_json(joint, tmp_path):
    target = tmp_path / "card.pdf"
    status, out, err = run("saw", *joint, "--pdf", str(target), "--json")
    assert (status, err) == (0, "")
    saw = json.loads(out)["saw"]
    words = said(target.read_bytes())
    for one in saw["passes"]:
        for length in (one["offset"], one["centre_beyond_long_point"]):
            assert format_mm(abs(length)) in words and format_inches(abs(length)) in words
    assert format_mm(saw["diameter"]) in words and format_mm(saw["depth_needed"]) in words
    assert f"{abs(saw['set_angle']):g}°" in words
    printed = " ".join(words)
    gap = f"up to {format_mm(saw['largest_gap'])}" if saw["largest_gap"] > 0.005 else "no gap"
    assert str(saw["rpm"]) in printed and gap in printed
    for start, end in saw["slivers"]:
        assert f"{start:.0f} to {end:.0f}: the saw does not reach there" in printed


def test_card_log_and_cautions_come_as_svg_too_on_the_paper_asked_for(tmp_path):
    target = tmp_path / "card.svg"
    status, out, _ = run("saw", *JOINT, "--svg", str(target), "--paper", "letter")
    assert status == 0 and out.splitlines()[-1] == f"wrote {target}"
    text = target.read_text()
    assert svg_size(text) == pytest.approx((215.9, 279.4))
    words = " ".join(words for words, _ in svg_texts(text))
    for part in ("Saw set-up at 62°", "Fit-up log", "Then type: coper regrind", "Cautions"):
        assert part in words


def test_a_card_is_written_whole_and_replaces_a_file_only_when_forced(tmp_path):
    target = tmp_path / "card.pdf"
    assert run("saw", *JOINT, "--pdf", str(target))[0] == 0
    first = target.read_bytes()
    assert pdf_size(first) == pytest.approx((210, 297), abs=0.01)
    status, out, err = run("saw", *JOINT, "--pdf", str(target))
    assert (status, out) == (2, "") and "--force" in err
    assert run("saw", *JOINT, "--pdf", str(target), "--force")[0] == 0
    assert target.read_bytes() == first


def test_a_paper_that_is_not_known_is_refused_in_one_line():
    status, out, err = run("saw", *JOINT, "--paper", "a9")
    assert (status, out) == (2, "")
    assert err.startswith("coper: --paper: ") and err.count("\n") == 1


JOB = """
[shop]
process = "tig"
saws = [28.6, 41.275]
depth = 30
material = "aluminium"
[tubes.shell]
shape = "40 x 3"
start = { at = [0, -34, 0] }
end = { at = [0, 34, 0] }
[tubes.seat-tube]
shape = "28.6 x 0.9"
start = { at = [0, 0, 0], on = ["shell"], cut = "square" }
end = { at = [-120, 0, 420] }
[tubes.stay]
shape = "36 x 0.9"
start = { at = [0, 8, 1], on = ["shell", "seat-tube"] }
end = { at = [-400, 60, 60] }
mirror = true
"""


def test_a_jobs_json_has_the_gap_to_expect_and_the_set_up_of_every_shaped_end(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(JOB)
    status, out, err = run("job", str(path), "--json")
    assert (status, err) == (0, "")
    _, seat_tube, left, right = json.loads(out)["tubes"]
    end = seat_tube["ends"]["start"]
    assert end["gap"]["largest"] > 0.3 and end["gap"]["ok"] is False
    assert end["gap"]["limit"] == 0.3
    assert "gap" not in seat_tube["ends"]["end"]
    ends = [tube["ends"]["start"] for tube in (left, right)]
    one, other = (end["setup"] for end in ends)
    assert [cut["on"] for cut in one["cuts"]] == ["shell", "seat-tube"]
    assert [cut["passes"][0]["diameter"] for cut in one["cuts"]] == [41.275, 28.6]
    assert one["cuts"][0]["passes"][0]["depth_ok"] is False
    # The right twin is the left one's mirror image.
    assert one["gap"]["largest"] == pytest.approx(other["gap"]["largest"], abs=1e-6)
    for ours, theirs in zip(one["cuts"], other["cuts"], strict=True):
        assert ours["turn"] == pytest.approx(-theirs["turn"])
        assert ours["passes"][0]["sideways"] == pytest.approx(-theirs["passes"][0]["sideways"])
        assert ours["passes"][0]["beyond_blank"] == pytest.approx(
            theirs["passes"][0]["beyond_blank"])
