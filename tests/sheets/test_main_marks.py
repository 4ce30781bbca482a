"""The sheet of a main: what lands on it, where, at which clock, and where its footprint is."""

import numpy as np
import pytest

from coper import make_pieces, parse_job
from coper.drawing.bounds import bounds, leaves
from coper.drawing.marks import Group, Path, Text
from coper.frame.main_landings import find_landings
from coper.job.shaped import shape_job
from coper.sheets.main_marks import main_marks_blocks
from coper.sheets.main_marks_drawing import drawing, unrolled
from coper.sheets.packet import packet_pages
from tests.pages.room import overlapping

RAIL = """\
[shop]
allowance = 1.5
[tubes.sill]
shape = "50 x 2"
start = {{ at = [0, -200, 0] }}
end = {{ at = [0, 200, 0] }}
existing = true
[tubes.rail]
shape = "{shape}"
{turn}
start = {{ at = [0, 0, 0], on = ["sill"] }}
end = {{ at = [500, 0, 0] }}
[tubes.arm]
shape = "16 x 1"
start = {{ at = [200, 0, 0], on = ["rail"] }}
end = {{ at = [260, 150, 90] }}
mirror = true
[tubes.post]
shape = "20 x 1"
start = {{ at = [420, 0, 300] }}
end = {{ at = [420, 0, 0], on = ["rail"] }}
"""


def laid(shape="38 x 2", turn=""):
    pieces = make_pieces(parse_job(RAIL.format(shape=shape, turn=turn)))
    main = next(piece for piece in pieces if piece.label == "rail")
    return main, find_landings(pieces)["rail", "centre"]


def named(marks, name):
    return [mark.points for mark in leaves(marks) if isinstance(mark, Path) and mark.name == name]


def group(marks, name):
    return next(mark for mark in marks if isinstance(mark, Group) and mark.name == name)


@pytest.mark.parametrize(("shape", "turn"), [
    ("38 x 2", ""), ("38 x 2", "turn = 70"), ("44 to 30 over 520 x 2", ""),
    ("box 40 by 30 corner 2 x 2", "turn = 90"), ("oval 45 by 30 x 2", "")])
def test_on_the_drawing_every_landing_is_where_its_numbers_say(shape, turn):
    main, landings = laid(shape, turn)
    how = unrolled(main, landings)
    marks = drawing(how, landings)
    girth = main.tube.seen_from("start")[0].girth
    for one in landings:
        edge = np.concatenate(named([group(marks, one.words)], "footprint"))
        # Along the main as its table says; clocks grow downwards from the cut at the seam.
        assert np.array((edge[:, 0].min(), edge[:, 0].max())) * how.along == pytest.approx(
            one.reach, abs=0.02)
        foot = how.foot(one)
        assert foot[0] * how.along == pytest.approx(one.at, abs=1e-6)
        down = (one.clock - how.seam) % 360 / 360 - 0.5
        assert foot[1] * how.round == pytest.approx(-down * girth(along=one.along), abs=1e-6)
    left, right = (next(one for one in landings if one.piece.label == f"arm {side}")
                   for side in ("left", "right"))
    assert left.at == pytest.approx(right.at)
    # Clock 0 faces left and clock 90 up on a rail that runs forward: right-handed about it.
    if not turn:
        assert left.clock < 90 < right.clock < 180
        assert how.foot(left)[1] > how.foot(right)[1] or how.seam in (45, 90)


def test_no_words_of_the_sheet_stand_on_others_and_its_distances_stand_over_the_feet():
    main, landings = laid()
    blocks = list(main_marks_blocks(main, landings, ["K", "L", "M"]))
    for block in blocks:
        assert not overlapping(block.marks)
        assert bounds(block.marks).width <= 184.0 + 1e-6
    words = [mark.words for block in blocks for mark in leaves(block.marks)
             if isinstance(mark, Text)]
    for one in landings:
        assert f"{one.at:.2f}" in words
    said = " ".join(words)
    assert "from the long point of rail's start, at clock" in said
    assert "before its start is dressed, add the 1.50 mm left on there." in said


def test_a_fence_of_many_pickets_has_every_one_in_its_table_and_no_drawing_wider_than_a_page():
    pickets = "".join(f"""\
[tubes.p{number}]
shape = "12 x 1"
start = {{ at = [{40 + 28 * number}, 0, 0], on = ["rail"] }}
end = {{ at = [{40 + 28 * number}, 0, 300] }}
""" for number in range(50))
    pieces = make_pieces(parse_job(f"""\
[tubes.rail]
shape = "25 x 2"
start = {{ at = [0, 0, 0] }}
end = {{ at = [1500, 0, 0] }}
{pickets}"""))
    landings = find_landings(pieces)["rail", "centre"]
    blocks = list(main_marks_blocks(pieces[0], landings, ["K"] * 50))
    words = [mark.words for block in blocks for mark in leaves(block.marks)
             if isinstance(mark, Text)]
    assert all(f"{number} p{number - 1} start" in words for number in range(1, 51))
    for block in blocks:
        box = bounds(block.marks)
        assert box.width <= 184.0 + 1e-6 and box.height <= 215.0 + 1e-6


ALIKE = """\
[tubes.beam]
shape = "60 x 3"
start = { at = [0, -300, 0] }
end = { at = [0, 300, 0] }
[tubes.twin]
shape = "45 x 3"
start = { at = [400, 300, 0] }
end = { at = [400, -300, 0] }
[tubes.rung-a]
shape = "25 x 1.5"
start = { at = [0, -100, 0], on = ["beam"] }
end = { at = [400, -100, 0], on = ["twin"] }
[tubes.rung-b]
shape = "25 x 1.5"
start = { at = [400, 150, 0], on = ["twin"] }
end = { at = [0, 150, 0], on = ["beam"] }
"""


def test_the_footprint_of_pieces_that_are_the_same_says_where_each_of_them_goes():
    packet = packet_pages(shape_job(parse_job(ALIKE)), lambda _: None)
    blocks = {block.name: block for section in packet.sections if section.plan.scissors
              for block in section.blocks(packet.cut)}
    found = [" ".join(mark.words for mark in leaves(block.marks) if isinstance(mark, Text))
             for name, block in blocks.items() if " on " in name]
    assert len(found) == 2
    for words in found:
        # One rung runs the other way: its start is the other's end, 200 and 450 from the starts
        # of beam, 400 and 150 from those of twin, which runs back.
        if "rung-a on beam" in words:
            assert "rung-a on beam: 200.00 mm" in words and "rung-b on beam: 450.00 mm" in words
        else:
            assert "rung-a on twin: 400.00 mm" in words and "rung-b on twin: 150.00 mm" in words
    marks = [mark.words for section in packet.sections if not section.plan.scissors
             for block in section.blocks(packet.cut) if block.name == "marks on twin"
             for mark in leaves(block.marks) if isinstance(mark, Text)]
    assert {"1 rung-b start", "2 rung-a end"} <= set(marks)
