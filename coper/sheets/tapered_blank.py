"""Tapered tubes on paper: how much to cut off each end, in the order of the cuts.

::

      | 1: 11.34 mm from the thick end
    |/|----------------------------. . |
    |/|                            |///|   as the tube is bought, to scale along it only
    |/|----------------------------' ' |
             2: 396.91 mm from there   |
    thick end                   thin end
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.arrays import Floats
from coper.bench.cut_list.tapered_blank import FLUSH_MM, TaperedBlank
from coper.drawing.marks import CUT, GAP_MM, LINE, NOTE_HEIGHT, Hatch, Mark, Path, Text
from coper.pages.compose import Block
from coper.pages.text import LINE_MM, TextColumn
from coper.shapes.tapered import Tapered
from coper.shapes.words import tube_words
from coper.telling.words.cut_list import (
    cut_steps,
    donor_shortages,
    own_tube_words,
    tapered_name,
)
from coper.units import format_length, format_short

WIDE_MM = 177.0
"""Width of the tube as it is bought: it fits the narrowest page upright."""

THICK_MM = 9.0
"""Height of the thicker end: at the scale of the length the taper would not show."""

BEYOND_MM = 3.0
"""How far a cut's line goes past the tube."""

HATCH_MM = 2.0
"""Distance between the strokes over the waste."""


def tapered_blocks(blanks: Sequence[TaperedBlank], notes: Sequence[str]) -> list[Block]:
    """A block for each tube, ``notes`` under the last; twins that are cut alike share one."""
    return [Block(f"cut list {blank.label}", _marks(blank, notes if blank is blanks[-1] else ()))
            for blank in blanks]


def _marks(blank: TaperedBlank, notes: Sequence[str]) -> tuple[Mark, ...]:
    lines = TextColumn(WIDE_MM)
    lines.head(f"{tapered_name(blank)}: {format_length(blank.length)}")
    lines.line(f"{tube_words(blank.shape)}: {own_tube_words(blank)}.")
    lines.skip(LINE_MM + BEYOND_MM + GAP_MM)
    lines.put(_drawn(blank), THICK_MM)
    lines.skip(2 * LINE_MM + BEYOND_MM)
    for step in cut_steps(blank):
        lines.ticked(step, blank.count)
    for note in (*donor_shortages(blank), *notes):
        lines.line(note)
    return lines.marks


def _drawn(blank: TaperedBlank) -> Iterator[Mark]:
    """The tube as it is bought, its lower left corner at the origin."""
    view = _View(blank)
    length = blank.bought
    yield Path(view.outline(view.low, view.high), LINE, closed=True, name="tube")
    for begin, end in ((0.0, blank.near), (blank.far, length)):
        if end - begin > FLUSH_MM:
            yield Hatch((view.outline(begin, end),), HATCH_MM)
    numbers = (1, 2) if view.near_first else (2, 1)
    for number, station, off, above in zip(
            numbers, (blank.near, blank.far), blank.off, (True, False), strict=True):
        if abs(off) > FLUSH_MM:
            yield from _cut(view, number, station, above)
    near_end, far_end = (f"{name} end" for name in blank.end_names)
    below = -BEYOND_MM - 2 * LINE_MM
    yield Text((0.0, below), near_end, NOTE_HEIGHT)
    yield Text((WIDE_MM, below), far_end, NOTE_HEIGHT, "right")


class _View:
    """Where a station of the tube stands on the paper."""

    def __init__(self, blank: TaperedBlank) -> None:
        shape = blank.shape
        self.low, self.high = min(0.0, blank.near), max(blank.bought, blank.far)
        self.begins, self.length = blank.begins, shape.length
        self.owned = blank.owned
        self.datum = f"{blank.end_names[0]} end"
        self.sizes = (sorted((shape.start, shape.end), reverse=True)
                      if isinstance(shape, Tapered) else [shape.major, shape.end])
        self.near_first = not blank.far_first

    def x(self, station: float) -> float:
        """Across the paper, mm."""
        return (station - self.low) / (self.high - self.low) * WIDE_MM

    def outline(self, begin: float, end: float) -> Floats:
        """The corners (4, 2), mm, of the tube between two stations."""
        most = max(self._size(self.low), self._size(self.high))
        corners = []
        for station, side in ((begin, -1), (end, -1), (end, 1), (begin, 1)):
            y = (1 + side * self._size(station) / most) * THICK_MM / 2
            corners.append((self.x(station), y))
        return np.array(corners)

    def _size(self, station: float) -> float:
        return float(np.interp(station, (self.begins, self.begins + self.length), self.sizes))


def _cut(view: _View, number: int, station: float, above: bool) -> Iterator[Mark]:
    """The line of one cut and what it is called, above or below the tube."""
    x = view.x(station)
    yield Path(np.array(((x, -BEYOND_MM), (x, THICK_MM + BEYOND_MM))), CUT, name=f"cut-{number}")
    before = f"past the {view.datum}" if view.owned else f"before the {view.datum}'s taper"
    words = (f"{number}: {format_short(abs(station))} "
             f"{before if station < 0 else f'from the {view.datum}'}")
    y = THICK_MM + BEYOND_MM + GAP_MM if above else -BEYOND_MM - LINE_MM
    yield Text((x, y), words, NOTE_HEIGHT, "left" if x < WIDE_MM / 2 else "right")
