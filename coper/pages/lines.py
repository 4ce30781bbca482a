"""Words and small drawings set under each other, from ``y`` 0 down."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from coper.drawing.letters import wrap_text
from coper.drawing.marks import GAP_MM, NOTE_HEIGHT, PLAIN_HEIGHT, THIN, Mark, Path, Pen, Text
from coper.drawing.visit import moved

COLUMN_MM = 89.0
"""Width of a column of notes: two stand side by side on the narrowest page."""

LEADING = 1.7
"""Distance of two lines, in heights of a capital."""


class TextColumn:
    """What has been set so far, and how far down it goes.

    Attributes
    ----------
    wide : float, mm
    depth : float, mm
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
        for part in wrap_text(words, self.wide, PLAIN_HEIGHT, bold=True):
            self.put([Text((0.0, 0.0), part, PLAIN_HEIGHT, bold=True)], LEADING * PLAIN_HEIGHT)
        self.put([Path(np.array(((0.0, 0.0), (self.wide, 0.0))), THIN)], GAP_MM)

    def line(self, words: str, indent: float = 0.0) -> None:
        """Words, wrapped, ``indent`` mm from the left."""
        for part in wrap_text(words, self.wide - indent, NOTE_HEIGHT):
            self.put([Text((indent, 0.0), part, NOTE_HEIGHT)], LEADING * NOTE_HEIGHT)

    def put(self, marks: Iterable[Mark], high: float) -> None:
        """Marks whose ``y`` 0 comes ``high`` mm further down."""
        self.depth += high
        self._marks += moved(marks, 0.0, -self.depth)

    def skip(self, high: float) -> None:
        """Leave ``high`` mm empty."""
        self.depth += high


def box_path(
    left: float, bottom: float, width: float, height: float, pen: Pen, fill: bool = False,
    name: str = "",
) -> Path:
    """A rectangle, mm."""
    right, top = left + width, bottom + height
    corners = np.array(((left, bottom), (right, bottom), (right, top), (left, top)))
    return Path(corners, pen, closed=True, fill=fill, name=name)


def tick(left: float) -> Path:
    """A box to tick, on the line of its words."""
    return box_path(left, 0.0, NOTE_HEIGHT, NOTE_HEIGHT, THIN, name="tick")


def column(head: str, lines: tuple[str, ...]) -> tuple[Mark, ...]:
    """A heading and lines of text under each other, wrapped to the column, top at ``y`` 0."""
    y = -PLAIN_HEIGHT
    marks: list[Mark] = [Text((0.0, y), head, PLAIN_HEIGHT, "left", bold=True)]
    y -= LEADING
    marks.append(Path(np.array(((0.0, y), (COLUMN_MM, y))), THIN))
    for line in lines:
        for part in wrap_text(line, COLUMN_MM, NOTE_HEIGHT):
            y -= LEADING * NOTE_HEIGHT
            marks.append(Text((0.0, y), part, NOTE_HEIGHT, "left"))
        y -= NOTE_HEIGHT / 2
    return tuple(marks)


def caution_column(lines: tuple[str, ...]) -> tuple[Mark, ...]:
    """Cautions under their heading."""
    return column("Cautions", lines)
