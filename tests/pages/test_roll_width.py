"""A roll of a given width: pages as wide, and what is wider is cut into strips that join."""

from collections import defaultdict
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import parse_job
from coper.drawing.bounds import Bounds, bounds, leaves
from coper.drawing.changes import clipped
from coper.drawing.marks import THIN, Group, Path
from coper.errors import CoperError
from coper.job.faults import JobError
from coper.job.papers import ROLL_RANGE_MM, a_paper, roll_paper
from coper.job.shaped import shape_job
from coper.pages.compose import Block, compose, tiles_needed
from coper.pages.paper import LONGEST_MM, MARGIN_MM, content_size
from coper.sheets.packet import packet_pages
from coper.verbs.layout import layout
from tests.cli.run import run
from tests.pages.specimens import length, strip
from tests.profiles import examples, seeds

FAR = 1e4
BARS = st.floats(90.0, 110.0)
SIZES = st.tuples(st.floats(20.0, 900.0), st.floats(20.0, 900.0))
WIDTHS = st.floats(*ROLL_RANGE_MM).map(lambda width: width**2 / ROLL_RANGE_MM[1] + 200).filter(
    lambda width: width < ROLL_RANGE_MM[1])


@examples(20)
@given(sizes=st.lists(SIZES, max_size=4), width=WIDTHS, bars=st.tuples(BARS, BARS))
def test_every_page_is_as_wide_as_the_roll_and_holds_its_marks(sizes, width, bars):
    blocks = [Block(f"strip {index}", strip(*size)) for index, size in enumerate(sizes)]
    for page in compose(blocks, roll_paper(width), bars, title="title"):
        assert page.width == pytest.approx(width, abs=1e-4)
        assert page.height <= LONGEST_MM + 1e-6
        inside = Bounds(MARGIN_MM, MARGIN_MM, page.width - MARGIN_MM, page.height - MARGIN_MM)
        assert inside.holds(bounds(page.marks))


def drawing(seed):
    """Named lines at random, all across a drawing that is wider than the roll of the test."""
    chance = np.random.default_rng(seed)
    size = chance.uniform((700.0, 700.0), (1500.0, 1200.0))
    return tuple(Path(chance.uniform(0, 1, (9, 2)) * size, THIN, name=f"line-{index}")
                 for index in range(5))


def joins(page, letter):
    """The join lines of a page that run along it: to the page before it, and to the next."""
    found = {mark.name: mark.points for mark in leaves(page.marks)
             if isinstance(mark, Path) and mark.name.startswith("join-")}
    before = [points for name, points in found.items() if name.endswith(f"-{letter}")]
    after = [points for name, points in found.items() if name.startswith(f"join-{letter}-")]
    return before, after


def crossings(marks, line):
    """How far from its lower end each named line crosses a join line that runs up the page."""
    x, low = line[0, 0], line[:, 1].min()
    found = []
    for mark in marks:
        if isinstance(mark, Path) and mark.name.startswith("line-"):
            for one, other in zip(mark.points[:-1], mark.points[1:], strict=True):
                if (one[0] - x) * (other[0] - x) < 0:
                    share = (x - one[0]) / (other[0] - one[0])
                    found.append(float(one[1] + share * (other[1] - one[1]) - low))
    return sorted(found)


@pytest.mark.parametrize("seed", seeds(6))
def test_strips_cut_along_their_join_lines_are_the_whole_drawing_without_gap_or_overlap(seed):
    marks = drawing(seed)
    pages = compose([Block("map", marks, keep_upright=True)], "roll=420")
    assert len(pages) >= 2
    kept, edges = defaultdict(float), []
    for page in pages:
        group = next(mark for mark in page.marks if isinstance(mark, Group) and mark.name == "map")
        before, after = joins(page, page.letter)
        left = before[0][0, 0] if before else -FAR
        right = after[0][0, 0] if after else FAR
        for mark in leaves(clipped(group.marks, Bounds(left, -FAR, right, FAR))):
            if isinstance(mark, Path) and mark.name.startswith("line-"):
                kept[mark.name] += length(mark.points)
        edges.append([crossings(list(leaves(group.marks)), line[0]) if line else None
                      for line in (before, after)])
    for mark in marks:
        assert kept[mark.name] == pytest.approx(length(mark.points), abs=1e-6)
    for (_, after), (before, _) in pairwise(edges):
        assert after and after == pytest.approx(before, abs=1e-6)


def test_blocks_stand_side_by_side_on_a_roll_as_long_as_there_is_room():
    blocks = [Block(f"block {index}", strip(150.0, 300.0)) for index in range(4)]
    one, = compose(blocks, "roll=914")
    two, = compose(blocks, "roll=400")
    assert (one.width, two.width) == (914, 400)
    assert two.height == pytest.approx(one.height + 306)


def test_what_fits_a_roll_only_lengthways_is_turned_and_what_must_not_turn_is_cut():
    wide = strip(1500.0, 300.0)
    page, = compose([Block("wide", wide)], "roll=400")
    assert page.height > 1500
    assert len(compose([Block("wide", wide, keep_upright=True)], "roll=400")) == 5
    assert tiles_needed([Block("wide", wide, keep_upright=True)], "roll=400") == 5


def test_what_is_longer_than_a_page_may_be_is_cut_across_too():
    pages = compose([Block("long", strip(150.0, 9000.0))], "roll=400")
    assert len(pages) == 2 and all(page.height <= LONGEST_MM for page in pages)


