"""What is printed says whose clock, which side, seen from where, and what a thing has."""

import json
import math
import re

import pytest

from coper import Tube
from coper.bench.layout.blocks import BlockSet
from coper.shapes.round import Round
from coper.telling.words.blocks import stack_words
from coper.telling.words.piece import zero_words
from tests.cli.run import run

INCH = 25.4

JOB = """
[shop]
{shop}
[tubes.rail]
shape = "30 x 2"
start = {{ at = [-200, 0, 0] }}
end = {{ at = [200, 0, 0] }}

[tubes.post]
shape = "22 x 1"
start = {{ at = [0, 0, 0], on = ["rail"] }}
end = {{ at = [{lean}, 0, 300] }}
turn = {turn}
"""


def printed(tmp_path, verb, text, *options):
    path = tmp_path / "job.toml"
    path.write_text(text)
    status, out, err = run(verb, str(path), *options)
    assert (status, err) == (0, "")
    return out


def cos(degrees):
    return math.cos(math.radians(degrees))


def sin(degrees):
    return math.sin(math.radians(degrees))


@pytest.mark.parametrize(("turn", "words"), [
    (0, "the left side"), (180, "the right side"), (-180, "the right side"),
    (90, "90° clockwise of the left side, looking from start to end"),
    (-30.5, "30.5° anticlockwise of the left side, looking from start to end")])
def test_each_tube_says_where_its_clock_0_is(tmp_path, turn, words):
    tube = Tube(Round(22, 1), (0, 0, 0), (0, 0, 300), "post", turn=turn)
    assert zero_words(tube) == words
    # Looking along +z with +y to the left, clockwise from the left is up: towards +x.
    first = tube.pose.axes[0]
    assert first[1] == pytest.approx(cos(turn)) and first[0] == pytest.approx(-sin(turn))
    out = printed(tmp_path, "job", JOB.format(shop="", lean=0, turn=turn))
    assert f"clock 0      {words}\n" in out
    record = json.loads(printed(tmp_path, "job", JOB.format(shop="", lean=0, turn=turn), "--json"))
    assert record["tubes"][1]["clock_0"] == words


def test_a_tube_across_the_frame_has_its_clock_0_on_top_or_below():
    across = {turn: Tube(Round(22, 1), (0, 0, 0), (0, 300, 0), "post", turn=turn)
              for turn in (0, 180)}
    assert [zero_words(tube) for tube in across.values()] == ["the top", "the underside"]


def test_a_heels_clock_is_said_to_be_the_shaped_tubes_own(tmp_path):
    out = printed(tmp_path, "job", JOB.format(shop="", lean=120, turn=0))
    assert "heel at own clock 270" in out  # of a post along +z, +x is clock 270
    square = printed(tmp_path, "job", JOB.format(shop="", lean=0, turn=0))
    assert "own clock 270 on the side of rail's end point" in square
    assert "own clocks are those of the tube that is shaped" in square


def test_too_few_blocks_are_named_and_what_would_do():
    words = stack_words(BlockSet((3 * INCH, 2 * INCH)).stack(900))
    assert words.startswith("TOO FEW BLOCKS: 3 in + 2 in, 773.00 mm")
    assert words.endswith("short: add 10 more of 3 in") and "shim" not in words
    alone = stack_words(BlockSet((3 * INCH,)).stack(60))
    assert alone.startswith("TOO FEW BLOCKS: none fits, 60.00 mm") and "add a block" in alone


def test_a_shim_thinner_than_a_shop_can_put_under_is_none():
    blocks = BlockSet((3 * INCH, 1 * INCH))
    assert stack_words(blocks.stack(0.18)) == "no shim: 0.18 mm high"
    assert stack_words(blocks.stack(4 * INCH + 0.18)) == "3 in + 1 in, no shim: 0.18 mm short"
    assert stack_words(blocks.stack(4 * INCH + 0.3)) == "3 in + 1 in + shim 0.30 mm (1/64 in)"
    assert stack_words(blocks.stack(0)) == "on the table"


def test_a_distance_across_the_table_has_no_stack_on_it(tmp_path):
    text = JOB.format(shop='blocks = ["1in"]', lean=0, turn=0) + "[points]\naxle = [-100, 0, 0]\n"
    out = printed(tmp_path, "layout", text)
    drop, = (line for line in out.splitlines() if line.endswith("axle, further from the edge"))
    assert "none: level with it" in drop and "on the table" not in drop


@pytest.mark.parametrize(("main", "said", "unsaid"), [
    ("plate 6", "main's face", "main's axis"), ("36", "main's axis", "main's face")])
def test_a_plate_has_a_face_and_a_tube_an_axis(tmp_path, main, said, unsaid):
    sheet = tmp_path / "sheet.svg"
    status, out, _ = run("joint", "28.6 x 0.9", main, "--angle", "60", "--svg", str(sheet))
    assert status == 0
    for text in (out, sheet.read_text().replace("&apos;", "'")):
        assert said in text and unsaid not in text


TURNED = """
[tubes.beam]
shape = "box 40 by 20 x 2"
start = { at = [0, 0, 0] }
end = { at = [300, 0, 0] }
turn = 30
"""


def test_blocks_under_a_turned_box_stand_below_its_lowest_edge(tmp_path):
    record = json.loads(printed(tmp_path, "layout", TURNED, "--json"))
    support = record["tubes"][0]["supports"][0]
    # Of half sides 20 and 10, turned by 30 degrees, the lowest corner is one of these:
    corners = [(20 * a * cos(30) - 10 * b * sin(30),
                20 * a * sin(30) + 10 * b * cos(30)) for a in (1, -1) for b in (1, -1)]
    low, beside = min((x, abs(z)) for x, z in corners)
    assert support["centre"] - support["gap"] == pytest.approx(-low, abs=1e-3)
    assert abs(support["beside"][1]) == pytest.approx(beside, abs=1e-3)
    axis = record["points"][0]["from_edge"]
    assert support["at"][1] - axis == pytest.approx(support["beside"][1], abs=1e-9)
    out = printed(tmp_path, "layout", TURNED)
    assert re.search(r"beam, by its start \(from its axis [\d.]+ mm (nearer|further)", out)
    flat = printed(tmp_path, "layout", TURNED.replace("turn = 30", ""))
    assert "(from its axis" not in flat


def test_the_gap_under_a_plate_is_said_to_be_that_under_its_axis(tmp_path):
    out = printed(tmp_path, "layout", TURNED.replace("box 40 by 20 x 2", "plate 6"))
    assert "! beam is a plate, and the job does not say how wide" in out


def test_a_name_that_ends_in_a_side_keeps_it_where_it_has_no_twin(tmp_path):
    text = TURNED.replace("tubes.beam", 'tubes."stay left"') + "[points]\nturn-left = [0, 0, 90]\n"
    sheet = tmp_path / "sheet.svg"
    printed(tmp_path, "layout", text, "--svg", str(sheet))
    drawn = sheet.read_text()
    assert "A1 stay left" in drawn and "1 turn-left" in drawn


def test_a_clearance_of_twins_says_whose_clock_it_gives():
    status, out, _ = run("clearance", "demo/wagtail.toml")
    assert status == 0
    rows = [line for line in out.splitlines() if ", both sides" in line]
    assert rows and all("of the left one" in row for row in rows)
