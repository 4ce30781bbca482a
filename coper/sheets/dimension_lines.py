"""Dimension lines: a length between two points, and an angle, each a group under its own name.

::

      |          |            / arc
      |<--words->|           /-. words
      o          o          o---'----
"""

from __future__ import annotations

from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.marks import FINE, GAP_MM, PLAIN_HEIGHT, THIN, Group, Mark, Path, Text

HEAD_MM: Final = 2.5
"""Length of an arrow head."""

SLENDER: Final = 0.18
"""Half an arrow head's width, as a share of its length: a head of about 20 degrees."""

PAST_MM: Final = 1.5
"""An extension line goes on past the dimension line by this (ISO 129, from memory)."""

ROOM_MM: Final = 2.5 * HEAD_MM
"""Between nearer points the heads point inward from outside."""

ARC_STEPS: Final = 24


def length_mark(start: Floats, end: Floats, aside: float, words: str, name: str) -> Group:
    """How far two points (2,) in mm are apart, on a line ``aside`` mm to the left of their own."""
    way = end - start
    size = float(np.hypot(*way))
    along = way / size if size > 0 else np.array((1.0, 0.0))
    left = np.array((-along[1], along[0]))
    one, other = start + aside * left, end + aside * left
    marks: list[Mark] = []
    if aside:
        past = np.sign(aside) * PAST_MM * left
        marks += [Path(np.stack((point, foot + past)), FINE)
                  for point, foot in ((start, one), (end, other))]
    inside = size >= ROOM_MM
    tail = along * (0.0 if inside else 2 * HEAD_MM)
    marks += [Path(np.stack((one - tail, other + tail)), THIN),
              _head(one, along if inside else -along), _head(other, -along if inside else along),
              _words(one, other, words)]
    return Group(tuple(marks), name)


def angle_mark(
    at: Floats, first: float, last: float, radius: float, words: str, name: str
) -> Group:
    """The angle at a point (2,), from the direction ``first`` to ``last`` in degrees."""
    turn = np.radians(np.linspace(first, last, ARC_STEPS))
    arc = at + radius * np.stack((np.cos(turn), np.sin(turn)), axis=-1)
    middle = np.radians((first + last) / 2)
    place = at + (radius + 2 * GAP_MM + PLAIN_HEIGHT) * np.array((np.cos(middle), np.sin(middle)))
    level = at + 1.2 * radius * np.array((np.cos(turn[0]), np.sin(turn[0])))
    return Group((Path(np.stack((at, level)), FINE), Path(arc, THIN),
                  words_at(place, words)), name)


def spot_mark(
    at: Floats, radius: float, words: str, by: tuple[float, float], name: str
) -> Group:
    """A circle round a point (2,) in mm, for what is measured across the view.

    The middle of its words stands ``by`` mm to the right and up from it.
    """
    turn = np.linspace(0.0, 2 * np.pi, ARC_STEPS, endpoint=False)
    ring = at + radius * np.stack((np.cos(turn), np.sin(turn)), axis=-1)
    return Group((Path(ring, THIN, closed=True), words_at(at + np.array(by), words)), name)


def words_at(at: Floats, words: str) -> Text:
    """Words with their middle at a point (2,), mm."""
    x, y = at.tolist()
    return Text((x, y - PLAIN_HEIGHT / 2), words, PLAIN_HEIGHT, "middle")


def _head(tip: Floats, way: Floats) -> Path:
    """An arrow head at ``tip`` (2,) that lies towards the unit direction ``way`` (2,) from it."""
    across = SLENDER * np.array((-way[1], way[0]))
    return Path(np.stack((tip, tip + HEAD_MM * (way + across), tip + HEAD_MM * (way - across))),
                THIN, closed=True, fill=True)


def _words(one: Floats, other: Floats, words: str) -> Text:
    """Over the middle of the line, read from below or from the right."""
    way = other - one
    turn = float(np.degrees(np.arctan2(way[1], way[0])))
    turn = 90.0 - (90.0 - turn) % 180.0  # never upside down
    up = np.array((-np.sin(np.radians(turn)), np.cos(np.radians(turn))))
    x, y = ((one + other) / 2 + GAP_MM * up).tolist()
    return Text((x, y), words, PLAIN_HEIGHT, "middle", turn)
