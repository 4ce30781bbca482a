"""Words put where they hide least of a drawing, and never each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from coper.paper.marks import Anchor, Points, Text
from coper.paper.visit import Box, bounds

_CLEAR_MM = 0.6
"""Words keep this much from each other."""
_STEP_MM = 0.7
"""Lines are looked at in steps of this: shorter than a letter is wide."""


class Labels:
    """The words of one drawing, each put where it meets the fewest lines.

    Attributes
    ----------
    busy : (n, 2) float, mm
        Points of all lines.
    taken : list of Box
        Where words stand already.
    """

    def __init__(self, lines: Iterable[Points]) -> None:
        parts = [_dense(line) for line in lines]
        self.busy = np.concatenate(parts) if parts else np.empty((0, 2))
        self.taken: list[Box] = []

    def put(
        self, words: str, height: float, spots: Iterable[tuple[float, float]],
        anchor: Anchor = "middle",
    ) -> Text | None:
        """The words at the best of ``spots`` (mm, of their baseline), the first of equals.

        ``None`` where they would stand on other words at every spot.
        """
        best: tuple[int, Text, Box] | None = None
        for spot in spots:
            text = Text(spot, words, height, anchor)
            box = _grown(bounds((text,)))
            if any(_meet(box, other) for other in self.taken):
                continue
            hits = int(_inside(box, self.busy).sum())
            if best is None or hits < best[0]:
                best = (hits, text, box)
            if hits == 0:
                break
        if best is None:
            return None
        self.taken.append(best[2])
        return best[1]


def around(point: Points, reaches: Iterable[float], height: float) -> Iterator[tuple[float, float]]:
    """Spots round a point (2,): above, below, at both sides, each ``reach`` mm from it."""
    x, y = float(point[0]), float(point[1])
    for reach in reaches:
        yield x, y + reach
        yield x, y - reach - height
        yield x + reach, y - height / 2
        yield x - reach, y - height / 2


def _dense(line: Points) -> Points:
    """The points (n, 2) of a line, none further than a step from the next."""
    steps = np.hypot(*np.diff(line, axis=0).T)
    way = np.concatenate(([0.0], np.cumsum(steps)))
    at = np.linspace(0.0, way[-1], int(way[-1] / _STEP_MM) + 2)
    return np.stack([np.interp(at, way, line[:, axis]) for axis in (0, 1)], axis=-1)


def _grown(box: Box) -> Box:
    half = _CLEAR_MM / 2
    return Box(box.left - half, box.bottom - half, box.right + half, box.top + half)


def _meet(one: Box, other: Box) -> bool:
    return (one.left < other.right and other.left < one.right
            and one.bottom < other.top and other.bottom < one.top)


def _inside(box: Box, points: Points) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    x, y = points.T
    inside = (x > box.left) & (x < box.right) & (y > box.bottom) & (y < box.top)
    return np.asarray(inside)
