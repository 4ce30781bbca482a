"""Either end of a placed tube speaks of its sides in the tube's own clock."""

import re

import numpy as np
import pytest

from coper import Bent, Round, Tube, make_piece, plain_end, shape_end
from coper.frame.outline import skin

WIDE, MAIN, ASIDE = 38.1, 25.4, 7.0


def overhanging(which):
    """An upright tube, wider than the main that it seats on, which passes 7 mm ahead of it."""
    level = 0 if which == "start" else 300
    main = Tube(Round(MAIN), (ASIDE, -60, level), (ASIDE, 60, level), "main")
    tube = Tube(Round(WIDE, 1.2), (0, 0, 0), (0, 0, 300), "post")
    return tube, shape_end(tube, which, [main])


# Clock 0 faces +y; clock 90, right-handed about up, faces -x, away from the main. The skin there
# is -19.05 sin(clock) ahead, and what is over 12.7 mm from the main's axis meets nothing.
OPEN = tuple(np.degrees(np.arcsin((MAIN / 2 - ASIDE) / (WIDE / 2))) * way + add
             for way, add in ((1, 0), (-1, 180)))


@pytest.mark.parametrize("which", ["start", "end"])
def test_the_open_stretch_is_on_the_side_away_from_the_main_from_either_end(which):
    _, end = overhanging(which)
    (start, stop), = end.open
    assert (start, stop) == pytest.approx(OPEN, abs=1e-4)
    missing = np.isnan(end.outer)
    inside = (end.clock > start + 0.1) & (end.clock < stop - 0.1)
    assert missing[inside].all() and not missing[(end.clock < start - 0.1)
                                                 | (end.clock > stop + 0.1)].any()


@pytest.mark.parametrize("which", ["start", "end"])
def test_its_caution_names_the_same_clocks(which):
    _, end = overhanging(which)
    said = [[float(number) for number in re.findall(r"\d+\.?\d*", words)] for words in end.cautions]
    assert any(numbers[:2] == pytest.approx(OPEN, abs=0.06) for numbers in said if numbers[1:])


@pytest.mark.parametrize("which", ["start", "end"])
def test_the_long_point_is_where_the_edge_reaches_furthest_out_and_the_short_one_furthest_in(which):
    main = Tube(Round(40), *(((-80, 5, 0), (80, -5, 25)) if which == "start"
                             else ((-80, 5, 300), (80, -5, 325))), "main")
    tube = Tube(Round(28.6, 0.9), (0, 2, 0), (10, 3, 300), "post")
    end = shape_end(tube, which, [main])
    out = -1 if which == "start" else 1
    for point, way in ((end.long_point, out), (end.short_point, -out)):
        best = int(np.nanargmax(way * end.outer))
        assert point.along == pytest.approx(end.outer[best], abs=0.01)
        assert np.cos(np.radians(point.clock - end.clock[best])) > np.cos(np.radians(2))
    assert out * (end.reach - end.long_point.along) >= -1e-9


def test_the_blank_is_as_long_as_from_one_ends_furthest_place_to_the_others():
    tube, start = overhanging("start")
    piece = make_piece(tube, start, plain_end(tube, "end", 12.5))
    # The furthest out of the start: the inside, where the main has fallen away the most.
    assert piece.blank == pytest.approx(300 - 12.5 - start.reach)
    assert start.reach <= np.nanmin(start.outer) + 1e-9


@pytest.mark.parametrize("turn", [0.0, 90.0, 200.0])
@pytest.mark.parametrize("shape", [Round(20), Bent(20, 110)], ids=["straight", "bent"])
def test_the_clock_is_right_handed_from_start_to_end_on_a_bend_too(shape, turn):
    tube = Tube(shape, (-70, 10, 5), (60, 30, 25), "tube", turn=turn)
    piece = make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
    middle = np.full(4, tube.length / 2)
    ring = skin(piece, np.array([0.0, 90.0, 180.0, 270.0]), middle)
    one, other = ring[0] - ring[2], ring[1] - ring[3]
    ahead = np.array(tube.end) - np.array(tube.start)
    ahead = ahead / np.linalg.norm(ahead)
    assert np.cross(one, other) @ ahead == pytest.approx(20 * 20, rel=1e-6)
