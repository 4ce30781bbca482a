"""The log page of tracking, drawn and read back."""

import pytest

from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge
from coper.bicycle.tracking.tracking import TrackingReadings, track
from coper.drawing.bounds import bounds
from coper.drawing.svg import svg_files
from coper.pages.compose import compose
from coper.sheets.tracking_log import plan_marks, tracking_command, tracking_log_blocks
from tests.drawing.readback import svg_paths, svg_texts
from tests.pages.room import overlapping

REAR = RearEnd(36.0, 28.6, 570.0, 410.0, 130.0, thickness=5.0)
WIDE = RearEnd(60.0, 30.0, 300.0, 700.0, 420.0)
SHORT = RearEnd(31.8, 31.8, 620.0, 250.0, 74.0, thickness=8.0)


def log(rear=REAR, edge=None, readings=None):
    return track(rear, edge or StraightEdge(), readings or TrackingReadings())


def pages(found, paper="a4"):
    return compose(tracking_log_blocks(found), paper)


def words(found):
    ((_, text),) = svg_files("log.svg", pages(found))
    return [word for word, _ in svg_texts(text.decode())]


def drawn(found):
    ((_, text),) = svg_files("log.svg", pages(found))
    return svg_paths(text.decode())


def height_at(line, x):
    """The lower side of a drawn edge at ``x``; its first two points are that side."""
    (x0, y0), (x1, y1) = line[:2]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


@pytest.mark.parametrize("rear", [REAR, WIDE, SHORT])
def test_the_drawn_edge_touches_both_tubes_and_cuts_neither(rear):
    paths = drawn(log(rear))
    for name in ("head-tube", "seat-tube"):
        ring = paths[name]
        clear = [height_at(paths["edge-left"], x) - y for x, y in ring]
        assert min(clear) == pytest.approx(0, abs=0.02) and min(clear) > -0.01


def test_the_drawn_reading_runs_from_the_edge_to_the_dropouts_inner_face():
    paths = drawn(log())
    arrow, plate = paths["read-left"], paths["dropout-left"]
    assert arrow[1, 1] == pytest.approx(plate[:, 1].min(), abs=0.01)
    assert arrow[0, 1] == pytest.approx(height_at(paths["edge-left"], arrow[0, 0]), abs=0.01)


def test_with_blocks_the_edge_is_drawn_outside_the_dropout_on_them():
    paths = drawn(log(edge=StraightEdge(spacer=70.0)))
    arrow, plate = paths["read-left"], paths["dropout-left"]
    assert arrow[1, 1] == pytest.approx(plate[:, 1].max(), abs=0.01)
    assert arrow[0, 1] > arrow[1, 1] and "block" in paths


@pytest.mark.parametrize("edge", [StraightEdge(), StraightEdge(70.0), StraightEdge(0.0, 6.0)])
def test_the_form_says_what_each_reading_should_be(edge):
    found = log(edge=edge)
    said = words(found)
    assert said.count(f"{found.expected_edge:.2f} mm") == 2
    assert said.count(f"{found.expected_string:.2f} mm") == 2
    assert "130.00 mm" in said and {"round 1", "round 2", "round 3"} <= set(said)
    half = "(right – left) / 2" if edge.spacer else "(left – right) / 2"
    assert any(half in word for word in said)


def test_readings_that_are_known_stand_in_the_first_round():
    said = words(log(readings=TrackingReadings(edge=LeftRight(55.55, 48.25), width=131.7)))
    assert {"55.55 mm", "48.25 mm", "3.65 mm", "131.70 mm"} <= set(said)


def test_without_a_dropouts_thickness_no_string_is_drawn_or_promised():
    found = log(WIDE)
    assert not any(name.startswith("string") for name in drawn(found))
    assert not any("String:" in word for word in words(found))


def test_the_command_and_the_limit_with_its_source_are_on_the_page():
    text = " ".join(words(log()))
    assert f"Type: {tracking_command(REAR, StraightEdge())}" in text
    assert "Limit 0.50 mm: Barnett's Manual, 5th ed., ch. 8." in text


@pytest.mark.parametrize("paper", ["a4", "letter", "legal", "a3"])
def test_the_log_takes_one_page(paper):
    assert len(pages(log(), paper)) == 1


@pytest.mark.parametrize(("rear", "edge"), [
    (REAR, StraightEdge()), (REAR, StraightEdge(80.0)), (WIDE, StraightEdge()),
    (SHORT, StraightEdge()), (SHORT, StraightEdge(80.0))])
def test_no_two_words_of_the_sketch_overlap(rear, edge):
    marks = plan_marks(log(rear, edge))
    assert not overlapping(marks)
    assert bounds(marks).width < 182
