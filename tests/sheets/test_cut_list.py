"""The cut list on paper, measured."""

import re
from pathlib import Path as FilePath

import numpy as np
import pytest

from coper import Round, Tapered, Tube, parse_job
from coper.bench.cut_list.cut_list import cut_list
from coper.bench.cut_list.packing import Stock
from coper.bench.cut_list.stock import Rack, Shelf
from coper.cli.finish import sheet_files
from coper.drawing.bounds import bounds, leaves
from coper.drawing.marks import Hatch, Path, Text
from coper.frame.end import plain_end
from coper.frame.piece import make_piece
from coper.job.frame import make_pieces
from coper.job.stock import job_cut_list
from coper.pages.compose import compose
from coper.sheets.cut_list import WIDE_MM, cut_list_blocks
from tests.cli.test_job import DEMO
from tests.drawing.readback import pdf_texts
from tests.pages.room import overlapping

LONG_NAME = "a rather long name for a rail of the trailer's floor, the one at the"


def rails(count, name="rail", bar=2000.0):
    pieces = []
    for index in range(count):
        tube = Tube(Round(20, 1.5), (0, 0, 0), (0, 0, 90 + index * 57.3 % 610),
                      f"{name} {index}")
        pieces.append(make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end")))
    return cut_list(pieces, Rack(Shelf((Stock(bar), Stock(700, 2)))), kerf=3)


def stay(back, shape=None):
    tube = Tube(shape or Tapered(22, 14, 400, 0.8), (0, 0, 0), (0, 0, 400), "stay")
    return cut_list([make_piece(tube, plain_end(tube, "start", back[0]),
                                plain_end(tube, "end", back[1]))], kerf=2)


def drawn(blocks, name):
    return [mark for block in blocks for mark in leaves(block.marks)
            if isinstance(mark, Path) and mark.name == name]


def words(blocks):
    return " ".join(mark.words for block in blocks for mark in leaves(block.marks)
                    if isinstance(mark, Text))


@pytest.fixture(scope="module")
def demo():
    job = parse_job(DEMO.read_text())
    return cut_list_blocks(job_cut_list(job, make_pieces(job)))


def test_bars_pieces_kerfs_and_rests_are_drawn_to_one_scale():
    cuts = rails(14)
    blocks = cut_list_blocks(cuts)
    stock, = cuts.stocks
    scale = WIDE_MM / 2000
    lengths = [stock.blanks[index].length for bar in stock.packing.bars for index in bar.pieces]
    widths = [float(np.ptp(mark.points[:, 0])) for mark in drawn(blocks, "piece")]
    np.testing.assert_allclose(widths, np.array(lengths) * scale, atol=1e-9)
    rests = [float(np.ptp(mark.points[:, 0])) for mark in drawn(blocks, "rest")]
    np.testing.assert_allclose(rests, [bar.rest * scale for bar in stock.packing.bars if bar.rest],
                               atol=1e-9)
    whole = [float(np.ptp(mark.points[:, 0])) for mark in drawn(blocks, "kerf")]
    assert max(whole) == pytest.approx(3 * scale)


def test_every_blank_has_a_box_to_tick_its_length_and_its_row():
    cuts = rails(14)
    blocks = cut_list_blocks(cuts)
    assert len(drawn(blocks, "tick")) == 14
    printed = words(blocks)
    for blank in cuts.stocks[0].blanks:
        assert f"{blank.label}  {blank.length:.2f} mm" in printed


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("count", "name"), [(150, "r"), (60, LONG_NAME)])
def test_forty_bars_and_long_names_fit_the_page_upright(paper, count, name):
    cuts = rails(count, name, 1000.0)
    assert len(cuts.stocks[0].packing.bars) >= 20
    blocks = cut_list_blocks(cuts)
    assert max(bounds(block.marks).width for block in blocks) <= 185
    assert max(bounds(block.marks).height for block in blocks) <= 225
    pages = compose(blocks, paper)
    drawn_pages = [mark.turn for page in pages for mark in leaves(page.marks)
                   if isinstance(mark, Text) and mark.words.endswith("of stock")]
    assert all(turn == 0 for turn in drawn_pages)
    assert not [mark for page in pages for mark in leaves(page.marks)
                if isinstance(mark, Text) and "join" in mark.words.lower()]


