"""The outline of a cut-off end: as large as the section, and seen from outside."""

import numpy as np
import pytest

from coper import make_pieces, parse_job
from coper.frame.cap import cap_outline
from coper.job.faults import JobError
from coper.verbs.job import job
from tests.drawing.readback import svg_paths

POST = """\
[tubes.post]
shape = "{shape}"
start = {{ at = [0, 0, 0]{start}, cap = 3 }}
end = {{ at = [0, 0, 400], cap = 2 }}
turn = {turn}
"""


def outlines(shape="28 x 1.5", start="", turn=0):
    piece, = make_pieces(parse_job(POST.format(shape=shape, start=start, turn=turn)))
    return [cap_outline(piece, end) for end in piece.ends]


def area(ring):
    x, y = ring.T
    return (x * np.roll(y, -1) - y * np.roll(x, -1)).sum() / 2


def test_a_cap_of_a_straight_cut_is_the_section_and_of_a_face_the_ellipse_over_it():
    start, end = outlines(start=", face = [1, 0, 1]", turn=90)
    assert np.hypot(*end.T) == pytest.approx(14, abs=1e-9)
    assert np.ptp(start, axis=0) == pytest.approx(
        [28 * np.sqrt(2), 28], abs=1e-3) or np.ptp(start, axis=0) == pytest.approx(
        [28, 28 * np.sqrt(2)], abs=1e-3)
    assert abs(area(start)) == pytest.approx(np.pi * 14 * 14 * np.sqrt(2), rel=1e-4)


def test_looking_at_the_start_clocks_grow_clockwise_and_at_the_end_the_other_way():
    for face in ("", ", face = [0.3, 0.2, 1]"):
        start, end = outlines("box 40 by 20 corner 2 x 2", face)
        assert area(start) < 0 < area(end)
        assert start[0, 0] > 0 and start[0, 1] == pytest.approx(0, abs=1e-9)  # clock 0


def test_a_boxs_cap_has_its_sides_and_its_longer_side_lies_along_clock_0():
    start, end = outlines("box 40 by 20 corner 2 x 2", turn=30)
    for ring in (start, end):
        assert np.ptp(ring, axis=0) == pytest.approx([40, 20], abs=1e-6)


def test_the_packet_has_each_kind_of_cap_once_and_json_its_outline():
    text = POST.format(shape="28 x 1.5", start="", turn=0) + POST.format(
        shape="28 x 1.5", start="", turn=0).replace("post", "stake").replace(
        "[0, 0, ", "[90, 0, ")
    answer = job(parse_job(text))
    pages = " ".join(answer.svg())
    assert "2 x post, stake, start: 3.00 mm thick" in pages or "start: 3.00 mm thick" in pages
    caps = [svg_paths(page)["cap"] for page in answer.svg() if "thick" in page
            and 'id="cap' in page]
    assert caps
    record = answer.record()["tubes"][0]["ends"]
    assert [record[which]["cap"]["thickness"] for which in ("start", "end")] == [3, 2]
    assert np.hypot(*np.array(record["start"]["cap"]["outline"]).T) == pytest.approx(14)


def test_an_end_that_another_tube_closes_has_no_cap():
    text = POST.format(shape="28 x 1.5", start="", turn=0).replace(
        "cap = 3", 'on = ["rail"], cap = 3') + (
        '[tubes.rail]\nshape = "40"\nstart = { at = [-90, 0, 0] }\nend = { at = [90, 0, 0] }\n')
    with pytest.raises(JobError, match="another tube closes it; take out cap, or on"):
        parse_job(text)
    with pytest.raises(JobError, match="cap"):
        parse_job(POST.format(shape="28 x 1.5", start="", turn=0).replace("cap = 3", "cap = 0"))
