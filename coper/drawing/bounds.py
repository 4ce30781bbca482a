"""How much room marks take: the box round all of them, the rectangle of a text."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.letters import ASCENT_CAPS, DESCENT_CAPS, text_width
from coper.drawing.marks import Group, Hatch, Mark, Path, Text

_ROUNDING_MM: Final = 1e-9
"""A box this much over another's border still lies in it: rounding of a sum of coordinates."""

REMEMBERED: Final = 4096
"""Texts of which the place is kept: those of a drawing, most of which the next one has as well."""

_START: Final = {"left": 0.0, "middle": -0.5, "right": -1.0}
"""Where a text starts, in widths from its anchor."""

Leaf = Path | Text | Hatch


@dataclass(frozen=True, slots=True)
class Bounds:
    """An upright rectangle, mm.

    Attributes
    ----------
    left, bottom, right, top : float, mm
        Its four sides.
    """

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From side to side, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top, mm."""
        return self.top - self.bottom

    def holds(self, other: Bounds) -> bool:
        """Whether the other box lies wholly in this one."""
        return (
            other.left >= self.left - _ROUNDING_MM
            and other.bottom >= self.bottom - _ROUNDING_MM
            and other.right <= self.right + _ROUNDING_MM
            and other.top <= self.top + _ROUNDING_MM
        )


def leaves(marks: Iterable[Mark]) -> Iterator[Leaf]:
    """All marks that are no group, in the order they are drawn."""
    for mark in marks:
        if isinstance(mark, Group):
            yield from leaves(mark.marks)
        else:
            yield mark


def text_start(text: Text) -> tuple[float, float]:
    """The left end of a text's baseline, mm."""
    back = _START[text.anchor] * text_width(text.words, text.height, text.bold)
    turn = math.radians(text.turn)
    return text.at[0] + back * math.cos(turn), text.at[1] + back * math.sin(turn)


@lru_cache(maxsize=REMEMBERED)
def text_corners(text: Text) -> Floats:
    """The corners (4, 2) in mm of the rectangle that a text takes, its turn included."""
    width = text_width(text.words, text.height, text.bold)
    below, above = -DESCENT_CAPS * text.height, ASCENT_CAPS * text.height
    turn, (left, base) = math.radians(text.turn), text_start(text)
    cos, sin = math.cos(turn), math.sin(turn)
    return np.array([  # a page has hundreds, and each is asked often: no array but the answer
        (left + x * cos - y * sin, base + x * sin + y * cos)
        for x, y in ((0.0, below), (width, below), (width, above), (0.0, above))])


def bounds(marks: Iterable[Mark]) -> Bounds:
    """The least box round all marks, texts included; the width of lines is not counted."""
    points = [part for mark in leaves(marks) for part in _extent(mark)]
    if not points:
        raise ValueError("no marks, so no bounds")
    every = np.concatenate(points)
    return Bounds(*every.min(axis=0).tolist(), *every.max(axis=0).tolist())


def _extent(mark: Leaf) -> tuple[Floats, ...]:
    """Points (n, 2) in mm, in one array or several, whose bounds are the mark's."""
    match mark:
        case Path():
            return (mark.points,)
        case Text():
            return (text_corners(mark),)
        case Hatch():
            return mark.outline