def test_a_long_name_is_printed_whole():
    printed = words(cut_list_blocks(rails(8, LONG_NAME)))
    for index in range(8):
        assert f"{LONG_NAME} {index}  " in printed


@pytest.mark.parametrize("cuts", [rails(30), rails(12, LONG_NAME), stay((30, 40)), stay((-9, 0)),
                                  stay((0, -12)), stay((150, 200))],
                         ids=["many", "long", "stay", "past", "past-end", "short"])
def test_no_words_overlap(cuts):
    for block in cut_list_blocks(cuts):
        assert not overlapping(block.marks), block.name


def test_a_tapered_tube_is_cut_where_it_says():
    blocks = cut_list_blocks(stay((50, 100)))
    first, last = drawn(blocks, "cut-1"), drawn(blocks, "cut-2")
    assert first[0].points[0, 0] == pytest.approx(50 / 400 * WIDE_MM)
    assert last[0].points[0, 0] == pytest.approx(300 / 400 * WIDE_MM)
    outline, = drawn(blocks, "tube")
    left, right = (outline.points[np.isclose(outline.points[:, 0], x)] for x in (0, WIDE_MM))
    assert np.ptp(right[:, 1]) / np.ptp(left[:, 1]) == pytest.approx(14 / 22)
    assert sum(isinstance(mark, Hatch) for block in blocks for mark in leaves(block.marks)) == 2


def test_an_end_that_stays_as_it_is_has_no_line():
    blocks = cut_list_blocks(stay((0, 30)))
    assert drawn(blocks, "cut-1") == [] and len(drawn(blocks, "cut-2")) == 1


def test_the_demos_list_is_read_back_from_its_pdf(demo):
    pages = compose(demo, "a4")
    files = sheet_files(pages, "Wagtail", None, FilePath("cut-list.pdf"))
    (_, document), = files
    printed = " ".join(text for page in range(len(pages)) for text, _ in pdf_texts(document, page))
    for part in ("Cut list", "seat-tube", "31.8 x 0.9: 1 bar", "chain-stay left and right",
                 "no other way uses less", "from the thick end", "thin end"):
        assert part in printed


def test_no_two_boxes_to_tick_of_the_demo_have_the_same_number(demo):
    said = [mark.words for block in demo for mark in leaves(block.marks) if isinstance(mark, Text)]
    numbers = [int(found[1]) for one in said
               if (found := re.fullmatch(r"(\d+)  .* mm \(.*\)", one))]
    assert sorted(numbers) == list(range(1, 9))
    assert any(one.startswith("9, 10: chain-stay left and right") for one in said)


def test_a_job_without_tubes_has_no_list():
    assert cut_list_blocks(cut_list([])) == []


def test_a_blank_longer_than_every_bar_stands_over_the_bars():
    tube = Tube(Round(20, 1.5), (0, 0, 0), (0, 0, 2400), "boom")
    short = Tube(Round(20, 1.5), (0, 0, 0), (0, 0, 240), "peg")
    pieces = [make_piece(one, plain_end(one, "start"), plain_end(one, "end"))
              for one in (tube, short)]
    blocks = cut_list_blocks(cut_list(pieces, Rack(Shelf((Stock(2000),)))))
    printed = words(blocks)
    assert "boom 2400.00 mm is longer than every length" in printed
    assert "2400.00 mm (94-31/64 in) or more would do" in printed
    assert len(drawn(blocks, "piece")) == 1
    assert not [block for block in blocks if overlapping(block.marks)]
