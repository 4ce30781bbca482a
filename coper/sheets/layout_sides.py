"""What stands beside the four lines of a table's drawing: ordinates, marks of axes, names."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.bench.layout.axis_marks import Line
from coper.bench.layout.layout import Layout
from coper.drawing.bounds import Bounds, bounds
from coper.drawing.marks import FINE, GAP_MM, PLAIN_HEIGHT, Mark, Path, Pen, Text
from coper.pages.spread import side_text, spread
from coper.pages.text import LINE_MM
from coper.telling.cells import bare
from coper.telling.words.layout import INCH_STEP
from coper.units import format_inches, format_mm, in_inches

JOG_MM = (1.5, 4.5, 5.5)
"""Beside a line: where a leader turns aside, where it has come to its words, where those begin."""

SPILL_MM = 20.0
"""How much longer than its line a row of words may be."""

SAME_ORDINATE_MM = 0.05
"""Marks whose ordinates differ by less, on the table, share one: they are printed to 0.1 mm."""

ORDINATE = Pen(0.18, (0.5, 2.0))
"""From a mark to the edge and to the end."""

_SIDES: dict[Line, str] = {
    "front edge": "below", "far line": "above", "left end": "left", "right line": "right"}


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """A layout and its scale."""

    layout: Layout
    scale: float

    @property
    def size(self) -> Floats:
        """Width and depth (2,) of the drawn part of the table, mm on paper."""
        table = self.layout.table
        return np.array((table.width, table.depth)) / self.scale

    def on_paper(self, points: Floats) -> Floats:
        """Points (..., 2) of the table, mm on paper."""
        return np.asarray(points, dtype=np.float64) / self.scale


def across_table(line: Line) -> bool:
    """Whether words beside the line stand upright: it runs from left to right."""
    return _SIDES[line] in ("below", "above")


@dataclass(frozen=True, slots=True)
class _Beside:
    """Words beside a line.

    Attributes
    ----------
    place : float, mm
        Where on the line they belong, on the table.
    words : str
    off : float, mm
        How far their place stands off the line, on paper.
    """

    place: float
    words: str
    off: float = 0.0


def beside(drawing: Drawing) -> Iterator[Mark]:
    """The ordinates, and the marks of axes, along the four lines; beyond them the lines' names."""
    width, depth = drawing.size
    boxes: dict[Line, Bounds] = {}
    for line in _SIDES:
        words = tuple(_side_words(drawing, line, _shown(drawing, line)[0]))
        yield from words
        texts = [mark for mark in words if isinstance(mark, Text)]
        table = Path(np.array(((0.0, 0.0), (width, depth))), FINE)
        boxes[line] = bounds((table, *texts))
    for line, box in boxes.items():
        yield _line_name(line, width, box, boxes["far line"])


def all_shown(drawing: Drawing) -> bool:
    """Whether everything had room beside the lines."""
    return all(_shown(drawing, line)[1] for line in _SIDES)


def _shown(drawing: Drawing, line: Line) -> tuple[list[_Beside], bool]:
    """What stands beside a line, and whether that is all: ordinates go first, then marks."""
    ordinates, marks = tuple(_ordinates(drawing, line)), tuple(_axis_places(drawing, line))
    length = float(drawing.size[0 if across_table(line) else 1]) + SPILL_MM
    for some in ((*ordinates, *marks), marks):
        if len(some) * LINE_MM <= length:
            return sorted(some, key=lambda one: one.place), len(some) == len(ordinates) + len(marks)
    return [], False


def _ordinates(drawing: Drawing, line: Line) -> Iterator[_Beside]:
    """The marks' distances from the left end or the front edge; equal ones stand once."""
    if line not in ("front edge", "left end"):
        return
    axis = 0 if line == "front edge" else 1
    spots = sorted(drawing.layout.spots, key=lambda spot: (spot.at[axis], spot.number))
    while spots:
        same = [spot for spot in spots if spot.at[axis] - spots[0].at[axis] < SAME_ORDINATE_MM]
        spots = spots[len(same):]
        numbers = ", ".join(str(number) for number in sorted(spot.number for spot in same))
        furthest = max(spot.at[1 - axis] for spot in same) / drawing.scale
        yield _Beside(same[0].at[axis], f"{numbers}:  {_tape(same[0].at[axis])}", furthest)


def _tape(mm: float) -> str:
    """A distance on the table as the tape is read."""
    words = format_inches(mm, INCH_STEP) if in_inches() else format_mm(mm, 1)
    return bare(words)


def _axis_places(drawing: Drawing, line: Line) -> Iterator[_Beside]:
    for axis in drawing.layout.axes:
        for mark in axis.marks:
            if mark.line == line:
                yield _Beside(mark.distance, f"{axis.key}:  {_tape(mark.distance)}")


def _side_words(drawing: Drawing, line: Line, shown: list[_Beside]) -> Iterator[Mark]:
    """Words in a row beside a line, each with a leader to its place."""
    places = [one.place / drawing.scale for one in shown]
    for one, place, moved_to in zip(shown, places, spread(places, LINE_MM), strict=True):
        way = np.array((place, place, moved_to, moved_to))
        off = np.array((0.0, JOG_MM[0], JOG_MM[1], JOG_MM[2]))
        yield Path(_from_line(drawing, line, way[:3], off[:3]), FINE)
        if one.off:
            yield Path(_from_line(drawing, line, way[:2], np.array((0.0, -one.off))), ORDINATE)
        at = _from_line(drawing, line, way[3:], off[3:])[0]
        yield side_text(at, one.words, _SIDES[line])


def _from_line(drawing: Drawing, line: Line, along: Floats, off: Floats) -> Floats:
    """Points (n, 2) so far along a line, and so far off it to the outside, mm on paper."""
    width, depth = drawing.size
    match line:
        case "front edge":
            return np.stack((along, -off), axis=-1)
        case "far line":
            return np.stack((along, depth + off), axis=-1)
        case "left end":
            return np.stack((-off, along), axis=-1)
        case "right line":
            return np.stack((width + off, along), axis=-1)


def _line_name(line: Line, width: float, box: Bounds, far: Bounds) -> Text:
    """What a line is called, beyond the words beside it, whose ``box`` holds the table as well.

    Those of the ends stand upright over their words, clear of the ``far`` line's: beside them they
    would take of the width, which limits the scale.
    """
    off = 2 * PLAIN_HEIGHT
    match line:
        case "front edge":
            return Text((width / 2, box.bottom - off), "front edge of the table", PLAIN_HEIGHT,
                        "middle")
        case "far line":
            return Text((width / 2, box.top + off / 2), "far line", PLAIN_HEIGHT, "middle")
        case "left end":
            return Text((far.left - GAP_MM, box.top + off / 2), "left end", PLAIN_HEIGHT,
                        "right")
        case "right line":
            return Text((far.right + GAP_MM, box.top + off / 2), "right line", PLAIN_HEIGHT)
