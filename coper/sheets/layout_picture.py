r"""The layout on a screen: the drawing of the paper, and the frame as one sees it from the edge.

::

      +---------------------------+
      |        from above         |   where its origin stands: two dimension lines
      |----left---->o             |
      |             | edge        |
      +===========================+
       .---------------------------   from the front edge: how high its plane stands
       ------------- plane ---------
      ============================= table

The two dimensions are groups under the names that they are given, so that a page can make them
heavy; the lines of a tube and of a mark are groups too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Final

import numpy as np

from coper.bench.layout.layout import Layout
from coper.bench.layout.table import VIEWS, Lies
from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.marks import CENTRE, CUT, NOTE_HEIGHT, Group, Mark, Path, Text
from coper.drawing.page import Page
from coper.frame.outline import Stroke, outline
from coper.frame.piece import Piece
from coper.frame.tube import REMEMBERED
from coper.frame.view import View
from coper.pages.gapped import gapped
from coper.sheets.dimension_lines import length_mark
from coper.sheets.layout_drawing import SPOT, TUBE, layout_marks
from coper.sheets.strokes import drawn
from coper.telling.cells import bare
from coper.telling.words.layout import INCH_STEP
from coper.units import format_inches, format_mm, in_inches

EDGE_MM: Final = 3.0

EDGE: Final = "edge "
"""What the name of a tube seen from the front edge begins with: the other view has its own."""
BESIDE_MM: Final = 8.0
"""From the view from the edge to the dimension line beside it."""


def layout_picture(layout: Layout, scale: float, key: bool, origin: str) -> Page:
    """The drawing to scale as a page as large as it is, with where its origin stands.

    ``key`` is that of :func:`layout_marks`, ``origin`` the name of the origin's group.
    """
    marks = tuple(_own(layout_marks(layout, scale, key)))
    shown = Group(tuple(_origin_marks(layout, scale)), origin)
    return _page((*marks, shown))


def edge_picture(layout: Layout, scale: float, plane: str) -> Page:
    """The frame as one sees it standing at the front edge; ``plane`` is the name of its height."""
    table = layout.table
    shift = np.array((table.left, table.plane)) / scale
    seen = ((piece.label, _from_edge(piece, table.lies)) for piece in layout.subject.pieces)
    tubes = tuple(Group(moved(drawn(strokes, 1 / scale), *shift), EDGE + label)
                  for label, strokes in seen)
    wide = table.width / scale
    top = Path(np.array(((0.0, 0.0), (wide, 0.0))), CUT)
    height = (layout.clear if table.flat else table.plane) / scale
    level = np.array(((0.0, height), (wide, height)))
    words = Text((0.0, max(bounds((*tubes, top)).top, height) + NOTE_HEIGHT),
                 "from the front edge, where you stand", NOTE_HEIGHT)
    dimension = length_mark(np.array((-BESIDE_MM, 0.0)), np.array((-BESIDE_MM, height)), 0.0,
                            _tape(layout.clear if table.flat else table.plane), plane)
    marks = (*gapped((*tubes, words)), top,
             Group((Path(level, CENTRE), *dimension.marks), plane))
    return _page(marks)


@lru_cache(maxsize=REMEMBERED)
def _from_edge(piece: Piece, lies: Lies) -> tuple[Stroke, ...]:
    """The strokes of a piece as one sees it from the front edge, about the frame's own origin."""
    above = VIEWS[lies]
    return tuple(outline(piece, View(above.right, above.towards)))


def _origin_marks(layout: Layout, scale: float) -> Iterator[Mark]:
    """From the left end and from the front edge to the frame's origin, without words.

    How far that is stands beside the table's lines already.
    """
    at = np.array((layout.table.left, layout.table.edge)) / scale
    for start in (at * (0, 1), at * (1, 0)):
        if np.hypot(*(at - start)):
            line = length_mark(start, at, 0.0, "", "")
            yield from (mark for mark in line.marks if not isinstance(mark, Text))


def _tape(mm: float) -> str:
    """A distance on the table as the tape is read."""
    return bare(format_inches(mm, INCH_STEP) if in_inches() else format_mm(mm, 1))


def _own(marks: Iterable[Mark]) -> Iterator[Mark]:
    """The marks, of the names only those of one thing: a page has names of its own."""
    for mark in marks:
        match mark:
            case Group():
                own = mark.name.startswith((TUBE, SPOT))
                yield Group(tuple(_own(mark.marks)), mark.name if own else "")
            case Path() | Text():
                yield replace(mark, name="")
            case _:
                yield mark


def _page(marks: tuple[Mark, ...]) -> Page:
    box = bounds(marks)
    return Page("A", box.width + 2 * EDGE_MM, box.height + 2 * EDGE_MM,
                moved(marks, EDGE_MM - box.left, EDGE_MM - box.bottom))
