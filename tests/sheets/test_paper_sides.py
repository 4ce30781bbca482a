"""Paper lies outside a tube, reaches beyond both sides of a cut, and joins letter to letter."""

import numpy as np
import pytest

from coper import Round
from coper.drawing.bounds import Bounds, leaves
from coper.drawing.marks import Path, Text
from coper.frame.end import shape_end
from coper.frame.piece import make_piece
from coper.frame.tube import Tube
from coper.pages.ink import drawn_ink
from coper.pages.joins import crop_marks, join_marks
from coper.pages.tiles import Tile
from coper.sheets.tube_templates import piece_blocks
from tests.cli.run import run
from tests.sheets.groups import group_strokes


def placed(height):
    low = Tube(Round(40, 3), (-35, -60, -8), (35, 60, 8), "low")
    high = Tube(Round(40), (-80, 10, height), (90, -10, height + 12), "high")
    tube = Tube(Round(28.6, 0.9), (0, 1.5, 0), (20, 3.5, height), "post")
    return make_piece(tube, shape_end(tube, "start", [low]), shape_end(tube, "end", [high]))


def block(piece, name):
    found = next(one for one in piece_blocks(piece, 0.1, 10.0) if one.name == name)
    return list(leaves(found.marks))


def named(marks, name):
    return next(mark.points for mark in marks if isinstance(mark, Path) and mark.name == name)


@pytest.mark.parametrize("thickness", [0.0, 0.4])
def test_the_footprints_paper_lies_half_its_thickness_outside_the_main(tmp_path, thickness):
    file = tmp_path / "foot.svg"
    assert run("joint", "28.6 x 0.9", "38.1", "--angle", "62", "--offset", "3", "--paper", "roll",
               "--paper-thickness", str(thickness), "--svg", str(file))[0] == 0
    landing, = group_strokes(file.read_text(), "landing")
    # Round the main: asin((offset +- r) / R), on a radius larger by half the paper.
    arc = np.arcsin(17.3 / 19.05) - np.arcsin(-11.3 / 19.05)
    assert np.ptp(landing[:, 1]) == pytest.approx((19.05 + thickness / 2) * arc, abs=0.02)


@pytest.mark.parametrize(("name", "way"), [("post start", 1), ("post end", -1)])
def test_a_strip_has_paper_for_the_hand_on_the_body_and_to_cut_along_on_the_waste(name, way):
    marks = block(placed(420), name)
    cut, paper = way * named(marks, "cut")[:, 1], way * named(marks, "edge")[:, 1]
    assert paper.max() - cut.max() > 30 and 10 < cut.min() - paper.min() < 30


@pytest.mark.parametrize("name", ["post start", "post end"])
def test_the_seam_lies_across_from_the_starts_heel(name):
    piece = placed(420)
    marks = block(piece, name)
    line = next(mark for mark in marks if isinstance(mark, Path)
                and mark.name.startswith("clock-"))
    left = named(marks, "cut")[:, 0].min()
    clock = (float(line.name.removeprefix("clock-"))
             + (left - line.points[0, 0]) / (np.pi * 28.7) * 360)
    apart = (clock - piece.start.stances[0].heel_clock) % 360
    assert apart == pytest.approx(180, abs=0.6)


def test_on_a_whole_tubes_strip_the_arrows_point_to_the_ends_that_they_name():
    marks = block(placed(110), "post whole")
    arrows = [mark for mark in marks if isinstance(mark, Text)
              and ("→" in mark.words or "←" in mark.words)]
    assert arrows
    for text in arrows:  # the start is the lower cut, the end the upper one
        up = np.sin(np.radians(text.turn)) * (1 if "→" in text.words else -1)
        assert up == pytest.approx(1 if "end" in text.words else -1, abs=0.01)


def test_each_side_of_a_join_is_lettered_with_the_page_that_lies_there():
    tile = Tile(0, 0, Bounds(0, 0, 100, 200), ())
    ink = drawn_ink(crop_marks(tile.window))
    for place, way, line in (((1, 0), 0, 95.0), ((0, 1), 1, 5.0)):
        marks = join_marks(tile, {(0, 0): "A", place: "B"}, 10.0, ink)
        texts = [mark for mark in leaves(marks) if isinstance(mark, Text)]
        assert {text.words for text in texts} == {"A", "B"}
        for text in texts:
            # Its neighbour lies to the right, or below: page A to the left, or above.
            own = text.at[way] < line if way == 0 else text.at[way] > line - 1e-9
            assert own == (text.words == "A")
