"""Caps of cut-off ends: each outline at true scale, with how many of it to cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.arrays import Floats
from coper.drawing.marks import CUT, FINE, GAP_MM, NOTE_HEIGHT, Mark, Path
from coper.frame.alike import Alike
from coper.frame.cap import cap_outline
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.pages.compose import Block
from coper.pages.text import LINE_MM, set_lines
from coper.telling.words.cap import caps

CROSS_MM = 3.0
"""Half a cross where the tube's axis goes through."""


def cap_blocks(groups: Sequence[Alike]) -> list[Block]:
    """A block for each kind of cap; nothing where no end has one."""
    return [cap_block(words, piece, end) for words, piece, end in caps(groups)]


def cap_block(words: str, piece: Piece, end: TubeEnd) -> Block:
    """The cap of one end; ``words`` say which it is."""
    return Block(f"cap {words}", tuple(_marks(cap_outline(piece, end), words)))


def _marks(outline: Floats, words: str) -> Iterator[Mark]:
    """The outline seen from outside, its clock 0 to the right."""
    yield Path(outline, CUT, closed=True, name="cap")
    for way in ((CROSS_MM, 0.0), (0.0, CROSS_MM)):
        yield Path(np.array((way, way)) * ((1.0,), (-1.0,)), FINE, name="axis")
    right = float(outline[:, 0].max())
    yield Path(np.array(((right, 0.0), (right + CROSS_MM, 0.0))), FINE, name="clock-0")
    yield from set_lines(("0",), right + CROSS_MM + GAP_MM, LINE_MM - NOTE_HEIGHT / 2)
    below = float(outline[:, 1].min()) - GAP_MM
    yield from set_lines((words,), float(outline[:, 0].min()), below)
