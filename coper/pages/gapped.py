"""Lines that leave a gap at lettering, as drawings do (ISO 129: no figure stands on a line).

::

    ------  seat-tube  ------      the line under a word is left out, and a little to either side
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.bounds import Bounds, Leaf, bounds, leaves, text_start
from coper.drawing.changes import each
from coper.drawing.clip import shares_inside
from coper.drawing.hatch import hatch_strokes
from coper.drawing.letters import text_width
from coper.drawing.marks import Hatch, Mark, Path, Text

BESIDE_MM: Final = 0.6
ABOVE_MM: Final = 0.3
"""Left free before and behind a word, and over and under its capitals: a line that a word stands
on or hangs from stays whole."""


def gapped(marks: Sequence[Mark], kept: frozenset[str] = frozenset()) -> tuple[Mark, ...]:
    """The marks, every line and every stroke of a hatch cut where a word stands on it.

    What is filled stays whole, and so do paths whose name is one of ``kept``.
    """
    return gapped_at(marks, marks, kept)


def gapped_at(
    marks: Sequence[Mark], wordy: Sequence[Mark], kept: frozenset[str] = frozenset()
) -> tuple[Mark, ...]:
    """The same, at the words of other marks."""
    words = [_Word.of(mark) for mark in leaves(wordy) if isinstance(mark, Text)]

    def change(mark: Leaf) -> Iterator[Leaf]:
        if isinstance(mark, Text) or (isinstance(mark, Path) and (mark.fill or mark.name in kept)):
            yield mark
            return
        box = bounds((mark,))
        near = [word for word in words if _meet(word.box, box)]
        if not near:
            yield mark
        elif isinstance(mark, Path):
            yield from _cut_path(mark, near)
        else:
            yield from _cut_hatch(mark, near)

    return each(marks, change)


@dataclass(frozen=True, slots=True, eq=False)
class _Word:
    """A word's rectangle: a corner (2,), its two ways (2, 2), its size (2,) in mm, its bounds."""

    start: Floats
    axes: Floats
    size: Floats
    box: Bounds

    @staticmethod
    def of(text: Text) -> _Word:
        """The rectangle of a text's capitals, a little larger."""
        turn = np.radians(text.turn)
        axes = np.array(((np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))))
        room = np.array((BESIDE_MM, ABOVE_MM))
        size = np.array((text_width(text.words, text.height, text.bold), text.height)) + 2 * room
        start = np.asarray(text_start(text)) - room @ axes
        corners = start + np.array(((0, 0), (size[0], 0), size, (0, size[1]))) @ axes
        box = Bounds(*corners.min(axis=0).tolist(), *corners.max(axis=0).tolist())
        return _Word(start, axes, size, box)

    def under(self, strokes: Floats) -> list[tuple[float, float]]:
        """From where to where strokes (n, 2, 2) are in it, as shares; never if that is backward."""
        local = (strokes - self.start) @ self.axes.T
        enter, leave = shares_inside(
            local[:, 0], local[:, 1] - local[:, 0], np.zeros(2), self.size)
        return list(zip(enter.tolist(), leave.tolist(), strict=True))


def _meet(one: Bounds, other: Bounds) -> bool:
    return (one.left < other.right and other.left < one.right
            and one.bottom < other.top and other.bottom < one.top)


def _strokes_left(strokes: Floats, words: Sequence[_Word]) -> list[list[tuple[float, float]]]:
    """What of each stroke (n, 2, 2) is under no word, as shares of it."""
    left = [[(0.0, 1.0)] for _ in strokes]
    for word in words:
        for index, (enter, leave) in enumerate(word.under(strokes)):
            if enter < leave:
                left[index] = [part for low, high in left[index]
                               for part in ((low, min(high, enter)), (max(low, leave), high))
                               if part[0] < part[1]]
    return left


def _cut_path(path: Path, words: Sequence[_Word]) -> Iterator[Path]:
    points = np.concatenate((path.points, path.points[:1])) if path.closed else path.points
    strokes = np.stack((points[:-1], points[1:]), axis=1)
    left = _strokes_left(strokes, words)
    if all(parts == [(0.0, 1.0)] for parts in left):
        yield path
        return
    run: list[Floats] = []
    for (start, stop), parts in zip(strokes, left, strict=True):
        for low, high in parts:
            if run and low > 0.0:
                yield replace(path, points=np.array(run), closed=False)
                run = []
            run = [*(run or [start + low * (stop - start)]), start + high * (stop - start)]
        if run and not (parts and parts[-1][1] == 1.0):
            yield replace(path, points=np.array(run), closed=False)
            run = []
    if run:
        yield replace(path, points=np.array(run), closed=False)


def _cut_hatch(hatch: Hatch, words: Sequence[_Word]) -> Iterator[Leaf]:
    """The hatch, or its strokes where a word stands on it."""
    strokes = hatch_strokes(hatch).reshape(-1, 2, 2)
    left = _strokes_left(strokes, words)
    if all(parts == [(0.0, 1.0)] for parts in left):
        yield hatch
        return
    for (start, stop), parts in zip(strokes, left, strict=True):
        for low, high in parts:
            yield Path(start + np.array(((low,), (high,))) * (stop - start), hatch.pen)
