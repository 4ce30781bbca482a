"""A form to fill in with a pen: ruled cells, some of them with words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

import numpy as np

from coper.drawing.letters import shortened
from coper.drawing.marks import NOTE_HEIGHT, THIN, Group, Mark, Path, Text

ROW_MM = 8.0
"""A cell that a hand can write into, at the bench with a thick pen."""

LINE_APART_MM = 3.4
"""Between the baselines of two lines in a cell: clear of its edges, descents included."""

PAD_MM = 1.0
"""Between a cell's edge and its words."""


def form_marks(rows: Sequence[Sequence[str]], widths: Sequence[float]) -> Group:
    """The rows under each other from ``y`` 0 down; ``widths`` in mm.

    A row may be shorter than the form: what is left of it is empty. A cell has one line of words or
    two; what does not fit it is shortened.
    """
    edges = [0.0, *accumulate(widths)]
    foot = -ROW_MM * len(rows)
    marks: list[Mark] = []
    for index, row in enumerate(rows):
        marks.append(_line(0.0, -index * ROW_MM, edges[-1], -index * ROW_MM))
        marks += _words(row, edges, -index * ROW_MM)
    marks.append(_line(0.0, foot, edges[-1], foot))
    marks += [_line(edge, 0.0, edge, foot) for edge in edges]
    return Group(tuple(marks), "form")


def _words(row: Sequence[str], edges: Sequence[float], top: float) -> Iterator[Text]:
    for index, words in enumerate(row):
        room = edges[index + 1] - edges[index] - PAD_MM
        lines = words.splitlines()
        high = NOTE_HEIGHT + (len(lines) - 1) * LINE_APART_MM
        for number, line in enumerate(lines):
            base = top - (ROW_MM - high) / 2 - NOTE_HEIGHT - number * LINE_APART_MM
            yield Text((edges[index] + PAD_MM, base), shortened(line, room, NOTE_HEIGHT),
                       NOTE_HEIGHT)


def _line(x0: float, y0: float, x1: float, y1: float) -> Path:
    return Path(np.array(((x0, y0), (x1, y1))), THIN)
