"""What a job file means."""

import json
import re

import numpy as np
import pytest

from coper import CoperError, make_pieces, parse_job, read_job
from coper.job.faults import JobError
from coper.job.job import Shop
from coper.job.papers import PAPERS
from coper.pages import paper as pages
from coper.telling.records.piece import piece_record

FRAME = """
title = "Frame"
[points]
axle = [-400, 60, 60]
[tubes.post]
shape = "28.6 x 0.9"
start = { at = [0, 0, -50] }
end = { at = [0, 0, 400] }
[tubes.stay]
shape = "16 x 0.8"
start = { at = [0, 3, 40], on = ["post"], cut = "square" }
end = { at = "axle", back = 15 }
mirror = true
[tubes.bridge]
shape = "10 x 0.8"
start = { at = [-200, 31.5, 50], on = ["stay"] }
end = { at = [-200, -31.5, 50], on = ["stay"] }
[tubes.strut]
shape = "10 x 0.8"
start = { at = [-100, 17.25, 45], on = ["stay"] }
end = { at = [0, 3, 200], on = ["post"] }
mirror = true
turn = "30°"
"""


@pytest.fixture(scope="module")
def pieces():
    return {(piece.tube.name, piece.tube.side): piece
            for piece in make_pieces(parse_job(FRAME))}


def test_pieces_come_in_the_files_order_the_twin_after_its_tube(pieces):
    assert list(pieces) == [
        ("post", "centre"), ("stay", "left"), ("stay", "right"), ("bridge", "centre"),
        ("strut", "left"), ("strut", "right")]


def test_a_tube_of_the_centre_seats_on_the_nearer_twin(pieces):
    bridge = pieces["bridge", "centre"]
    assert [bridge.start.mains[0].side, bridge.end.mains[0].side] == ["left", "right"]


def test_a_twin_seats_on_the_twin(pieces):
    for side in ("left", "right"):
        assert pieces["strut", side].start.mains[0].side == side


def test_the_twin_of_a_tube_is_as_long_and_its_blank_too(pieces):
    for name in ("stay", "strut"):
        left, right = pieces[name, "left"], pieces[name, "right"]
        assert right.tube.length == pytest.approx(left.tube.length)
        assert right.blank == pytest.approx(left.blank, abs=1e-6)
        assert right.tube.turn == -left.tube.turn


def test_a_tube_written_on_the_right_has_its_twin_on_the_left():
    job = parse_job(FRAME.replace("[-400, 60, 60]", "[-400, -60, 60]").replace("[0, 3,", "[0, -3,"))
    sides = [piece.tube.side for piece in make_pieces(job) if piece.tube.name == "stay"]
    assert sides == ["right", "left"]


def test_bare_numbers_are_in_the_jobs_unit_and_texts_in_their_own():
    text = """
    units = "in"
    [shop]
    process = "tig"
    gap_limit = "0.3mm"
    saws = ["7/8in", 1]
    paper = "a3"
    blocks = [0.125]
    [tubes.a]
    shape = "1-1/8 x 0.035"
    start = { at = [0, "30mm", -1.5] }
    end = { at = [10, "1 1/8in", 0], back = 0.5 }
    """
    job = parse_job(text)
    tube, = job.tubes
    assert job.shop == Shop("tig", 0.3, (22.225, 25.4), "a3", (3.175,))
    assert tube.start.at == (0, 30, -38.1) and tube.end.at == (254, 28.575, 0)
    assert tube.end.back == 12.7
    assert tube.shape.diameter == 28.575 and tube.shape.wall == pytest.approx(0.889)


def test_the_same_frame_in_inches_is_the_same_frame():
    in_inches = re.sub(r"(?<=[\[ ])-?\d+(\.\d+)?(?=[,\]])",
                  lambda found: f'"{float(found[0]) / 25.4:.12f}in"', FRAME)
    assert in_inches.count('in"') == 24
    for ours, theirs in zip(make_pieces(parse_job(FRAME)), make_pieces(parse_job(in_inches)),
                            strict=True):
        assert theirs.blank == pytest.approx(ours.blank, abs=1e-6)


def test_a_record_holds_lists_of_one_length_and_no_nan(pieces):
    for piece in pieces.values():
        record = piece_record(piece)
        for end in record["ends"].values():
            assert len({len(end[key]) for key in ("clock", "outer", "inner", "main")}) == 1
            json.dumps(end, allow_nan=False)
        assert record["side"] == piece.tube.side


def test_the_start_edge_lies_near_the_start_and_the_end_edge_near_the_end(pieces):
    bridge = pieces["bridge", "centre"]
    assert np.nanmax(bridge.start.outer) < 20
    assert np.nanmin(bridge.end.outer) > 43


@pytest.mark.parametrize(("make", "said"), [
    (lambda folder: folder / "none.toml", "no such file"),
    (lambda folder: folder, "a folder"),
    (lambda folder: "bad\0name", "no file name"),
])
def test_a_file_that_cannot_be_read_is_refused_in_one_line(make, said, tmp_path):
    with pytest.raises(CoperError, match=said) as caught:
        read_job(make(tmp_path))
    assert "\n" not in str(caught.value)


def test_a_file_that_is_no_utf_8_is_refused(tmp_path):
    file = tmp_path / "job.toml"
    file.write_bytes(b"title = '\xff'")
    with pytest.raises(CoperError, match="byte 9 is not UTF-8"):
        read_job(file)


def test_a_file_that_begins_with_a_byte_order_mark_is_read(tmp_path):
    file = tmp_path / "job.toml"
    file.write_bytes(b"\xef\xbb\xbf" + FRAME.encode())
    assert read_job(file).title == "Frame"


def test_the_papers_of_a_job_are_those_that_pages_are_composed_for():
    assert set(PAPERS) == {*pages.PAPERS, pages.ROLL}


def test_a_name_that_stands_twice_is_offered_once():
    with pytest.raises(JobError, match="known are axle, bottom-bracket, other"):
        parse_job('[bicycle]\ndrop = 58\nchain_stay = 419\n[points]\naxle = [0, 0, 0]\n'
                  'other = "zzz"\n')
