"""Lines of words under each other: one leading, whatever sets them."""

import numpy as np
import pytest

from coper.drawing.bounds import bounds
from coper.drawing.marks import NOTE_HEIGHT, PLAIN_HEIGHT, Text
from coper.pages.grid import grid_blocks
from coper.pages.text import (
    COLUMN_MM,
    LEADING,
    LINE_MM,
    PARAGRAPH_MM,
    TextColumn,
    column,
    set_lines,
)
from coper.telling.grid import Grid
from tests.pages.room import LONG, overlapping, paths, texts


def steps(marks):
    """From each baseline to the next."""
    return -np.diff([text.at[1] for text in marks])


@pytest.mark.parametrize("height", [NOTE_HEIGHT, PLAIN_HEIGHT, 7.0])
def test_lines_are_one_leading_apart_and_the_first_is_one_below_the_top(height):
    lines = list(set_lines(["one", "two", "three"], 4.0, 10.0, height=height))
    assert [line.at[0] for line in lines] == [4.0] * 3
    assert 10.0 - lines[0].at[1] == pytest.approx(LEADING * height)
    assert steps(lines) == pytest.approx([LEADING * height] * 2)


def test_an_empty_line_is_not_drawn_and_keeps_its_place():
    lines = list(set_lines(["one", "", "three"], 0.0, 0.0))
    assert [line.words for line in lines] == ["one", "three"]
    assert steps(lines) == pytest.approx([2 * LINE_MM])


@pytest.mark.parametrize("marks", [
    column("Head", [LONG]), next(grid_blocks(Grid("Head", ("words",), (("",),), LONG * 4))),
    next(grid_blocks(Grid("Head", ("words",), ((LONG * 4,),))))])
def test_what_is_wrapped_has_the_same_leading_in_a_column_a_note_and_a_cell(marks):
    wrapped = [text for text in texts(marks) if text.words not in ("Head", "words")]
    assert len(wrapped) > 1 and not overlapping(marks)
    assert steps(wrapped) == pytest.approx([LINE_MM] * (len(wrapped) - 1))


def test_two_paragraphs_stand_further_apart_than_two_lines():
    lines = texts(column("Head", ["one", "two"]))[1:]
    assert steps(lines) == pytest.approx([LINE_MM + PARAGRAPH_MM])


def test_a_heading_wider_than_its_column_is_wrapped():
    marks = column(LONG, [LONG])
    assert bounds(marks).width <= COLUMN_MM + 1e-9 and not overlapping(marks)


@pytest.mark.parametrize("ticks", [1, 3])
def test_the_boxes_to_tick_stand_before_the_first_line_of_their_words(ticks):
    lines = TextColumn(60.0)
    lines.line("before")
    lines.ticked(LONG, ticks)
    boxes = paths(lines.marks, "tick")
    first = texts(lines.marks)[1]
    assert len(boxes) == ticks
    for box in boxes:
        assert box.points[:, 1].min() == pytest.approx(first.at[1])
        assert box.points[:, 0].max() < first.at[0]
    assert all(isinstance(mark, Text) or mark in boxes for mark in lines.marks)
    assert bounds(lines.marks).width <= 60.0
