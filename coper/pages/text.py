"""Lines of words set under each other: one leading for every page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.letters import wrap_text
from coper.drawing.marks import (
    GAP_MM,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    THIN,
    Anchor,
    Mark,
    Path,
    Text,
)
from coper.pages.boxes import tick

LEADING = 1.6
"""From baseline to baseline, in heights of a capital: ISO 3098 asks for 1.5 (from memory)."""

LINE_MM = LEADING * NOTE_HEIGHT
"""From baseline to baseline of notes."""

PARAGRAPH_MM = NOTE_HEIGHT / 2
"""What is left empty between two paragraphs of a column."""

COLUMN_MM = 85.5
"""Width of a column of notes: two stand side by side on the narrowest page, by a printer that is
2 % short as well."""

TICK_STEP_MM = NOTE_HEIGHT + GAP_MM
"""From a box to tick to the next one, or to its words."""


def set_lines(
    lines: Iterable[str], left: float, top: float, anchor: Anchor = "left",
    height: float = NOTE_HEIGHT, bold: bool = False, name: str = "",
) -> Iterator[Text]:
    """Lines under each other, the first one's baseline a leading below ``top``; mm.

    An empty line keeps its place.
    """
    for number, words in enumerate(lines, 1):
        if words:
            at = (left, top - number * LEADING * height)
            yield Text(at, words, height, anchor, bold=bold, name=name)


class TextColumn:
    """Words and small drawings under each other, from ``y`` 0 down.

    Attributes
    ----------
    wide : float, mm
    depth : float, mm
        How far down it goes: the last line's baseline.
    """

    def __init__(self, wide: float) -> None:
        self.wide = wide
        self.depth = 0.0
        self._marks: list[Mark] = []

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All that has been set."""
        return tuple(self._marks)

    def head(self, words: str) -> None:
        """A heading, with a line under it."""
        self.lines(wrap_text(words, self.wide, PLAIN_HEIGHT, bold=True), PLAIN_HEIGHT, bold=True)
        self.put([Path(np.array(((0.0, 0.0), (self.wide, 0.0))), THIN)], GAP_MM)

    def lines(
        self, lines: Iterable[str], height: float = NOTE_HEIGHT, indent: float = 0.0,
        bold: bool = False, name: str = "",
    ) -> None:
        """Words that are broken into lines already, ``indent`` mm from the left."""
        broken = tuple(lines)
        self._marks += set_lines(broken, indent, -self.depth, "left", height, bold, name)
        self.skip(len(broken) * LEADING * height)

    def line(self, words: str, indent: float = 0.0, name: str = "") -> None:
        """Words, wrapped, ``indent`` mm from the left."""
        self.lines(wrap_text(words, self.wide - indent, NOTE_HEIGHT), indent=indent, name=name)

    def needs(self, words: str) -> float:
        """How far down a line of words would go, mm."""
        return len(wrap_text(words, self.wide, NOTE_HEIGHT)) * LINE_MM

    def ticked(self, words: str, ticks: int = 1) -> None:
        """Words, wrapped, behind boxes to tick."""
        boxes = [tick(index * TICK_STEP_MM) for index in range(ticks)]
        self._marks += moved(boxes, 0.0, -self.depth - LINE_MM)
        self.line(words, ticks * TICK_STEP_MM)

    def put(self, marks: Iterable[Mark], high: float) -> None:
        """Marks whose ``y`` 0 comes ``high`` mm further down."""
        self.skip(high)
        self._marks += moved(marks, 0.0, -self.depth)

    def skip(self, high: float) -> None:
        """Leave ``high`` mm empty."""
        self.depth += high


def column(
    head: str, lines: Iterable[str | tuple[Mark, ...]], apart: float = PARAGRAPH_MM
) -> tuple[Mark, ...]:
    """A heading and paragraphs ``apart`` mm from each other, wrapped to a column of notes.

    Marks among them stand on their ``y`` 0 as words on a baseline.
    """
    notes = TextColumn(COLUMN_MM)
    notes.head(head)
    for one in lines:
        if isinstance(one, str):
            notes.line(one)
        else:
            box = bounds(one)
            notes.put(one, box.top + GAP_MM)
            notes.skip(-box.bottom)
        notes.skip(apart)
    return notes.marks


def caution_column(lines: Iterable[str]) -> tuple[Mark, ...]:
    """Cautions under their heading."""
    return column("Cautions", lines)
