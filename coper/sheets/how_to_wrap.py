r"""How a template is used, in four small drawings.

::

    +----------------+----------------+
    | 1 measure      | 2 cut out      |
    |  |--------|    |   ___/\__ X    |
    +----------------+----------------+
    | 3 wrap         | 4 mark         |
    |  ==(  >  )==   |  ==(====/      |
    +----------------+----------------+
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from coper.arrays import Floats
from coper.drawing.changes import moved
from coper.drawing.letters import wrapped
from coper.drawing.marks import (
    CUT,
    FOLD,
    LINE,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    THIN,
    Group,
    Hatch,
    Mark,
    Path,
    Text,
)
from coper.pages.boxes import box_path
from coper.pages.compose import Block
from coper.pages.furniture import check_bars
from coper.pages.text import COLUMN_MM, LEADING, column

CELL_MM = (41.75, 24.0)
"""Width of a cell and height of its drawing."""

BETWEEN_MM = 3.0
MOST_LINES = 5
"""Of the words under a drawing."""

LEAN = 0.35
"""A circle seen from the side is drawn this flat."""

TUBE_MM = 7.0
"""Half the width of the drawn tube."""

HATCH_MM = 1.6


def how_to_block() -> Block:
    """The panel as a block of a page."""
    return Block("how to wrap", how_to_marks(), keep_upright=True)


def how_to_marks() -> tuple[Mark, ...]:
    """The panel, its upper left corner at the origin, mm."""
    head = column("How a template is used", ())
    top = -2 * PLAIN_HEIGHT - BETWEEN_MM
    height = CELL_MM[1] + MOST_LINES * LEADING * NOTE_HEIGHT + BETWEEN_MM
    marks: list[Mark] = list(head)
    for index, (draw, words) in enumerate(_steps()):
        cell = (*draw(), *_words(index + 1, words))
        left, down = index % 2 * (COLUMN_MM - CELL_MM[0]), index // 2 * height
        marks.append(Group(moved(cell, left, top - down), f"step-{index + 1}"))
    return tuple(marks)


def _steps() -> tuple[tuple[Callable[[], tuple[Mark, ...]], str], ...]:
    return (
        (_measure, f"Measure {check_bars()} of the page. If one is off, nothing on it is true."),
        (_cut_out, "Cut along the frame, then along the heavy line. The hatched side is waste."),
        (_wrap, "Wrap: print out, arrow to the tube's body, heel line on the heel. The frame "
                "meets the dashed seam; glue."),
        (_mark, "Lay the dashed line on the blank's end, mark along the paper's edge, take it "
                "off, cut."),
    )


def _words(number: int, words: str) -> tuple[Mark, ...]:
    """The number of a step, and its words under its drawing."""
    lines = wrapped(words, CELL_MM[0], NOTE_HEIGHT, MOST_LINES)
    return (Text((0.0, -PLAIN_HEIGHT), str(number), PLAIN_HEIGHT, bold=True),
            *(Text((0.0, -CELL_MM[1] - place * LEADING * NOTE_HEIGHT), line, NOTE_HEIGHT)
              for place, line in enumerate(lines, 1)))


def _measure() -> tuple[Mark, ...]:
    """A check bar, and a rule laid against it."""
    left, right, y = 7.0, 39.0, -9.0
    ticks = [Path(np.array(((x, y), (x, y - 2.0))), LINE) for x in np.linspace(left, right, 11)]
    rule = box_path(left - 2.0, y - 10.0, right - left + 5.0, 6.0, LINE)
    marks = [Path(np.array(((x, y - 4.0), (x, y - 5.5))), THIN)
             for x in np.linspace(left, right, 21)]
    return (Path(np.array(((left, y), (right, y))), LINE), *ticks, rule, *marks)


def _cut_out() -> tuple[Mark, ...]:
    """A strip with its cut line, the waste hatched, and scissors on the line."""
    strip, edge = box_path(7.0, -22.0, 32.0, 18.0, LINE), _wave(7.0, 39.0, -16.0, 2.6)
    waste = np.concatenate((edge, [(39.0, -19.0), (7.0, -19.0)]))
    return (strip, Hatch((waste,), HATCH_MM, 45.0), Path(edge, CUT), *_scissors(4.0, -14.5))


def _wrap() -> tuple[Mark, ...]:
    """A tube with the strip round it: the arrow, the seam, and the side that is out."""
    return (*_tube(3.0, 40.0), *_paper(12.0, 30.0, seam=True), _arrow(19.0, -14.0),
            Text((21.0, -10.5), "OUT", NOTE_HEIGHT, "middle"))


def _mark() -> tuple[Mark, ...]:
    """The same, a pencil at the paper's edge."""
    pencil = np.array(((12.3, -10.2), (9.2, -3.8), (7.4, -4.7), (12.3, -10.2)))
    return (*_tube(6.0, 40.0), *_paper(12.0, 30.0, seam=False),
            Path(pencil, LINE, closed=True))


