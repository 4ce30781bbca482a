"""Tubes that run through each other though neither seats on the other."""

import json
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import Box, Plate, Round, Tube, make_piece, make_pieces, plain_end, read_job, shape_end
from coper.frame.clash import find_clashes
from tests.cli.run import run
from tests.drawing.readback import pdf_texts
from tests.profiles import examples

POST = Tube(Round(40, 2), (0, 0, 0), (0, 0, 500), "post")
FORGOTTEN = """\
[tubes.post]
shape = "40 x 2"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 500] }
[tubes.brace]
shape = "20 x 1"
start = { at = [-100, 3, 200] }
end = { at = [150, 3, 260] }
"""


def plain(tube):
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def crossing(gap, angle, thick=20.0):
    """A tube that passes the post at this distance of the axes, to the left."""
    way = np.array((math.cos(angle), 0.0, math.sin(angle))) * 200
    middle = np.array((0.0, gap, 250.0))
    return Tube(Round(thick, 1), middle - way, middle + way, "brace")


@examples(25)
@given(st.floats(11, 29.5), st.floats(-0.9, 0.9), st.floats(12, 20))
def test_two_round_tubes_overlap_by_their_radii_less_the_distance_of_their_axes(gap, angle, thick):
    deep = 20 + thick / 2 - gap
    found = find_clashes([plain(POST), plain(crossing(gap, angle, thick))])
    if deep <= 0.1:
        assert found == ()
        return
    clash, = found
    assert clash.deep == pytest.approx(deep, abs=1e-6)
    assert clash.at[0] == pytest.approx(0, abs=1e-3) and clash.at[2] == pytest.approx(250, abs=1e-3)
    assert gap - thick / 2 - 1e-6 <= clash.at[1] <= 20 + 1e-6  # to the left, where they overlap


def test_a_brace_right_through_a_post_is_as_deep_as_the_post_is_thick_to_its_axis():
    clash, = find_clashes([plain(POST), plain(crossing(3, 0.2))])
    assert clash.deep == pytest.approx(20, abs=1e-6)
    assert (clash.one.label, clash.other.label) == ("post", "brace")


def test_tubes_that_seat_on_each_other_or_only_touch_are_none():
    seated = Tube(Round(20, 1), (0, 0, 250), (200, 0, 250), "arm")
    arm = make_piece(seated, shape_end(seated, "start", [POST]), plain_end(seated, "end"))
    assert find_clashes([plain(POST), arm]) == ()
    assert find_clashes([plain(POST), plain(crossing(30, 0.3))]) == ()
    beyond = Tube(Round(20, 1), (-100, 0, 511), (100, 0, 511), "above")
    assert find_clashes([plain(POST), plain(beyond)]) == ()


def test_the_same_tube_half_a_diameter_lower_runs_into_the_posts_end():
    into = Tube(Round(20, 1), (-100, 0, 501), (100, 0, 501), "above")
    clash, = find_clashes([plain(POST), plain(into)])
    assert clash.deep == pytest.approx(9, abs=1e-6)  # from its lowest line up to the post's end


def test_a_box_is_met_at_its_side_and_a_plate_without_a_width_is_left_out():
    # At turn 0 the first side's middle faces left: the box is 40 wide across y and 20 high.
    beam = Tube(Box(40, 20, 2, 1.5), (-200, 0, 0), (200, 0, 0), "beam")
    rod = Tube(Round(10, 1), (0, -100, 13), (0, 100, 13), "rod")
    flat = Tube(Plate(6), (0, 0, 0), (100, 0, 0), "floor")
    clash, = find_clashes([plain(beam), plain(rod)])
    assert clash.deep == pytest.approx(10 + 5 - 13, abs=1e-6)
    assert find_clashes([plain(flat), plain(rod)]) == ()


@pytest.mark.parametrize(("y", "z", "deep"), [
    (0, -10, 1), (0, 9, 0), (0, 4, 1), (43, -3, 2), (-43, -3, 2), (46, -3, 0), (-46, -3, 0)])
def test_a_plate_with_a_width_is_met_at_its_face_its_back_and_its_edges(y, z, deep):
    # Its face is at z 0, 80 wide across y, and 6 thick below it.
    flat = Tube(Plate(6, 80), (0, 0, 0), (100, 0, 0), "floor")
    rod = Tube(Round(10, 1), (-50, y, z), (150, y, z), "rod")
    assert [clash.deep for clash in find_clashes([plain(flat), plain(rod)])] == (
        pytest.approx([deep], abs=1e-6) if deep else [])


@pytest.mark.parametrize(("thick", "from_to", "clashes"), [
    (35.8, (200, 800), False),   # a sleeve in the bore of 36 mm, out at the top
    (36, (100, 400), False),     # the same, close fitting and wholly inside
    (36.6, (200, 800), True),    # too large for the bore
    (40, (400, 900), True),      # two tubes in one another's place
])
def test_a_sleeve_or_a_post_in_the_bore_is_none_unless_it_is_too_large(thick, from_to, clashes):
    sleeve = Tube(Round(thick, 1), *((0, 0, height) for height in from_to), "sleeve")
    for pieces in ([plain(POST), plain(sleeve)], [plain(sleeve), plain(POST)]):
        assert len(find_clashes(pieces)) == clashes


def test_a_tube_that_begins_in_the_bore_and_leaves_through_the_wall_is_one():
    stub = Tube(Round(10, 1), (0, 0, 200), (100, 0, 300), "stub")
    assert len(find_clashes([plain(POST), plain(stub)])) == 1


def test_a_tube_welded_alongside_or_end_to_end_is_none():
    for start, end in (((35, 0, 0), (35, 0, 500)), ((34.95, 0, 100), (34.95, 0, 700)),
                       ((0, 0, 500), (0, 0, 900))):
        beside = Tube(Round(40 if start[0] == 0 else 30, 2), start, end, "beside")
        assert find_clashes([plain(POST), plain(beside)]) == ()


def test_a_forgotten_seat_is_named_in_the_terminal_in_json_and_on_the_job_sheet(tmp_path):
    file = tmp_path / "post.toml"
    file.write_text(FORGOTTEN)
    status, out, _ = run("job", str(file), "--out", str(tmp_path / "out"))
    assert status == 0
    assert "post and brace run through each other, 20.00 mm deep" in out
    paper = (tmp_path / "out" / "post.pdf").read_bytes()
    sheet = " ".join(words for words, _ in pdf_texts(paper))
    assert "post and brace run" in sheet
    clash, = json.loads(run("job", str(file), "--json")[1])["clashes"]
    assert [tube["name"] for tube in clash["tubes"]] == ["post", "brace"]
    assert clash["deep"] == pytest.approx(20) and len(clash["at"]) == 3


def test_nothing_was_forgotten_in_the_demo():
    assert find_clashes(make_pieces(read_job("demo/wagtail.toml"))) == ()
