"""``coper bends``, and tubes with corners in the other verbs."""

import json
import math

import pytest

from coper import parse_job
from coper.errors import CoperError
from coper.job.shaped import shape_job
from tests.cli.run import run
from tests.drawing.readback import pdf_size, svg_texts

RADIUS = 4.5 * 25.4

JOB = """\
title = "Hoops"
units = "in"
[points]
left-top = [0, 10, 12]
[tubes.rail]
shape = "1-1/2in x 0.095in"
start = { at = [-20, 10, 0] }
end = { at = [20, 10, 0] }
mirror = true
[tubes.hoop]
shape = "1-1/2in x 0.095in"
start = { at = [0, 10, 0], on = ["rail"] }
corners = ["left-top", { from = "left-top", by = [0, -20, 0] }]
bend = "4-1/2in"
end = { at = [0, -10, 0], on = ["rail"] }
[tubes.brace]
shape = "1in x 0.065in"
start = { at = [0, 10, 7.5], on = ["hoop"] }
end = { at = [12, 10, 0], on = ["rail"] }
mirror = true
"""


@pytest.fixture
def file(tmp_path):
    def write(text=JOB):
        path = tmp_path / "hoops.toml"
        path.write_text(text)
        return str(path)
    return write


def test_bends_are_given_in_words_and_numbers(file):
    status, out, err = run("bends", file())
    assert (status, err) == (0, "")
    assert "hoop: 1.5 x 0.095 in" in out and "mark, in" not in out
    record = json.loads(run("bends", file(), "--json")[1])
    hoop, = record["tubes"]
    blank = (2 * 12 + 20) * 25.4 - 4 * RADIUS + math.pi * RADIUS
    assert hoop["blank"] == pytest.approx(blank)
    assert [bend["angle"] for bend in hoop["bends"]] == pytest.approx([90, 90])
    assert [bend["turn"] for bend in hoop["bends"]] == [None, pytest.approx(0, abs=1e-9)]
    assert hoop["bends"][1]["straight"] == pytest.approx(20 * 25.4 - 2 * RADIUS)
    assert hoop["straight_after"] == pytest.approx(12 * 25.4 - RADIUS)


def test_the_shops_stretch_gives_marks_of_its_own_bender(file):
    path = file(JOB.replace("[points]", "[shop]\nstretch = 0.125\n[points]"))
    record = json.loads(run("bends", path, "--json")[1])
    first, second = record["tubes"][0]["bends"]
    assert record["stretch"] == pytest.approx(3.175)
    assert second["begins"] - second["mark"] == pytest.approx(3.175)
    assert first["begins"] == first["mark"]
    out = run("bends", path)[1]
    assert "mark, in" in out and "needed" in out


def test_the_benders_sheet_is_drawn_and_stands_in_the_packet(file, tmp_path):
    assert run("bends", file(), "--pdf", str(tmp_path / "b.pdf"))[0] == 0
    size = sorted(pdf_size((tmp_path / "b.pdf").read_bytes()))
    assert size == pytest.approx([210, 297], abs=0.01)
    assert run("job", file(), "--out", str(tmp_path / "out"))[0] == 0
    pages = [" ".join(words for words, _ in svg_texts(page.read_text()))
             for page in sorted((tmp_path / "out").glob("*.svg"))]
    assert any("Bends of hoop" in page and "1: 90°" in page for page in pages)
    assert any(": Bends" in page and "In this packet" in page for page in pages)


def test_a_hoop_is_one_blank_of_round_tube_and_seats_and_is_seated_on(file):
    record = json.loads(run("job", file(), "--json")[1])
    hoop = next(tube for tube in record["tubes"] if tube["name"] == "hoop")
    assert len(hoop["corners"]) == 2 and hoop["bend"] == pytest.approx([RADIUS, RADIUS])
    brace = next(tube for tube in record["tubes"] if tube["name"] == "brace")
    assert brace["ends"]["start"]["mains"][0]["angle"] == pytest.approx(122.0, abs=0.1)
    stock, = (stock for stock in record["cut_list"]["stocks"]
              if any(blank["name"] == "hoop" for blank in stock["blanks"]))
    assert {blank["name"] for blank in stock["blanks"]} == {"hoop", "rail"}
    assert not record["clashes"]
    assert "bends        90° to 4.500 in, 90° to 4.500 in" in run("job", file())[1]


def test_every_verb_of_a_frame_takes_a_tube_with_corners(file):
    assert run("layout", file())[0] == 0


def test_a_saw_is_refused_where_an_end_lands_on_the_bend_and_not_on_its_leg(file):
    bent = JOB.replace("[0, 10, 7.5]", "[0, 10, 8.5]")
    for text, sawn in ((JOB.replace("[0, 10, 7.5]", "[0, 10, 4]"), True), (bent, False)):
        tubes = json.loads(run("job", file(text), "--json")[1])["tubes"]
        start = next(tube for tube in tubes if tube["name"] == "brace")["ends"]["start"]
        assert ("curves away from a saw" in json.dumps(start["setup"])) != sawn


@pytest.mark.parametrize(("old", "new", "where", "said"), [
    ('bend = "4-1/2in"\n', "", "tubes.hoop.bend", "missing"),
    ('bend = "4-1/2in"', "bend = [4, 4, 4]", "tubes.hoop.bend", "3 for 2 corners"),
    ('bend = "4-1/2in"', "bend = 0", "tubes.hoop.bend", "not a size"),
    ('bend = "4-1/2in"', "bend = 13", "tubes.hoop", "more than there is"),
    ('bend = "4-1/2in"', "bend = 0.5", "tubes.hoop", "too tight"),
    ('bend = "4-1/2in"', "bend = 11.5", "tubes.hoop", "more than there is"),
    ('corners = ["left-top", { from = "left-top", by = [0, -20, 0] }]\n', "", "tubes.hoop.bend",
     "without corners nothing is bent"),
    ('["left-top", {', '["left-tip", {', "tubes.hoop.corners[0]", "not known"),
    ('corners = ["left-top", { from = "left-top", by = [0, -20, 0] }]', "corners = []",
     "tubes.hoop.corners", "lists no corner"),
    ('corners = ["left-top", { from = "left-top", by = [0, -20, 0] }]', 'corners = "left-top"',
     "tubes.hoop.corners", "is not a list"),
    ("[points]", '[shop]\nstretch = "far"\n[points]', "shop.stretch", "no number"),
])
def test_what_is_wrong_with_corners_is_said_where_it_stands(file, old, new, where, said):
    assert old in JOB
    status, _, err = run("bends", file(JOB.replace(old, new, 1)))
    assert status == 2 and f"{where}: " in err and said in err


def test_a_cut_that_reaches_into_a_bend_is_refused_at_its_end_by_how_much():
    with pytest.raises(CoperError, match=r"start's cut reaches [\d.]+ mm into the bend"):
        shape_job(parse_job(JOB.replace("12]", "5]")))


def test_a_job_without_a_bent_tube_has_no_bends_to_give(file):
    status, _, err = run("bends", file(JOB.split("[tubes.hoop]", maxsplit=1)[0]))
    assert status == 2 and "no tube is bent" in err