def test_blocks_after_strips_begin_a_page_and_strips_have_the_letters_of_their_pages():
    blocks = [Block("a", strip(100.0, 50.0)), Block("map", strip(900.0, 700.0)),
              Block("b", strip(100.0, 50.0)), Block("c", strip(100.0, 50.0), new_page=True)]
    pages = compose(blocks, "roll=420", before=2, after=3)
    assert [[mark.name for mark in page.marks if mark.name != "furniture"] for page in pages] == [
        ["a"], ["map"], ["map"], ["b"], ["c"]]
    assert [page.letter for page in pages] == list("CDEFG")
    joined = {mark.name for page in pages for mark in leaves(page.marks)
              if isinstance(mark, Path) and mark.name.startswith("join-")}
    assert joined == {"join-D-E"}


@pytest.mark.parametrize("width", [199.0, 5001.0])
def test_a_roll_too_narrow_for_the_bars_or_wider_than_a_page_is_refused(width):
    with pytest.raises(CoperError, match=f"a roll cannot be {width:g} mm wide; give its width"):
        roll_paper(width)
    with pytest.raises(JobError, match=rf"shop\.roll: a roll cannot be {width:g} mm wide"):
        parse_job(f"[shop]\nroll = {width}\n[tubes.a]\n")


def test_the_narrowest_roll_has_room_for_the_bars_whatever_the_printer():
    for bar in (90.0, 110.0):
        page, = compose([], roll_paper(ROLL_RANGE_MM[0]), (bar, bar))
        inside = Bounds(MARGIN_MM, MARGIN_MM, page.width - MARGIN_MM, page.height - MARGIN_MM)
        assert inside.holds(bounds(page.marks))
    assert content_size("roll") is None


def test_a_roll_without_a_width_is_the_shops_or_any():
    assert a_paper(None) == "a4" and a_paper("roll") == "roll"
    assert a_paper("roll", 914.4) == "roll=914.4"
    assert a_paper("a3", 914.4) == "a3" and a_paper("roll=610", 914.4) == "roll=610"


JOB = """\
title = "Gate"
[shop]
paper = "a4"
{shop}
[table]
lies = "flat"
[tubes.post]
shape = "box 40 by 40 corner 3 x 2"
start = {{ at = [0, 0, 0] }}
end = {{ at = [0, 700, 0] }}
[tubes.rail]
shape = "30 x 2"
start = {{ at = [0, 350, 0], on = ["post"] }}
end = {{ at = [800, 350, 0] }}
"""


@pytest.fixture
def gate(tmp_path):
    def write(shop=""):
        file = tmp_path / "gate.toml"
        file.write_text(JOB.format(shop=shop))
        return str(file)

    return write


@pytest.mark.parametrize(("paper", "said"), [
    ("roll=406.4", "pieces of a roll 406.4 mm wide"), ("roll", "1 piece of a roll"),
    ("a4", "sheets of a4")])
def test_as_many_sheets_are_said_beforehand_as_there_are_pages(paper, said):
    heard = []
    found = layout(parse_job(JOB.format(shop="")), full=True, paper=paper, progress=heard.append)
    words, record = heard[0], found.record()["sheets"]
    assert list(found.lines())[-1] == f"At full size: {words}." and said in words
    pages = found.pages(lambda step: None)
    assert len(pages) == record["count"] == int(words.split()[0])
    with_drawing = [page for page in pages if any(mark.name == "layout" for mark in page.marks)]
    assert len(with_drawing) == record["drawing"]
    front = [mark.points for page in pages for mark in leaves(page.marks)
             if isinstance(mark, Path) and mark.name == "front-edge"]
    drawn = sum(length(points) for points in front)  # tiles share 10 mm
    assert drawn == pytest.approx(found.result.table.width + 10 * (len(front) - 1), abs=1e-6)
    if paper != "a4":
        assert record["roll_length"] == pytest.approx(sum(page.height for page in pages))


def test_full_size_without_a_file_says_only_how_many_sheets(gate, tmp_path):
    file = gate()
    status, out, err = run("layout", file, "--full-size", "--paper", "roll=16in")
    assert (status, err) == (0, "") and out.splitlines()[-1].startswith(
        "At full size: 4 pieces of a roll 406.4 mm wide, 3 of them for the drawing, ")
    assert [path.name for path in tmp_path.iterdir()] == ["gate.toml"]


def test_the_shops_roll_has_its_width_wherever_a_roll_is_asked_for(gate):
    file = gate('roll = "20in"')
    assert "of a4" in run("layout", file, "--full-size")[1]
    assert "of a roll 508 mm wide" in run("layout", file, "--full-size", "--paper", "roll")[1]
    assert "of a roll 610 mm wide" in run("layout", file, "--full-size", "--paper", "roll=610")[1]


def test_the_packet_is_for_the_shops_roll():
    text = JOB.format(shop='roll = "20in"').replace('"a4"', '"roll"')
    packet = packet_pages(shape_job(parse_job(text)), lambda step: None)
    assert packet.job.shop.paper_for() == "roll=508"
    assert next(iter(packet)).width == pytest.approx(508)


@pytest.mark.parametrize(("words", "said"), [
    ("roll=5", "--paper: a roll cannot be 5 mm wide; give its width, 200 to 5000 mm"),
    ("roll=wide", "--paper: wide: no number in this length"),
    ("a4=300", "--paper: 'a4=300' is not known")])
def test_no_such_roll_is_one_line(gate, words, said):
    status, out, err = run("layout", gate(), "--paper", words)
    assert (status, out) == (2, "") and said in err and err.count("\n") == 1


@pytest.mark.parametrize("command", [
    ("joint", "20 x 1", "40", "--angle", "62"), ("saw", "20 x 1", "40", "--angle", "62")])
def test_other_verbs_print_on_such_a_roll_too(command, tmp_path):
    target = tmp_path / "x.svg"
    assert run(*command, "--paper", "roll=12in", "--svg", str(target))[0] == 0
    assert 'width="304.8mm"' in target.read_text()
