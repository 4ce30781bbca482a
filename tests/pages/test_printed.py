"""What every page carries for the one who prints it: holes, code, boxes, cautions in place."""

import numpy as np
import pytest

from coper import parse_job
from coper.drawing.bounds import bounds, leaves
from coper.drawing.marks import THIN, Path, Text
from coper.pages.code import CODE_LETTERS, code_of
from coper.pages.compose import Block, compose
from coper.pages.measured import cure_words, measured_marks
from coper.pages.paper import PAPERS
from coper.sheets.packet import job_code
from coper.units import lengths_in
from tests.pages.room import overlapping
from tests.pages.specimens import rectangle

REACH = 4.0  # a hole of 6 mm (ISO 838) or of 5/16 in, punched half a millimetre off
TWO_HOLES, THREE_HOLES = (-40.0, 40.0), (-107.95, 0.0, 107.95)  # from the middle of the long side
JOB = """\
title = "Rack"
[tubes.rail]
shape = "19 x 1.5"
start = { at = [0, 0, 0] }
end = { at = [400, 0, 0] }
"""


def frame(width, height):
    return (Path(rectangle(0.0, 0.0, width, height), THIN, closed=True),)


def furniture(page):
    (found,) = (mark for mark in page.marks if mark.name == "furniture")
    return found


def words(page):
    return [mark.words for mark in leaves(page.marks) if isinstance(mark, Text)]


def code(page):
    (foot,) = (said for said in words(page) if said.startswith("page "))
    return foot.split(" · ")[1].removeprefix("code ")


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("bars", [(100.0, 100.0), (99.0, 101.0)])
@pytest.mark.parametrize("paper", PAPERS)
def test_no_hole_of_a_file_touches_a_check_bar_or_what_is_written_beside_it(paper, bars, unit):
    with lengths_in(unit):
        (page,) = compose([], paper, bars, title="title")
    for offset in (*TWO_HOLES, *THREE_HOLES):
        hole = np.array((12.0 if offset in TWO_HOLES else 12.7, page.height / 2 + offset))
        for mark in leaves((furniture(page),)):
            box = bounds((mark,))
            near = np.clip(hole, (box.left, box.bottom), (box.right, box.top))
            assert np.hypot(*(near - hole)) > REACH, mark


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_block_as_wide_as_the_page_has_room_stands_on_no_bar(unit):
    with lengths_in(unit):
        (page,) = compose([Block("x", frame(177.0, 250.0))], "a4", title="title")
    (block,) = (mark for mark in page.marks if mark.name == "x")
    bar = [bounds((mark,)) for mark in leaves((furniture(page),)) if "along" in (
        mark.name, *getattr(mark, "words", "").split(" ")) or mark.name.startswith("check-along")]
    assert bar and all(one.left > bounds((block,)).right for one in bar)


def test_all_pages_have_one_code_and_other_contents_have_another():
    pages = compose([Block("long", frame(50.0, 600.0))], "a4", title="one")
    (same,) = {code(page) for page in pages}
    assert len(same) == 6 and set(same) <= set(CODE_LETTERS)
    again = compose([Block("long", frame(50.0, 600.0))], "a4", title="one")
    other = compose([Block("long", frame(50.1, 600.0))], "a4", title="one")
    assert {code(page) for page in again} == {same} != {code(page) for page in other}


def test_the_code_of_a_job_is_that_of_what_it_says_whatever_its_file_remarks():
    first = job_code(parse_job(JOB))
    assert first == job_code(parse_job("# 3 May\n" + JOB.replace("[400, 0, 0]", "[400.0, 0, 0]")))
    others = [JOB.replace("400", "401"), JOB.replace("19 x 1.5", "19 x 1.2"),
              JOB.replace("Rack", "Rack 2"), JOB + "[shop]\nprinter = [99.4, 100.2]\n"]
    assert len({first, *(job_code(parse_job(text)) for text in others)}) == 5


def test_a_value_that_is_part_of_another_list_gives_another_code():
    assert len({code_of(("a", "b"), ()), code_of(("a",), ("b",)), code_of((), ("a", "b"))}) == 3


def test_there_is_a_box_to_write_in_what_each_bar_measures_and_the_cure_is_what_to_type():
    marks = measured_marks()
    boxes = {mark.name: bounds((mark,)) for mark in marks if isinstance(mark, Path)}
    assert set(boxes) == {"measured-across", "measured-along"}
    assert all(box.width > 15 and box.height > 6 for box in boxes.values())
    assert not overlapping(marks)
    assert "type coper job x.toml with --printer ACROSS,ALONG" in cure_words("coper job x.toml")


def test_cautions_that_would_stand_alone_on_the_last_page_come_before_another_block():
    full, part = Block("full", frame(170.0, 250.0)), Block("part", frame(170.0, 200.0))
    cautions = Block("x-cautions", frame(87.0, 60.0))
    for blocks in ([full, part, cautions], [full, cautions], [part, full, cautions]):
        names = [[mark.name for mark in page.marks] for page in compose(blocks, "a4")]
        assert sorted(name for page in names for name in page if name != "furniture") == sorted(
            block.name for block in blocks)
        assert names[-1] != ["x-cautions", "furniture"]


def test_cautions_never_part_a_table_from_what_goes_on_from_it():
    table = [Block("table", frame(170.0, 120.0)),
             Block("table", frame(170.0, 240.0), continued=True)]
    cautions = Block("cautions", frame(170.0, 245.0))
    names = [mark.name for page in compose([*table, cautions], "a4") for mark in page.marks
             if mark.name != "furniture"]
    assert names.index("cautions") == 0 and names[1:] == ["table", "table"]
