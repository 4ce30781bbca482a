"""Lines that leave a gap at lettering, as drawings do (ISO 129: no figure stands on a line).

::

    ------  seat-tube  ------      the line under a word is left out, and a little to either side
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, TypeAlias

import numpy as np

from coper.arrays import Floats, Whole
from coper.drawing.bounds import REMEMBERED, Leaf, leaves, text_start
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
    words = [_word(mark) for mark in leaves(wordy) if isinstance(mark, Text)]
    lines = [mark for mark in leaves(marks) if not isinstance(mark, Text) and not (
        isinstance(mark, Path) and (mark.fill or mark.name in kept))]
    under = _under(lines, words)
    if not under:
        return each(marks, lambda mark: (mark,))
    cut = {id(lines[index]): gaps for index, gaps in under.items()}

    def change(mark: Leaf) -> Iterable[Leaf]:
        gaps = cut.get(id(mark))
        if gaps is None or isinstance(mark, Text):
            return (mark,)
        return _cut_path(mark, gaps) if isinstance(mark, Path) else _cut_hatch(mark, gaps)

    return each(marks, change)


Gaps: TypeAlias = dict[int, list[tuple[float, float]]]
"""Of some strokes of a line what is under no word, as shares of each, by their numbers."""


@dataclass(frozen=True, slots=True, eq=False)
class _Word:
    """A word's rectangle: a corner (2,), its two ways (2, 2), its size (2,) in mm, its bounds."""

    start: Floats
    axes: Floats
    size: Floats
    low: Floats
    high: Floats


@lru_cache(maxsize=REMEMBERED)
def _word(text: Text) -> _Word:
    """The rectangle of a text's capitals, a little larger."""
    turn = np.radians(text.turn)
    axes = np.array(((np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))))
    room = np.array((BESIDE_MM, ABOVE_MM))
    size = np.array((text_width(text.words, text.height, text.bold), text.height)) + 2 * room
    start = np.asarray(text_start(text)) - room @ axes
    corners = start + np.array(((0, 0), (size[0], 0), size, (0, size[1]))) @ axes
    return _Word(start, axes, size, corners.min(axis=0), corners.max(axis=0))


def _under(lines: Sequence[Leaf], words: Sequence[_Word]) -> dict[int, Gaps]:
    """What words leave of the strokes that they stand on, by the numbers of the lines.

    All pairs of a line and a word whose bounds meet are looked at together.
    """
    near = _near(lines, words)
    if not len(near):
        return {}
    own = {line: _strokes(lines[line]) for line in dict.fromkeys(near[:, 0].tolist())}
    counts = [len(own[line]) for line in near[:, 0].tolist()]
    strokes = np.concatenate([own[line] for line in near[:, 0].tolist()])
    start, axes, size = (np.stack([getattr(word, name) for word in words])[near[:, 1]].repeat(
        counts, axis=0) for name in ("start", "axes", "size"))
    local = (strokes - start[:, None]) @ axes.transpose(0, 2, 1)
    enter, leave = shares_inside(local[:, 0], local[:, 1] - local[:, 0], np.zeros(2), size)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    line = near[:, 0].repeat(counts)
    hit = np.flatnonzero(enter < leave)
    found: dict[int, Gaps] = defaultdict(lambda: defaultdict(lambda: [(0.0, 1.0)]))
    for of, stroke, begins, ends in zip(
            line[hit].tolist(), (hit - first[hit]).tolist(), enter[hit].tolist(),
            leave[hit].tolist(), strict=True):
        gaps = found[of]
        gaps[stroke] = [part for low, high in gaps[stroke]
                        for part in ((low, min(high, begins)), (max(low, ends), high))
                        if part[0] < part[1]]
    return found


def _near(lines: Sequence[Leaf], words: Sequence[_Word]) -> Whole:
    """Which line (k, 0) and which word (k, 1) have bounds that meet."""
    if not lines or not words:
        return np.empty((0, 2), dtype=np.int64)
    every = [mark.points if isinstance(mark, Path) else np.concatenate(mark.outline)
             for mark in lines if not isinstance(mark, Text)]
    first = np.cumsum([0, *map(len, every[:-1])])
    points = np.concatenate(every)
    low, high = np.minimum.reduceat(points, first), np.maximum.reduceat(points, first)
    lows, highs = np.stack([word.low for word in words]), np.stack([word.high for word in words])
    return np.argwhere(((lows < high[:, None]) & (low[:, None] < highs)).all(axis=-1))


def _strokes(line: Leaf) -> Floats:
    """The strokes (n, 2, 2) of a line or of a hatch, mm."""
    if isinstance(line, Hatch):
        return hatch_strokes(line).reshape(-1, 2, 2)
    assert isinstance(line, Path)
    points = np.concatenate((line.points, line.points[:1])) if line.closed else line.points
    return np.stack((points[:-1], points[1:]), axis=1)


def _cut_path(path: Path, gaps: Gaps) -> Iterator[Path]:
    """The runs of a path that are left."""
    strokes = _strokes(path)
    steps = strokes[:, 1] - strokes[:, 0]
    ends = strokes[:, 0] + steps
    run: list[Floats] = []
    done = 0
    for stroke in (*sorted(gaps), len(strokes)):
        if stroke > done:
            run += [*(() if run else (strokes[done, :1],)), ends[done:stroke]]
        parts = gaps[stroke] if stroke < len(strokes) else []
        for low, high in parts:
            if run and low > 0.0:
                yield _line(run, path)
                run = []
            start = strokes[stroke, 0]
            run += [*(() if run else ((start + low * steps[stroke])[None],)),
                    (start + high * steps[stroke])[None]]
        if run and not (parts and parts[-1][1] == 1.0):
            yield _line(run, path)
            run = []
        done = stroke + 1


def _line(run: Sequence[Floats], path: Path) -> Path:
    """A run of points of a path, as it is drawn."""
    return Path(np.concatenate(run), path.pen, False, path.fill, path.name)


def _cut_hatch(hatch: Hatch, gaps: Gaps) -> Iterator[Path]:
    """The strokes of a hatch that words stand on."""
    for number, (start, stop) in enumerate(_strokes(hatch)):
        for low, high in gaps.get(number, [(0.0, 1.0)]):
            yield Path(start + np.array(((low,), (high,))) * (stop - start), hatch.pen)
