"""A form to fill in with a pen: ruled cells, some of them with words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate

import numpy as np

from coper.drawing.letters import shortened
from coper.drawing.marks import NOTE_HEIGHT, THIN, Group, Mark, Path, Text

ROW_MM = 6.5
"""A cell that a hand can write into."""

PAD_MM = 1.0
"""Between a cell's edge and its words."""


def form_marks(rows: Sequence[Sequence[str]], widths: Sequence[float]) -> Group:
    """The rows under each other from ``y`` 0 down; ``widths`` in mm.

    A row may be shorter than the form: what is left of it is empty. What does not fit its cell is
    shortened.
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
    base = top - (ROW_MM + NOTE_HEIGHT) / 2
    for index, words in enumerate(row):
        if words:
            room = edges[index + 1] - edges[index] - PAD_MM
            yield Text((edges[index] + PAD_MM, base), shortened(words, room, NOTE_HEIGHT),
                       NOTE_HEIGHT)


def _line(x0: float, y0: float, x1: float, y1: float) -> Path:
    return Path(np.array(((x0, y0), (x1, y1))), THIN)
