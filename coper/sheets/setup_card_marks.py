"""A set-up card: what a person sets on the saw fixture for one end of a tube.

::

    +---------------------------+
    | title, tube               |   a thin frame: nothing of it is cut out
    | on what   (cut 1 of 2)    |
    |  side view      end view  |   a panel a cut, two side by side
    |  numbers, mm and inches   |
    |  [ ] steps                |
    | the gap to expect         |
    +---------------------------+
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from coper.bench.setup import EndSetup
from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.letters import (
    DESCENT_CAPS,
    shortened_name,
    text_width,
    wrapped,
)
from coper.drawing.marks import (
    FINE,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    THIN,
    Group,
    Mark,
    Path,
    Pen,
    Text,
)
from coper.frame.piece import Piece
from coper.joint.fit.limits import Limit
from coper.pages.boxes import box_path
from coper.pages.compose import Block
from coper.pages.text import LINE_MM, TextColumn
from coper.sheets.setup_card import Card, end_card
from coper.sheets.setup_card_sketch import END_MM, GAP_MM, SIDE_MM, SKETCH_MM, sketch
from coper.sheets.setup_card_words import CardRow, rows, speed_words, steps

PANEL_MM = SIDE_MM + GAP_MM + END_MM
"""Width of a panel: two cards of one panel stand side by side on the narrowest page."""
PAD_MM = 2.5
"""Between the frame and what is in it, and between panels."""
ACROSS = 2
"""Panels that stand side by side."""
MM_AT, INCH_AT = 58.5, PANEL_MM
"""Where the table's two columns of numbers end."""
LARGE_MM = 5.0
"""Height of the numbers that the saw is set by: they are read at arm's length."""
LARGE_ROW_MM = 1.4 * LARGE_MM
"""From one such number to the next."""
LABEL_LINES, LABEL_APART_MM = 2, 3.4
"""What stands beside such a number, and between its baselines: clear of the row above."""
ON_LINES = 2
"""The tube, and each main, takes no more lines than this."""


def card_block(card: Card) -> Block:
    """The card as a block of a page."""
    return Block(f"card {card.title}", card_marks(card), keep_upright=True)


def card_blocks(
    piece: Piece, setups: Sequence[EndSetup], limit: Limit | None = None,
    material: str | None = None, blank: str = "",
) -> list[Block]:
    """A card for every shaped end of ``piece``, from its ``setups`` (``piece_setups``)."""
    return [card_block(end_card(piece, setup, limit, material, blank)) for setup in setups]


def card_marks(card: Card) -> tuple[Mark, ...]:
    """The card, its upper left corner at the origin, mm."""
    across = min(ACROSS, len(card.cuts))
    wide = across * PANEL_MM + (across - 1) * PAD_MM
    marks = [*_head(card, wide)]
    y = _below(marks)
    for first in range(0, len(card.cuts), ACROSS):
        panels = [moved(_panel(card, number), column * (PANEL_MM + PAD_MM), y)
                  for column, number in enumerate(range(first, len(card.cuts))[:ACROSS])]
        marks += [Group(panel, f"cut-{first + at + 1}") for at, panel in enumerate(panels)]
        y = min(_below(panel) for panel in panels)
    marks += moved(_gaps(card, wide), 0.0, y)
    foot = _below(marks)
    frame = box_path(-PAD_MM, foot, wide + 2 * PAD_MM, PAD_MM - foot, THIN, name="card-frame")
    return (frame, Group(tuple(marks), "card"))


def _below(marks: Iterable[Mark]) -> float:
    """Where the next thing may start below ``marks``."""
    return bounds(marks).bottom - PAD_MM


def _head(card: Card, wide: float) -> tuple[Mark, ...]:
    head = TextColumn(wide)
    name = shortened_name(card.title, wide, PLAIN_HEIGHT)
    head.put([Text((0.0, 0.0), name, PLAIN_HEIGHT, bold=True)], PLAIN_HEIGHT)
    head.lines(wrapped(card.about, wide, NOTE_HEIGHT, ON_LINES))
    head.put([_rule(wide, THIN)], PAD_MM / 2)
    return head.marks


def _gaps(card: Card, wide: float) -> tuple[Mark, ...]:
    gaps = TextColumn(wide)
    gaps.put([_rule(wide, FINE)], 0.0)
    gaps.skip(PAD_MM / 2)
    for words in card.gaps:
        gaps.line(words)
    return gaps.marks


def _rule(wide: float, pen: Pen) -> Path:
    return Path(np.array(((0.0, 0.0), (wide, 0.0))), pen)


def _panel(card: Card, number: int) -> tuple[Mark, ...]:
    """One cut, its upper left corner at the origin."""
    cut = card.cuts[number]
    which = f"cut {number + 1} of {len(card.cuts)}, " if len(card.cuts) > 1 else ""
    panel = TextColumn(PANEL_MM)
    panel.skip(NOTE_HEIGHT - LINE_MM)  # its first line's capitals reach the upper edge
    panel.lines(wrapped(f"{which}{cut.on}", PANEL_MM, NOTE_HEIGHT, ON_LINES, bold=True),
                bold=True)
    panel.put(sketch(cut, number + 1), PAD_MM)
    panel.skip(SKETCH_MM + PAD_MM / 2)
    for row in rows(card, cut):
        panel.put(_cells(row), LARGE_ROW_MM if row.large else LINE_MM)
    for words in speed_words(card, cut):
        panel.line(words)
    panel.skip(DESCENT_CAPS * NOTE_HEIGHT + PAD_MM / 2)
    for step in steps(card, cut):
        panel.ticked(step)
    return panel.marks


def _cells(row: CardRow) -> Iterator[Mark]:
    """A row of the table; a large one's words stand in two lines beside its number."""
    height = LARGE_MM if row.large else NOTE_HEIGHT
    room = MM_AT - text_width(row.value, height) - NOTE_HEIGHT / 2
    label = wrapped(row.label, room, NOTE_HEIGHT, LABEL_LINES if row.large else 1)
    for number, words in enumerate(reversed(label)):
        yield Text((0.0, number * LABEL_APART_MM), words, NOTE_HEIGHT)
    yield Text((MM_AT, 0.0), row.value, height, "right")
    if row.inches:
        yield Text((INCH_AT, 0.0), row.inches, NOTE_HEIGHT, "right")
