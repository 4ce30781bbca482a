"""On which side of a template's cut line the waste is, and which way its clock runs."""

import numpy as np
import pytest

from coper import Round
from coper.drawing.bounds import leaves
from coper.drawing.hatch import hatch_strokes
from coper.drawing.marks import Hatch, Path
from coper.frame.end import shape_end
from coper.frame.piece import make_piece
from coper.frame.tube import Tube
from coper.sheets.tube_templates import piece_blocks
from tests.cli.run import run
from tests.drawing.readback import svg_paths
from tests.sheets.groups import group_strokes, group_words

PAPER = 0.1
ANGLE, OFFSET = 62.0, 3.0


def formula(clock, angle, offset):
    """The design's check formula, of 28.6 on 38.1."""
    c, a = np.radians(clock), np.radians(angle)
    return (np.sqrt(19.05**2 - (offset + 14.3 * np.sin(c)) ** 2)
            + 14.3 * np.cos(c) * np.cos(a)) / np.sin(a)


@pytest.fixture(scope="module")
def svg(tmp_path_factory):
    file = tmp_path_factory.mktemp("strip") / "joint.svg"
    status, _, err = run("joint", "28.6 x 0.9", "38.1", "--angle", str(ANGLE), "--offset",
                         str(OFFSET), "--paper", "roll", "--paper-thickness", str(PAPER),
                         "--svg", str(file))
    assert (status, err) == (0, "")
    return file.read_text()


def test_the_waste_is_hatched_beyond_the_cut_and_the_body_lies_on_its_other_side(svg):
    cut = svg_paths(svg)["cut"]
    for stroke in group_strokes(svg, "waste"):
        below = np.interp(stroke[:, 0], cut[:, 0], cut[:, 1]) - stroke[:, 1]
        assert below.min() > -0.02
    for line in group_strokes(svg, "sides"):
        assert (line[:, 1] >= np.interp(line[:, 0], cut[:, 0], cut[:, 1]) - 0.02).all()
    assert all(place[1] > cut[:, 1].max() for _, place in group_words(svg, "body"))


def test_the_template_is_no_mirror_image_its_clock_runs_to_the_right_and_its_body_lies_up(svg):
    # Print outside, the body up: the clock is right-handed about the tube, away from the joint,
    # and so runs to the right. The seam is at the toe, clock 180.
    cut = svg_paths(svg)["cut"]
    clock = 180 + (cut[:, 0] - cut[0, 0]) / (np.pi * (28.6 + PAPER)) * 360
    assert clock[-1] == pytest.approx(540, abs=0.05)
    along = formula(clock, ANGLE, OFFSET)
    np.testing.assert_allclose(cut[:, 1] - cut[0, 1], along - along[0], rtol=0, atol=0.02)


def placed(height):
    """A tube that leans and passes both of its mains at an offset."""
    low = Tube(Round(40, 3), (-35, -60, -8), (35, 60, 8), "low")
    high = Tube(Round(40), (-80, 10, height), (90, -10, height + 12), "high")
    tube = Tube(Round(28.6, 0.9), (0, 1.5, 0), (20, 3.5, height), "post")
    return make_piece(tube, shape_end(tube, "start", [low]), shape_end(tube, "end", [high]))


def cuts_and_hatches(block):
    marks = list(leaves(block.marks))
    cuts = [mark.points for mark in marks if isinstance(mark, Path) and mark.name == "cut"]
    strokes = [hatch_strokes(mark).reshape(-1, 2) for mark in marks if isinstance(mark, Hatch)]
    return cuts, strokes


@pytest.mark.parametrize(("height", "block", "ways"), [
    (420, "post start", (1,)), (420, "post end", (-1,)), (110, "post whole", (1, -1))])
def test_the_waste_of_a_placed_tube_is_below_its_start_and_above_its_end(height, block, ways):
    drawn = next(one for one in piece_blocks(placed(height), PAPER, 10.0) if one.name == block)
    cuts, hatches = cuts_and_hatches(drawn)
    assert len(cuts) == len(hatches) == len(ways)
    for cut, strokes, way in zip(cuts, hatches, ways, strict=True):
        beyond = way * (np.interp(strokes[:, 0], cut[:, 0], cut[:, 1]) - strokes[:, 1])
        assert strokes.size and beyond.min() > -0.02


@pytest.mark.parametrize(("block", "which"), [("start", 0), ("end", 1)])
def test_the_strip_of_either_end_carries_the_clock_of_the_tube_to_the_right(block, which):
    piece = placed(420)
    drawn = next(one for one in piece_blocks(piece, PAPER, 0.0) if one.name == f"post {block}")
    (cut,), _ = cuts_and_hatches(drawn)
    name, line = next((mark.name, mark.points) for mark in leaves(drawn.marks)
                      if isinstance(mark, Path) and mark.name.startswith("clock-"))
    clock = (float(name.removeprefix("clock-"))
             + (cut[:, 0] - line[0, 0]) / (np.pi * (28.6 + PAPER)) * 360)
    end = piece.ends[which]
    known = np.interp(clock, end.clock, end.outer, period=360)
    mirrored = np.interp(-clock, end.clock, end.outer, period=360)
    assert np.ptp(cut[:, 1] - known) < 0.2  # the line's name is rounded to a degree
    assert np.ptp(cut[:, 1] - mirrored) > 1.0
