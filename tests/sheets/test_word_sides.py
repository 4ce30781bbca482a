"""Words and numbers of the templates stand at the places that they name."""

import re

import numpy as np
import pytest

from coper import Round
from coper.drawing.bounds import leaves
from coper.drawing.marks import Path, Text
from coper.frame.end import shape_end
from coper.frame.piece import make_piece
from coper.frame.tube import Tube
from coper.sheets.tube_templates import piece_blocks
from tests.cli.run import run
from tests.drawing.readback import svg_paths
from tests.sheets.groups import group_strokes, group_words


def drawn(folder, *words):
    file = folder / "joint.svg"
    status, _, err = run("joint", *words, "--paper", "roll", "--svg", str(file))
    assert (status, err) == (0, "")
    return file.read_text()


@pytest.fixture(scope="module")
def svg(tmp_path_factory):
    return drawn(tmp_path_factory.mktemp("words"), "28.6 x 0.9", "38.1", "--angle", "62",
                 "--offset", "3", "--turn", "20")


def test_every_side_is_named_beside_the_line_of_its_own_clock(svg):
    lines = {name: line for name, line in svg_paths(svg).items() if name.startswith("clock-")}
    lines = {float(name.split("-")[1]): line[:, 0].mean() for name, line in lines.items()
             if re.fullmatch(r"clock-\d+", name)}
    named = {word.split()[-1].split(",")[0]: (float(word.split()[0]), place[0])
             for word, place in group_words(svg, "sides") if len(word.split()) == 2}
    assert {"heel", "toe"} <= set(named) and len(lines) == 4
    for clock, x in named.values():
        assert abs(lines[clock] - x) < 6
    # The branch is turned 20 degrees on, so its own clock meets the heel 20 degrees earlier.
    assert named["heel"][0] == 340 and named["toe"][0] == 160


def test_round_the_footprint_the_branchs_clocks_stand_on_their_own_sides(tmp_path):
    text = drawn(tmp_path, "28.6 x 0.9", "38.1", "--angle", "62")
    landing, = group_strokes(text, "landing")
    middle = (landing.min(axis=0) + landing.max(axis=0)) / 2
    numbers = {word: place - middle for word, place in group_words(text, "sides-2")}
    # Clock 0 is towards the main's + end, drawn to the right; clock 90 is towards +y, drawn up.
    reach = np.ptp(landing, axis=0) / 2
    assert numbers["0"][0] > reach[0] and numbers["180"][0] < -reach[0]
    assert numbers["90"][1] > reach[1] * 0.95 and numbers["270"][1] < -reach[1]
    plus = next(place for word, place in group_words(text, "axes") if "+" in word)
    assert (plus - middle)[0] > reach[0]


def test_an_axis_that_lies_off_the_paper_is_said_to_be_as_far_below_it_as_it_is(tmp_path):
    text = drawn(tmp_path, "28.6 x 0.9", "160", "--angle", "75")
    cut = svg_paths(text)["cut"]
    paper = np.concatenate(group_strokes(text, "outline"))[:, 1].min()
    c, a = np.radians(np.arange(0, 360, 0.05)), np.radians(75)
    along = (np.sqrt(80**2 - (14.3 * np.sin(c)) ** 2) + 14.3 * np.cos(c) * np.cos(a)) / np.sin(a)
    off = along.min() - (cut[:, 1].min() - paper)
    (words, _), = group_words(text, "level")
    number, side = re.search(r"([\d.]+) (\w+)", words).groups()
    assert float(number) == pytest.approx(off, abs=0.06) and side == "below"


def placed():
    low = Tube(Round(40, 3), (0, -60, 0), (0, 60, 0), "low")
    high = Tube(Round(40), (-80, 10, 420), (90, -10, 432), "high")
    tube = Tube(Round(28.6, 0.9), (0, 1.5, 0), (20, 3.5, 420), "post")
    return make_piece(tube, shape_end(tube, "start", [low]), shape_end(tube, "end", [high]))


def texts_of(name):
    block = next(one for one in piece_blocks(placed(), 0.1, 10.0) if one.name == name)
    return [mark for mark in leaves(block.marks) if isinstance(mark, Text)], block


# The post stands up: its clock 0 faces +y, and clock 90, right-handed about up, faces -x. The low
# main runs to +y, the high one to +x; a main's + is drawn to the right.
@pytest.mark.parametrize(("block", "right", "left"), [
    ("post start on low", "0", "180"), ("post end on high", "270", "90")])
def test_a_placed_tubes_footprint_has_its_own_clocks_round_it_from_either_end(block, right, left):
    texts, _ = texts_of(block)
    at = {text.words: text.at[0] for text in texts if text.words.isdigit()}
    assert at[right] - at[left] > 25


@pytest.mark.parametrize(("block", "way"), [("post start", 1), ("post end", -1)])
def test_the_arrow_points_to_the_tubes_body(block, way):
    texts, block = texts_of(block)
    cut = next(mark.points for mark in leaves(block.marks)
               if isinstance(mark, Path) and mark.name == "cut")
    arrows = [text for text in texts if "→" in text.words or "←" in text.words]
    assert arrows
    for text in arrows:
        # Lettering that reads along its turn: an arrow to its right points where it reads to.
        points = np.sin(np.radians(text.turn)) * (1 if "→" in text.words else -1)
        assert points == pytest.approx(way, abs=0.01)
        assert way * (text.at[1] - cut[:, 1].mean()) > 0
