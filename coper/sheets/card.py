"""A set-up card: what a person sets on the saw fixture for one end of a tube.

::

    +---------------------------+
    | title, tube               |   cut out along the frame
    | on what   (cut 1 of 2)    |
    |  side view      end view  |   a panel a cut, two side by side
    |  numbers, mm and inches   |
    |  [ ] steps                |
    | the gap to expect         |
    +---------------------------+
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from coper.drawing.letters import (
    DESCENT_CAPS,
    shortened,
    shortened_name,
    text_width,
    wrap_text,
    wrapped,
)
from coper.drawing.marks import FINE, FOLD, NOTE_HEIGHT, PLAIN_HEIGHT, THIN, Group, Mark, Path, Text
from coper.drawing.visit import bounds, moved
from coper.pages.compose import Block
from coper.sheets.card_sketch import END_MM, GAP_MM, SIDE_MM, SKETCH_MM, sketch
from coper.sheets.card_words import Card, CardCut, rows, speed_words, steps

PANEL_MM = SIDE_MM + GAP_MM + END_MM
"""Width of a panel: two cards of one panel stand side by side on the narrowest page."""
PAD_MM = 2.5
"""Between the frame and what is in it, and between panels."""
ACROSS = 2
"""Panels that stand side by side."""
LEADING_MM = 1.6 * NOTE_HEIGHT
MM_AT, INCH_AT = 63.0, PANEL_MM
"""Where the table's two columns of numbers end."""
ON_LINES = 2
"""The tube, and each main, is told in no more lines than this."""
BOX_MM = NOTE_HEIGHT
"""A check box."""
INDENT_MM = 4.5


def card_block(card: Card) -> Block:
    """The card as a block of a page."""
    return Block(f"card {card.title}", card_marks(card), keep_upright=True)


def card_marks(card: Card) -> tuple[Mark, ...]:
    """The card, its upper left corner at the origin, mm."""
    across = min(ACROSS, len(card.cuts))
    wide = across * PANEL_MM + (across - 1) * PAD_MM
    marks: list[Mark] = list(_head(card, wide))
    y = _below(marks)
    for first in range(0, len(card.cuts), ACROSS):
        panels = [moved(_panel(card, number), column * (PANEL_MM + PAD_MM), y)
                  for column, number in enumerate(range(first, len(card.cuts))[:ACROSS])]
        marks += [Group(panel, f"cut-{first + at + 1}") for at, panel in enumerate(panels)]
        y = min(_below(panel) for panel in panels)
    marks.append(Path(np.array(((0.0, y), (wide, y))), FINE))
    marks += _lines(card.gaps, y - PAD_MM / 2, wide)
    foot = _below(marks)
    corners = np.array(((-PAD_MM, PAD_MM), (wide + PAD_MM, PAD_MM),
                        (wide + PAD_MM, foot), (-PAD_MM, foot)))
    return (Path(corners, FOLD, closed=True, name="card-frame"), Group(tuple(marks), "card"))


def _below(marks: Iterable[Mark]) -> float:
    """Where the next thing may start below ``marks``."""
    return bounds(marks).bottom - PAD_MM


def _head(card: Card, wide: float) -> tuple[Mark, ...]:
    y = -PLAIN_HEIGHT
    about = wrapped(card.about, wide, NOTE_HEIGHT, ON_LINES)
    rule = y - len(about) * LEADING_MM - PAD_MM / 2
    return (
        Text((0.0, y), shortened_name(card.title, wide, PLAIN_HEIGHT), PLAIN_HEIGHT, bold=True),
        *(Text((0.0, y - line * LEADING_MM), words, NOTE_HEIGHT)
          for line, words in enumerate(about, 1)),
        Path(np.array(((0.0, rule), (wide, rule))), THIN),
    )


def _panel(card: Card, number: int) -> tuple[Mark, ...]:
    """One cut, its upper left corner at the origin."""
    cut = card.cuts[number]
    told = f"cut {number + 1} of {len(card.cuts)}, " if len(card.cuts) > 1 else ""
    said = wrapped(f"{told}on {cut.on}", PANEL_MM, NOTE_HEIGHT, ON_LINES, bold=True)
    marks: list[Mark] = [
        Text((0.0, -NOTE_HEIGHT - line * LEADING_MM), words, NOTE_HEIGHT, bold=True)
        for line, words in enumerate(said)]
    top = -NOTE_HEIGHT - PAD_MM - (len(said) - 1) * LEADING_MM
    marks += moved(sketch(cut, number + 1), 0.0, top)
    marks += _table(card, cut, top - SKETCH_MM - PAD_MM / 2)
    marks += _lines(speed_words(card, cut), bounds(marks).bottom, PANEL_MM)
    marks += _lines(tuple(steps(card, cut)), bounds(marks).bottom - PAD_MM / 2, PANEL_MM, True)
    return tuple(marks)


def _table(card: Card, cut: CardCut, top: float) -> list[Mark]:
    marks: list[Mark] = []
    y = top
    for label, mm, inches in rows(card, cut):
        y -= LEADING_MM
        room = MM_AT - text_width(mm, NOTE_HEIGHT) - NOTE_HEIGHT / 2
        marks += [Text((0.0, y), shortened(label, room, NOTE_HEIGHT), NOTE_HEIGHT),
                  Text((MM_AT, y), mm, NOTE_HEIGHT, "right")]
        if inches:
            marks.append(Text((INCH_AT, y), inches, NOTE_HEIGHT, "right"))
    return marks


def _lines(
    said: Iterable[str], top: float, wide: float, boxes: bool = False
) -> list[Mark]:
    """Sentences under each other from ``top`` down, each with a box to check if need be."""
    marks: list[Mark] = []
    left = INDENT_MM if boxes else 0.0
    y = top
    for words in said:
        for index, part in enumerate(wrap_text(words, wide - left, NOTE_HEIGHT)):
            y -= LEADING_MM
            if boxes and index == 0:
                marks.append(_box(y - DESCENT_CAPS * NOTE_HEIGHT / 2))
            marks.append(Text((left, y), part, NOTE_HEIGHT))
    return marks


def _box(y: float) -> Path:
    top = y + BOX_MM
    corners = np.array(((0.0, y), (BOX_MM, y), (BOX_MM, top), (0.0, top)))
    return Path(corners, THIN, closed=True, name="check")
