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

import numpy as np

from coper.drawing.bounds import Bounds, bounds, leaves
from coper.drawing.changes import clipped, moved, turned90
from coper.drawing.letters import DESCENT_CAPS
from coper.drawing.marks import FOLD, NOTE_HEIGHT, THIN, Anchor, Mark, Path, Text

_CROP_MM: Final = 4.0
"""Length of the two arms of a corner mark."""
_TRIANGLE_MM: Final = 2.0
"""Half the base, and the height, of a triangle on a join line."""
_LETTER_GAP_MM: Final = 0.6
"""From a join line to the letter beside it."""
_LETTERED: Final[tuple[tuple[float, int, Anchor], ...]] = ((0.2, 1, "left"), (0.8, -1, "right"))
"""Triangles on a join line: share of its length, side and anchor of the letters beside them."""
LEAST_OVERLAP_MM: Final = 2 * (NOTE_HEIGHT * (1 + DESCENT_CAPS) + _LETTER_GAP_MM)
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


def crop_marks(window: Bounds) -> tuple[Path, ...]:
    """An angle in each corner of a window, its arms on the window's border."""
    corners = (
        (window.left, window.bottom, 1, 1),
        (window.right, window.bottom, -1, 1),
        (window.right, window.top, -1, -1),
        (window.left, window.top, 1, -1),
    )
    reach_x, reach_y = min(_CROP_MM, window.width / 2), min(_CROP_MM, window.height / 2)
    return tuple(
        Path(np.array(((x + sx * reach_x, y), (x, y), (x, y + sy * reach_y))), THIN, name="crop")
        for x, y, sx, sy in corners
    )


def join_marks(
    tile: Tile, letters: dict[tuple[int, int], str], overlap: float
) -> tuple[Mark, ...]:
    """The lines along which a tile is laid on its neighbours.

    Both pages carry the same line at the same place of the drawing, lettered on each side with
    the page that goes on there, and triangles whose bases meet on it. On a tile narrower than
    its lettering they reach past its window.

    Parameters
    ----------
    tile
        The tile.
    letters
        The page letter of each place ``(column, row)`` that has a page.
    overlap : float, mm
        What neighbouring windows share.

    Returns
    -------
    tuple of Mark
        The marks, in the drawing's own coordinates.
    """
    window, own, half = tile.window, letters[tile.column, tile.row], overlap / 2
    marks: list[Mark] = []
    if right := letters.get((tile.column + 1, tile.row)):
        marks += _join_down(window.right - half, window, own, right)
    if left := letters.get((tile.column - 1, tile.row)):
        marks += _join_down(window.left + half, window, left, own)
    if below := letters.get((tile.column, tile.row + 1)):
        marks += _join_across(window.bottom + half, window, own, below)
    if above := letters.get((tile.column, tile.row - 1)):
        marks += _join_across(window.top - half, window, above, own)
    return tuple(marks)


def _join_across(y: float, window: Bounds, above: str, below: str) -> tuple[Mark, ...]:
    """A join line from side to side, between the pages ``above`` and ``below``."""
    return moved(_join(window.left, window.right, above, below), 0.0, y)


def _join_down(x: float, window: Bounds, left: str, right: str) -> tuple[Mark, ...]:
    """A join line from bottom to top, between the pages ``left`` and ``right``."""
    return moved(turned90(_join(window.bottom, window.top, left, right)), x, 0.0)


def _join(start: float, end: float, above: str, below: str) -> tuple[Mark, ...]:
    """A join line along the x axis, lettered near both ends."""
    ends = np.array(((start, 0.0), (end, 0.0)))
    marks: list[Mark] = [Path(ends, FOLD, name=f"join-{above}-{below}")]
    aside = _TRIANGLE_MM + _LETTER_GAP_MM
    under = -_LETTER_GAP_MM - NOTE_HEIGHT
    for share, side, anchor in _LETTERED:
        x = start + share * (end - start)
        marks.append(_triangles(x))
        marks.append(Text((x + side * aside, _LETTER_GAP_MM), above, NOTE_HEIGHT, anchor))
        marks.append(Text((x + side * aside, under), below, NOTE_HEIGHT, anchor))
    return tuple(marks)


def _triangles(x: float) -> Path:
    """Two triangles base to base: cut along the join line, each page keeps one."""
    size = _TRIANGLE_MM
    points = np.array(((x - size, 0.0), (x, -size), (x + size, 0.0), (x, size)))
    return Path(points, THIN, closed=True)