def _wave(left: float, right: float, y: float, high: float) -> Floats:
    """A cope as it lies flat: two waves (n, 2), mm."""
    x = np.linspace(left, right, 49)
    return np.stack((x, y + high * np.cos((x - left) / (right - left) * 4 * np.pi)), axis=-1)


def _scissors(x: float, y: float) -> tuple[Mark, ...]:
    """A pair of scissors, its tip 4 mm to the right of (x, y)."""
    blades: list[Mark] = []
    for side in (1.0, -1.0):
        ring = np.array((x - 1.6, y + side * 2.2))
        blade = np.array(((x - 0.7, y + side * 1.6), (x + 4.0, y - side * 0.9)))
        turn = np.linspace(0.0, 2 * np.pi, 25)
        loop = ring + 1.1 * np.stack((np.cos(turn), np.sin(turn)), axis=-1)
        blades += [Path(loop, THIN, closed=True), Path(blade, LINE)]
    return tuple(blades)


MIDDLE = -13.0
"""Where the drawn tube's axis lies."""


def _tube(left: float, right: float) -> tuple[Mark, ...]:
    """A tube from the side: two lines, an open end at the left, broken off at the right."""
    sides = [Path(np.array(((left, MIDDLE + side * TUBE_MM), (right, MIDDLE + side * TUBE_MM))),
                  THIN) for side in (1.0, -1.0)]
    turn = np.linspace(0.0, 2 * np.pi, 49)
    end = np.stack((left + LEAN * TUBE_MM * np.cos(turn), MIDDLE + TUBE_MM * np.sin(turn)),
                   axis=-1)
    return (*sides, Path(end, THIN, closed=True))


def _ellipse_half(x: float, grown: float) -> Floats:
    """The near half (n, 2) of a circle round the tube at ``x``, mm."""
    turn = np.linspace(-np.pi / 2, np.pi / 2, 25)
    return np.stack((x - LEAN * grown * TUBE_MM * np.cos(turn),
                     MIDDLE + grown * TUBE_MM * np.sin(turn)), axis=-1)


PAPER = 1.06
"""The paper lies this much further out than the tube."""


def _paper(left: float, right: float, seam: bool) -> tuple[Mark, ...]:
    """The strip round the tube: its cut edge at the left, square at the right."""
    near, far = _ellipse_half(left, PAPER), _ellipse_half(right, PAPER)
    turn = np.linspace(-np.pi / 2, np.pi / 2, 25)
    near = near + np.stack((1.6 * np.cos(2 * turn), np.zeros(25)), axis=-1)
    outline = np.concatenate((near, far[::-1]))
    marks: list[Mark] = [Path(outline, LINE, closed=True), Path(near, CUT)]
    if seam:
        y = MIDDLE - 4.2
        marks.append(Path(np.array(((left, y), (right - 1.8, y))), FOLD))
    return tuple(marks)


def _arrow(x: float, y: float) -> Path:
    """A solid arrow that points right, to the tube's body."""
    return Path(np.array(((x + 5.0, y), (x, y + 1.4), (x, y - 1.4))), LINE, closed=True,
                fill=True)
