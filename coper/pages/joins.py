r"""What tiles are cut and joined by: corner marks, and lettered lines.

::

        A  /\               the line is on both pages, at the same place of the drawing;
    -  -  <  >  -  -  -     cut along it, each page keeps one of the triangles
        B  \/
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.bounds import Bounds
from coper.drawing.changes import moved, turned90
from coper.drawing.letters import DESCENT_CAPS, text_width
from coper.drawing.marks import FOLD, NOTE_HEIGHT, THIN, Anchor, Mark, Path, Text
from coper.pages.ink import Ink
from coper.pages.tiles import LETTER_GAP_MM, Tile

_CROP_MM: Final = 4.0
"""Length of the two arms of a corner mark."""
_TRIANGLE_MM: Final = 2.0
"""Half the base, and the height, of a triangle on a join line."""
_LETTERED: Final[tuple[tuple[float, int, Anchor], ...]] = ((0.2, 1, "left"), (0.8, -1, "right"))
"""Triangles on a join line: the share of its length where they stand if that is clear, side and
anchor of the letters beside them."""
_BESIDE_MM: Final = LETTER_GAP_MM + NOTE_HEIGHT * (1 + DESCENT_CAPS)
"""How far letters reach from their line, to either side."""
_ENDS_MM: Final = 12.0
"""A line's ends, where others cross it and corner marks stand, carry no letters."""
_STEP_MM: Final = 0.5
"""Places along a line are tried so far apart."""


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
    tile: Tile, letters: dict[tuple[int, int], str], overlap: float, ink: Ink
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
    ink : Ink
        Of the whole drawing: the letters keep clear of it.

    Returns
    -------
    tuple of Mark
        The marks, in the drawing's own coordinates.
    """
    window, own, half = tile.window, letters[tile.column, tile.row], overlap / 2
    marks: list[Mark] = []
    if right := letters.get((tile.column + 1, tile.row)):
        marks += _join_down(window.right - half, window, own, right, ink)
    if left := letters.get((tile.column - 1, tile.row)):
        marks += _join_down(window.left + half, window, left, own, ink)
    if below := letters.get((tile.column, tile.row + 1)):
        marks += _join_across(window.bottom + half, window, own, below, ink)
    if above := letters.get((tile.column, tile.row - 1)):
        marks += _join_across(window.top - half, window, above, own, ink)
    return tuple(marks)


def _join_across(y: float, window: Bounds, above: str, below: str, ink: Ink) -> tuple[Mark, ...]:
    """A join line from side to side, between the pages ``above`` and ``below``."""
    up = np.array((0.0, y))

    def covered(lows: Floats, highs: Floats) -> Floats:
        return ink.under(lows + up, highs + up)

    return moved(_join(window.left, window.right, above, below, covered), 0.0, y)


def _join_down(x: float, window: Bounds, left: str, right: str, ink: Ink) -> tuple[Mark, ...]:
    """A join line from bottom to top, between the pages ``left`` and ``right``."""
    def covered(lows: Floats, highs: Floats) -> Floats:
        return ink.under(np.stack((x - highs[:, 1], lows[:, 0]), axis=-1),
                         np.stack((x - lows[:, 1], highs[:, 0]), axis=-1))

    return moved(turned90(_join(window.bottom, window.top, left, right, covered)), x, 0.0)


Covered = Callable[[Floats, Floats], Floats]
"""How much ink (c,) boxes (c, 2) cover, from lower left to upper right, the line on the x axis."""


def _join(
    start: float, end: float, above: str, below: str, covered: Covered
) -> tuple[Mark, ...]:
    """A join line along the x axis, lettered near both ends."""
    ends = np.array(((start, 0.0), (end, 0.0)))
    marks: list[Mark] = [Path(ends, FOLD, name=f"join-{above}-{below}")]
    wide = max(text_width(words, NOTE_HEIGHT) for words in (above, below))
    aside = _TRIANGLE_MM + LETTER_GAP_MM
    over, under = LETTER_GAP_MM + DESCENT_CAPS * NOTE_HEIGHT, -LETTER_GAP_MM - NOTE_HEIGHT
    taken: list[float] = []
    for share, side, anchor in _LETTERED:
        taken.append(_clear((start, end), share, side * (aside + wide), covered, taken))
        x = taken[-1]
        marks.append(_triangles(x))
        marks.append(Text((x + side * aside, over), above, NOTE_HEIGHT, anchor))
        marks.append(Text((x + side * aside, under), below, NOTE_HEIGHT, anchor))
    return tuple(marks)


def _clear(
    line: tuple[float, float], share: float, reach: float, covered: Covered,
    taken: Sequence[float],
) -> float:
    """Where on a line from start to end triangles cover the least ink with their letters.

    Of equal places it is the one nearest to ``share`` of the line, clear of those in ``taken``; the
    letters reach ``reach`` mm from there, below 0 to the left.
    """
    start, end = line
    left, right = min(reach, -_TRIANGLE_MM), max(reach, _TRIANGLE_MM)
    usual = start + share * (end - start)
    tried = np.arange(start + _ENDS_MM - left, end - _ENDS_MM - right, _STEP_MM)
    for other in taken:
        tried = tried[np.abs(tried - other) > 2 * (right - left)]
    tried = np.append(tried, usual)
    lows = np.stack((tried + left, np.full(tried.shape, -_BESIDE_MM)), axis=-1)
    highs = np.stack((tried + right, np.full(tried.shape, _BESIDE_MM)), axis=-1)
    best = np.lexsort((np.abs(tried - usual), covered(lows, highs)))[0]
    return float(tried[best])


def _triangles(x: float) -> Path:
    """Two triangles base to base: cut along the join line, each page keeps one."""
    size = _TRIANGLE_MM
    points = np.array(((x - size, 0.0), (x, -size), (x + size, 0.0), (x, size)))
    return Path(points, THIN, closed=True)
