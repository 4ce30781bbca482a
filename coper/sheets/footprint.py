"""The footprint: the template that marks on the main where the branch lands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from coper.arrays import Floats
from coper.drawing.curves import pieces
from coper.drawing.letters import wrap_text, wrapped
from coper.drawing.marks import (
    CENTRE,
    CUT,
    FINE,
    GAP_MM,
    LINE,
    NOTE_HEIGHT,
    Anchor,
    Group,
    Mark,
    Path,
    Text,
)
from coper.joint.cope import Cope
from coper.pages.boxes import box_path
from coper.pages.gapped import gapped
from coper.pages.text import LINE_MM, set_lines
from coper.shapes.plate import Plate

MARGIN_MM = 15.0
"""Paper round the footprint: room for the names of the lines."""

STUB_MM = 4.0
"""How far an axis is drawn in from the paper's edge; between the stubs stand the numbers."""

TICK_MM = 2.5

LEAST_MM = 44.0
"""A footprint's paper is no narrower: a few words of its name stand in a line."""

PLACED_MM = 56.0
"""Nor than this where it says where along the main it goes."""

NAME_LINES = 3
"""The name takes no more lines than this."""

OFF_STUB_MM = 1.0
"""How far words keep from where an axis may be drawn."""


LANDING = "footprint"
"""The name of the line itself, which nothing cuts."""


def footprint_marks(
    cope: Cope, paper: float, sides: Mapping[float, str], main: int = 0, name: str = "footprint",
    places: Sequence[str] = (),
) -> tuple[Mark, ...]:
    """The footprint on flat paper of ``paper`` mm: ``x`` along the main, ``y`` round it.

    ``sides`` are the branch's clocks (degrees) that stand round the edge, in words; ``main``
    says on which of the mains it lands, ``places`` where its lines come to lie there. The paper of
    a tube always has the line along the main that faces the branch.
    """
    clock = cope.drawn_template("bevelled", paper).clock
    edge = cope.at(clock).flat_footprint(main, paper / 2)
    low, high = _extent(edge, isinstance(cope.cluster.mains[main].shape, Plate))
    high[0] = max(high[0], low[0] + (PLACED_MM if places else LEAST_MM))
    wide = float(high[0] - low[0]) - 2 * GAP_MM
    lines = [*wrapped(name, wide, NOTE_HEIGHT, NAME_LINES),
             *(line for words in places for line in wrap_text(words, wide, NOTE_HEIGHT))]
    inner = low.copy()
    low[1] -= (len(lines) - 1) * LINE_MM + GAP_MM
    return gapped((
        Group(_frame(low, high), "edge"),
        Group(tuple(Path(piece, CUT, name=LANDING) for piece in pieces(edge)), "landing"),
        Group((*_axes(low, inner, high), *_name(low, high, lines)), "axes"),
        Group(_sides(edge, clock, sides), "sides"),
    ), frozenset((LANDING,)))


def _extent(edge: Floats, plate: bool) -> tuple[Floats, Floats]:
    """Two corners (2,) of the paper that an edge (n, 2) on a tube or a ``plate`` needs, mm."""
    low, high = np.nanmin(edge, axis=0), np.nanmax(edge, axis=0)
    if not plate:
        low[1], high[1] = min(low[1], 0.0), max(high[1], 0.0)
    return low - MARGIN_MM, high + MARGIN_MM


def _frame(low: Floats, high: Floats) -> tuple[Mark, ...]:
    """The paper's edge between two corners (2,), mm."""
    (left, bottom), (wide, tall) = low.tolist(), (high - low).tolist()
    return (box_path(left, bottom, wide, tall, LINE, name="edge"),)


def _axes(low: Floats, inner: Floats, high: Floats) -> tuple[Mark, ...]:
    """The main's line on the branch's side, the foot of the branch's axis, the main's + end.

    All three are corners (2,) of the paper, mm; ``inner`` is the lower left one without what the
    lines of the name add.
    """
    marks: list[Mark] = []
    for way, line in ((0, "main-line"), (1, "branch-foot")):
        across = 1 - way
        if not low[across] < 0 < high[across]:
            continue
        stretches = [(low[way], low[way] + STUB_MM), (high[way] - STUB_MM, high[way])]
        if inner[across] + MARGIN_MM < 0 < high[across] - MARGIN_MM:
            stretches.append((inner[way] + MARGIN_MM, high[way] - MARGIN_MM))
        for stretch in stretches:
            ends = np.zeros((2, 2))
            ends[:, way] = stretch
            marks.append(Path(ends, CENTRE, name=line))
    right = (float(high[0]) - GAP_MM, float(high[1]) - STUB_MM - OFF_STUB_MM - NOTE_HEIGHT)
    return (*marks, Text(right, "main + →", NOTE_HEIGHT, "right"))


def _name(low: Floats, high: Floats, lines: Sequence[str]) -> Iterator[Text]:
    """What the paper is, in the lower corner that the foot of the branch's axis is further from.

    ``low`` and ``high`` (2,) are the paper's corners, mm.
    """
    to_right = high[0] > -low[0]
    x = float(high[0]) - GAP_MM if to_right else float(low[0]) + GAP_MM
    top = float(low[1]) + STUB_MM + OFF_STUB_MM + len(lines) * LINE_MM
    return set_lines(lines, x, top, "right" if to_right else "left")


def _sides(edge: Floats, clock: Floats, sides: Mapping[float, str]) -> tuple[Mark, ...]:
    """A tick and a number outside the edge at each of the branch's clocks in ``sides``.

    ``edge`` (n, 2), mm, lies at the clocks ``clock`` (n,), degrees.
    """
    centre = (np.nanmin(edge, axis=0) + np.nanmax(edge, axis=0)) / 2
    marks: list[Mark] = []
    for side, words in sides.items():
        at = np.array([np.interp(side % 360, clock, edge[:, way]) for way in (0, 1)])
        if np.isnan(at).any():
            continue
        away = (at - centre) / np.hypot(*(at - centre))
        marks.append(Path(np.stack((at, at + TICK_MM * away)), FINE))
        label = at + (TICK_MM + GAP_MM) * away
        outward: Anchor = "left" if away[0] > 0 else "right"
        anchor: Anchor = "middle" if abs(away[0]) < abs(away[1]) else outward
        drop = NOTE_HEIGHT * (0.5 - 0.5 * away[1])
        marks.append(Text((float(label[0]), float(label[1] - drop)), words, NOTE_HEIGHT, anchor))
    return tuple(marks)
