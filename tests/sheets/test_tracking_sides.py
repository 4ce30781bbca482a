"""On the log of tracking the frame is seen from above, its front to the right: left is up."""

import re

import numpy as np
import pytest

from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge
from coper.bicycle.tracking.tracking import TrackingReadings, track
from coper.drawing.svg import svg_files, svg_text
from coper.pages.compose import Block, compose
from coper.sheets.tracking_log import plan_marks, tracking_log_blocks
from tests.drawing.readback import svg_paths, svg_texts
from tests.pages.room import texts

REAR = RearEnd(36.0, 28.6, 570.0, 410.0, 130.0, thickness=5.0, rim_radius=253.5)
READ = TrackingReadings(edge=LeftRight(55.5, 48.25), string=LeftRight(43.5, 41.25), width=131.75,
                        stays=LeftRight(412.25, 411.5))


@pytest.fixture(scope="module")
def plan():
    found = track(REAR, StraightEdge(), TrackingReadings())
    page, = compose([Block("plan", plan_marks(found), keep_upright=True)], "a4")
    return svg_text(page)


def middle(paths, name):
    return (paths[name].min(axis=0) + paths[name].max(axis=0)) / 2


def test_the_head_tube_is_to_the_right_of_the_seat_tube_and_the_dropouts_are_at_the_left(plan):
    paths = svg_paths(plan)
    dropout, seat, head = (middle(paths, name)[0]
                           for name in ("dropout-left", "seat-tube", "head-tube"))
    assert (seat - dropout) / (head - dropout) == pytest.approx(410 / 980, abs=1e-3)
    assert head > seat > dropout


@pytest.mark.parametrize("name", ["dropout", "edge", "read", "string", "gap"])
def test_what_belongs_to_the_left_is_above_the_middle_plane_and_its_twin_as_far_below(plan, name):
    paths = svg_paths(plan)
    level = middle(paths, "head-tube")[1]
    left, right = (paths[f"{name}-{side}"][:, 1] - level for side in ("left", "right"))
    assert left.min() > 0 > right.max()
    assert np.sort(left) == pytest.approx(np.sort(-right), abs=1e-3)


def test_the_words_left_and_right_stand_on_their_own_sides(plan):
    level = middle(svg_paths(plan), "head-tube")[1]
    height = float(re.search(r'viewBox="0 0 \S+ ([\d.]+)"', plan).group(1))
    for word, mark in svg_texts(plan):
        above = height - float(mark.attrib["y"]) > level
        if word.split()[-1:] in (["left"], ["right"]):
            assert above == word.endswith("left")


def test_the_readings_stand_in_the_rows_of_their_own_sides():
    found = track(REAR, StraightEdge(), READ)
    pages = compose(tracking_log_blocks(found), "a4")
    text = next(iter(dict(svg_files("log.svg", pages)).values())).decode()
    placed = [(word, float(mark.attrib["x"]), float(mark.attrib["y"]))
              for word, mark in svg_texts(text)]
    for name in ("edge", "string", "stays"):
        for side in ("left", "right"):
            value = f"{getattr(getattr(READ, name), side):.2f} mm"
            level = next(y for word, _, y in placed if word == value)
            row = [word for word, _, y in sorted(placed, key=lambda one: one[1])
                   if abs(y - level) < 1]
            assert row[0].endswith(side) and row[0].lower().startswith(name.rstrip("s"))


def test_off_to_the_left_is_half_of_left_less_right_inside_the_dropouts_and_the_other_way_outside():
    # A reading from the edge out to an inner face grows with the face; one from an edge outside
    # the dropouts shrinks with it. A rear end 2 mm to the left:
    inner, outer = (track(REAR, edge, TrackingReadings(edge=pair)) for edge, pair in (
        (StraightEdge(), LeftRight(52.0, 48.0)), (StraightEdge(spacer=80.0), LeftRight(33, 37))))
    assert inner.off == outer.off == pytest.approx(2.0)
    said = [next(mark.words for block in tracking_log_blocks(found)
                 for mark in texts(block.marks) if "right" in mark.words and "/ 2" in mark.words)
            for found in (inner, outer)]
    orders = [re.search(r"\((left|right) . (left|right)\) / 2", words).groups() for words in said]
    assert orders == [("left", "right"), ("right", "left")]


def test_each_length_along_the_edge_stands_between_the_places_that_it_was_measured_from(plan):
    paths = svg_paths(plan)
    dropout, seat, head = (middle(paths, name)[0]
                           for name in ("dropout-left", "seat-tube", "head-tube"))
    at = {float(word.split()[0]): float(mark.attrib["x"]) for word, mark in svg_texts(plan)
          if re.fullmatch(r"[\d.]+ mm", word)}
    assert dropout < at[410.0] < seat < at[570.0] < head
