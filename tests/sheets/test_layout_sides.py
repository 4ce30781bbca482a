"""The drawing of the table is seen from above, its numbers beside what they measure."""

import math
import re

import numpy as np
import pytest

from coper import Round, Tube, make_piece, plain_end
from coper.bench.layout.layout import Setting, Subject, make_layout
from coper.drawing.svg import svg_text
from coper.pages.compose import Block, compose
from coper.sheets.layout import layout_marks
from tests.drawing.readback import svg_paths
from tests.sheets.groups import group_strokes, group_words

STAY = Tube(Round(20), (0, 0, 0), (-410, 0, 70), "stay")
SEAT = Tube(Round(28), (3, 0, 40), (-150, 0, 390), "seat-tube")
POINTS = {"axle": (-410.0, 0.0, 70.0), "axle-hole": (-413.0, 0.0, 72.0),
          "bracket": (0.0, 0.0, 0.0), "head": (180.0, 0.0, 330.0)}


@pytest.fixture(scope="module")
def laid():
    pieces = tuple(make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
                   for tube in (STAY, SEAT))
    return make_layout(Subject(pieces, POINTS, {}), Setting(origin=(600.0, 150.0)))


@pytest.fixture(scope="module")
def svg(laid):
    page, = compose([Block("layout", layout_marks(laid))], "roll")
    return svg_text(page)


def middles(svg):
    """Where the crosses stand, from the corner of the front edge and the left end."""
    paths = svg_paths(svg)
    corner = paths["front-edge"].min(axis=0)
    return {int(name.split("-")[1]): paths[name].mean(axis=0) - corner
            for name in paths if re.fullmatch(r"mark-\d+", name)}


def test_the_front_of_the_frame_lies_to_the_left_and_its_top_away_from_the_edge(laid, svg):
    # On its right side, seen from its left: x forward is to the left, z up is away from the edge.
    crosses = middles(svg)
    for spot in laid.spots:
        for point in spot.points:
            if point.name in POINTS:
                x, _, z = POINTS[point.name]
                assert crosses[spot.number] == pytest.approx((600 - x, 150 + z), abs=0.02)


def test_the_four_lines_bound_the_table_and_the_edge_is_below_and_the_left_end_left(svg):
    paths = svg_paths(svg)
    edge, left = paths["front-edge"], paths["left-end"]
    far, right = paths["far-line"], paths["right-line"]
    assert np.ptp(edge[:, 1]) == np.ptp(far[:, 1]) == np.ptp(left[:, 0]) == 0
    assert edge[0, 1] < far[0, 1] and left[0, 0] < right[0, 0]


def test_every_mark_has_its_own_ordinates_to_a_tenth_on_the_outside_of_edge_and_end(laid, svg):
    paths = svg_paths(svg)
    corner = paths["front-edge"].min(axis=0)
    words = [(word, place - corner) for word, place in group_words(svg, "ordinates")
             if re.match(r"[\d, ]+:", word)]
    for axis in (0, 1):
        beside = {}
        for word, place in words:
            if place[1 - axis] < 0 <= place[axis]:
                numbers, value = word.split(":")
                beside.update(dict.fromkeys(map(int, numbers.split(",")), float(value)))
        assert beside == {spot.number: pytest.approx(spot.at[axis], abs=0.051)
                          for spot in laid.spots}


def test_the_leaders_begin_where_the_ordinates_say_and_lead_outwards(laid, svg):
    paths = svg_paths(svg)
    corner, width, depth = (paths["front-edge"].min(axis=0), laid.table.width, laid.table.depth)
    leaders = [line - corner for line in group_strokes(svg, "ordinates") if len(line) == 3]
    assert leaders
    for line in leaders:
        x, y = line[0]
        assert min(abs(x), abs(x - width), abs(y), abs(y - depth)) < 1e-3  # on one of the lines
        x, y = line[-1]
        assert not (0 < x < width and 0 < y < depth)


def test_each_axis_is_drawn_along_its_tube(laid, svg):
    paths = svg_paths(svg)
    corner = paths["front-edge"].min(axis=0)
    for tube in (STAY, SEAT):
        one, other = paths[f"axis-{tube.name}"] - corner
        way = (other - one) / math.dist(one, other)
        for x, _, z in (tube.start, tube.end):
            off = np.array((600 - x, 150 + z)) - one
            assert off[0] * way[1] - off[1] * way[0] == pytest.approx(0, abs=0.02)
