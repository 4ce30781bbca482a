"""Words and small drawings set under each other, from ``y`` 0 down."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from coper.paper.letters import wrap_text
from coper.paper.marks import GAP_MM, NOTE_HEIGHT, PLAIN_HEIGHT, THIN, Mark, Path, Pen, Text
from coper.paper.notes import LEADING
from coper.paper.visit import moved


class Lines:
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
