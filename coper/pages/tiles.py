"""A drawing larger than a page, cut into windows that overlap.

::

    +---------+--+---------+      two windows side by side: the strip between them
    |         |: |         |      is drawn on both, and the dotted join line runs
    |    A    |: |    B    |      down its middle
    |         |: |         |
    +---------+--+---------+
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Final

from coper.drawing.bounds import Bounds, bounds, leaves
from coper.drawing.changes import clipped
from coper.drawing.letters import DESCENT_CAPS
from coper.drawing.marks import NOTE_HEIGHT, Mark, Text

LETTER_GAP_MM: Final = 0.6
"""From a join line to the letter beside it."""
LEAST_OVERLAP_MM: Final = 2 * (NOTE_HEIGHT * (1 + DESCENT_CAPS) + LETTER_GAP_MM)
"""An overlap that has room for a letter on each side of the join line."""
_SLACK_MM: Final = 1e-6
"""A drawing this much larger than a window still needs only one: rounding of a sum."""


@dataclass(frozen=True, slots=True)
class Tile:
    """What one window shows of a drawing.

    Attributes
    ----------
    column, row : int
        Its place, counted from the left and from the top.
    window : Bounds
        What it covers of the drawing, mm.
    marks : tuple of Mark
        What lies in it, in the drawing's own coordinates.
    """

    column: int
    row: int
    window: Bounds
    marks: tuple[Mark, ...]


def tiles(marks: Sequence[Mark], width: float, height: float, overlap: float) -> tuple[Tile, ...]:
    """Cut a drawing into windows, row by row from the top left.

    Every text stands whole in each window that wholly holds it. One that no window holds is
    shifted by the least amount into the window that holds its middle; one larger than a window
    is made smaller as well. So no text is cut and none is lost. Windows without marks are left
    out.

    Parameters
    ----------
    marks
        The drawing.
    width, height : float, mm
        The largest window.
    overlap : float, mm
        What neighbouring windows share.

    Returns
    -------
    tuple of Tile
        The windows with something in them.
    """
    extent = bounds(marks)
    across = _spans(extent.left, extent.right, width, overlap)
    down = _spans(extent.bottom, extent.top, height, overlap)[::-1]
    windows = {
        (column, row): Bounds(left, bottom, right, top)
        for row, (bottom, top) in enumerate(down)
        for column, (left, right) in enumerate(across)
    }
    strays = _strays(marks, windows)
    cut = (
        Tile(*place, window, clipped(marks, window) + strays.get(place, ()))
        for place, window in windows.items()
    )
    return tuple(tile for tile in cut if tile.marks)


def windows_along(length: float, size: float, overlap: float) -> int:
    """How many windows of ``size`` that overlap a length takes; all mm."""
    return 1 if length <= size + _SLACK_MM else ceil(
        (length - overlap - _SLACK_MM) / (size - overlap))


def _spans(start: float, end: float, size: float, overlap: float) -> list[tuple[float, float]]:
    """Equal stretches, none longer than ``size``, that overlap and together run start to end."""
    length = end - start
    count = windows_along(length, size, overlap)
    if count == 1:
        return [(start, end)]
    step = (length - overlap) / count
    starts = [start + step * index for index in range(count)]
    ends = [begun + step + overlap for begun in starts[:-1]]
    return list(zip(starts, [*ends, end], strict=True))  # the end itself: a rounded one loses lines


def _strays(
    marks: Sequence[Mark], windows: dict[tuple[int, int], Bounds]
) -> dict[tuple[int, int], tuple[Text, ...]]:
    """The texts that no window holds, each shifted into one."""
    strays: dict[tuple[int, int], tuple[Text, ...]] = {}
    for mark in leaves(marks):
        if isinstance(mark, Text):
            extent = bounds((mark,))
            if not any(window.holds(extent) for window in windows.values()):
                place = min(windows, key=lambda at: _apart(windows[at], extent))
                strays[place] = (*strays.get(place, ()), _shifted(mark, windows[place]))
    return strays


def _apart(window: Bounds, extent: Bounds) -> float:
    """How far (mm) the middle of an extent is from the middle of a window, the longer way."""
    aside = abs(window.left + window.right - extent.left - extent.right)
    above = abs(window.bottom + window.top - extent.bottom - extent.top)
    return max(aside - window.width, above - window.height) / 2


def _shifted(text: Text, window: Bounds) -> Text:
    """The text, moved by the least amount into the window, and made smaller if it must be."""
    extent = bounds((text,))
    share = min(window.width / extent.width, window.height / extent.height, 1.0)
    small = replace(text, height=text.height * share)
    extent = bounds((small,))
    dx = _least(extent.left, extent.right, window.left, window.right)
    dy = _least(extent.bottom, extent.top, window.bottom, window.top)
    return replace(small, at=(small.at[0] + dx, small.at[1] + dy))


def _least(start: float, end: float, low: float, high: float) -> float:
    """The least shift that brings a stretch from outside into the stretch low to high."""
    return max(low - start, 0.0) + min(high - end, 0.0)
