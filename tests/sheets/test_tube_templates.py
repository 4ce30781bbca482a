"""The strips of placed tubes: both edges where they belong, on one paper or on two."""

import numpy as np
import pytest

from coper import Box, Oval, Round, Tapered, TaperedOval
from coper.drawing.bounds import leaves
from coper.drawing.marks import Path, Text
from coper.frame.end import plain_end, shape_end
from coper.frame.piece import make_piece
from coper.frame.tube import Tube
from coper.sheets.strip_marks import strip_marks
from coper.sheets.tube_templates import notes_block, piece_blocks, piece_strips
from coper.telling.words.piece import heel_words
from tests.pages.room import overlapping

LOW = Tube(Round(40, 3), (0, -60, 0), (0, 60, 0), "low")
PAPER = 0.1


def between(shape, height, lean=0.0, offset=1.5, cut="bevelled"):
    """A tube from the low main to another one ``height`` mm above it."""
    high = Tube(Round(40), (-80, 10, height), (90, -10, height + 12), "high")
    tube = Tube(shape, (0, offset, 0), (lean, offset, height), "post")
    return make_piece(tube, shape_end(tube, "start", [LOW], cut),
                      shape_end(tube, "end", [high], cut))




def shapes(length):
    return [Round(28.6, 0.9), Round(10, 1), Tapered(30, 22, length, 1), Oval(30, 17, 0.9),
            TaperedOval(30, 17, 16, length, 0.8), Box(24, 18, 3, 1.5)]


SHORT = [between(shape, 110, 30) for shape in shapes(150)]
LONG = [between(shape, 420, -70) for shape in shapes(450)]
NAMES = [shape.kind for shape in shapes(1)]


def cuts(strip):
    return [mark for mark in leaves(strip_marks(strip))
            if isinstance(mark, Path) and mark.name == "cut"]


@pytest.mark.parametrize("piece", SHORT, ids=NAMES)
def test_a_short_tube_gets_one_strip_with_both_edges(piece):
    ((name, strip),) = piece_strips(piece, PAPER, 10.0)
    assert name == "whole" and len(strip.edges) == 2
    assert len(cuts(strip)) == 2
    for end, edge in zip(piece.ends, strip.edges, strict=True):
        known = np.interp(edge.clock % 360, end.clock, end.outer, period=360)
        np.testing.assert_allclose(edge.along, known, rtol=0, atol=0.01)


@pytest.mark.parametrize("piece", LONG, ids=NAMES)
def test_a_long_tube_gets_a_strip_an_end_with_the_same_lines(piece):
    strips = dict(piece_strips(piece, PAPER, 10.0))
    assert list(strips) == ["start", "end"]
    assert strips["start"].sides == strips["end"].sides
    assert strips["start"].seam == strips["end"].seam
    assert strips["start"].edges[0].body == 1 and strips["end"].edges[0].body == -1


@pytest.mark.parametrize("piece", SHORT[:1] + SHORT[3:4], ids=["round", "oval"])
def test_the_two_edges_keep_their_distance_on_the_paper(piece):
    # On a tube that does not taper the paper's y is the along: what lies between the edges is
    # the length of metal that stays.
    ((_, strip),) = piece_strips(piece, PAPER, 10.0)
    lower, upper = (strip.place_past(edge.clock, edge.along) for edge in strip.edges)
    metal = np.interp(lower[:, 0], upper[:, 0], upper[:, 1]) - lower[:, 1]
    start, end = piece.ends
    clock = strip.edges[0].clock % 360
    known = (np.interp(clock, end.clock, end.outer, period=360)
             - np.interp(clock, start.clock, start.outer, period=360))
    np.testing.assert_allclose(metal, known, rtol=0, atol=0.02)


@pytest.mark.parametrize("piece", SHORT + LONG, ids=[f"{n} {k}" for k in ("short", "long")
                                                     for n in NAMES])
def test_no_words_of_a_pieces_blocks_overlap(piece):
    for block in (notes_block(piece), *piece_blocks(piece, PAPER, 10.0)):
        assert not overlapping(block.marks), block.name


def test_the_notes_say_the_blank_and_the_clock_between_the_heels():
    words = " ".join(text.words for text in leaves(notes_block(SHORT[0]).marks)
                     if isinstance(text, Text))
    assert "Blank" in words and "heel" in words and "angle" in words
    assert heel_words(SHORT[0].heels).split()[0] in words


def test_a_square_cut_is_drawn_where_the_square_cut_is():
    bevelled, square = between(Round(28.6, 0.9), 110), between(Round(28.6, 0.9), 110, cut="square")
    ((_, one),) = piece_strips(bevelled, PAPER, 10.0)
    ((_, other),) = piece_strips(square, PAPER, 10.0)
    clock = np.linspace(0, 359, 90)
    for index, way in ((0, 1), (1, -1)):
        gap = [way * (other.edges[index].at(c) - one.edges[index].at(c)) for c in clock]
        assert min(gap) > -0.01 and max(gap) > 0.3


def test_a_plain_end_of_a_long_tube_needs_no_strip():
    tube = Tube(Round(28.6, 0.9), (0, 0, 0), (0, 0, 400), "post")
    piece = make_piece(tube, shape_end(tube, "start", [LOW]), plain_end(tube, "end", 10))
    assert [name for name, _ in piece_strips(piece, PAPER, 10.0)] == ["start"]


def test_a_plain_end_of_a_short_tube_is_a_straight_line_on_its_strip():
    tube = Tube(Round(28.6, 0.9), (0, 0, 0), (0, 0, 120), "post")
    piece = make_piece(tube, shape_end(tube, "start", [LOW]), plain_end(tube, "end", 10))
    ((_, strip),) = piece_strips(piece, PAPER, 10.0)
    assert np.allclose(strip.edges[1].along, 110)


def test_the_line_of_an_end_that_stands_square_is_called_main_plus_and_not_heel():
    tube = Tube(Round(28.6, 0.9), (0, 0, 300), (0, 0, 0), "post")
    base = Tube(Round(40), (0, -60, 0), (0, 60, 0), "base")
    piece = make_piece(tube, plain_end(tube, "start"), shape_end(tube, "end", [base]))
    said = [mark.words for block in (notes_block(piece), *piece_blocks(piece, 0.1, 10.0))
            for mark in leaves(block.marks) if isinstance(mark, Text)]
    assert any(words.endswith("main +, end") for words in said)
    assert not any("heel" in words for words in said)
