"""Which distances between marks to check with a tape, and what they measure."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Whole

FEW = 6
"""Up to this many marks every distance is given, 15 at most; beyond, two or three per mark."""

IN_LINE_MM = 1.0
"""Marks that stray less from one straight line make no triangle that a tape could check."""

TAPED_MM = 100.0
"""A tape reads poorly over less: such a distance counts by its share of this."""

WAYS, MANY, WITHIN_MM = 32, 1000, 1e-6
"""Of more points than MANY those that are WITHIN_MM and more inside of the furthest in so many
directions are left out before a hull is taken."""

MarkPair = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Diagonal:
    """The distance on the table between two marks, by their numbers; mm."""

    one: int
    other: int
    length: float


def diagonals(marks: Floats) -> tuple[Diagonal, ...]:
    """Distances that fix every one of ``marks`` (n, 2), which are numbered from 1.

    Of many marks three are the corners of a large triangle, whose sides are taped; every other
    one is taped from the two corners that it is best seen from: derived, an error of the tapes
    grows by 1 over the sine of the angle at which they meet.
    """
    return tuple(
        Diagonal(one + 1, other + 1, math.dist(marks[one], marks[other]))
        for one, other in sorted(_pairs(marks)))


def _pairs(marks: Floats) -> set[MarkPair]:
    """The pairs of marks (n, 2), by their index, that are to be taped."""
    count = len(marks)
    if count <= FEW:
        return {(one, other) for other in range(count) for one in range(other)}
    corners = _corners(marks)
    rest = [index for index in range(count) if index not in corners]
    pairs = {_ordered(one, other) for one in corners for other in corners if one != other}
    for index in rest:
        pairs |= {_ordered(index, corner) for corner in _best_two(marks, corners, index)}
    return pairs


def _ordered(one: int, other: int) -> MarkPair:
    return min(one, other), max(one, other)


def _corners(marks: Floats) -> tuple[int, ...]:
    """Of marks (n, 2) in mm the two furthest apart, and the one furthest from their line.

    Without the third where all are in that line.
    """
    rim = hull(marks)
    at = marks[rim]
    apart = np.hypot(*np.moveaxis(at[:, None] - at[None], -1, 0))
    one, other = np.unravel_index(int(apart.argmax()), apart.shape)
    along = (at[other] - at[one]) / apart[one, other]
    aside = np.abs((at - at[one]) @ np.array((-along[1], along[0])))
    ends = rim[one], rim[other]
    return ends if aside.max() < IN_LINE_MM else (*ends, rim[int(aside.argmax())])


def _best_two(marks: Floats, corners: tuple[int, ...], index: int) -> MarkPair:
    """The two corners from which the tapes meet best at one of the marks (n, 2), mm."""
    away = marks[list(corners)] - marks[index]
    reach = np.hypot(*away.T)  # the root of the squares would be 0 between the closest marks
    ways = away / reach[:, None]
    choices = [(one, other) for other in range(len(corners)) for one in range(other)]

    def worth(pair: MarkPair) -> float:
        one, other = ways[pair[0]], ways[pair[1]]
        sine = abs(float(one[0] * other[1] - one[1] * other[0]))
        return sine * min(float(reach[list(pair)].min()) / TAPED_MM, 1.0)

    one, other = max(choices, key=worth)
    return corners[one], corners[other]


def hull(points: Floats) -> list[int]:
    """Indices of the corners of the least convex outline round ``points`` (n, 2), in turn.

    Andrew's monotone chain (Information Processing Letters 9, 1979, p. 216; from memory).
    """
    some = _outer(points)
    indices: list[int] = some[_rim(points[some])].tolist()
    return indices


def _rim(points: Floats) -> list[int]:
    order = np.lexsort((points[:, 1], points[:, 0])).tolist()
    plain = points.tolist()  # numbers of the language's own: the chain looks at one at a time
    return [*_chain(plain, order)[:-1], *_chain(plain, order[::-1])[:-1]]


def _outer(points: Floats) -> Whole:
    """The indices (k,) of all that may be on the hull: not what is well within some corners of it.

    Those are the furthest in WAYS directions: of the thousands of points of a skin few are left
    (Akl and Toussaint, Information Processing Letters 7, 1978, p. 219; from memory).
    """
    every = np.arange(len(points))
    if len(points) <= MANY:
        return every
    turn = np.arange(WAYS) * (2 * math.pi / WAYS)
    far = points[np.unique((points @ np.stack((np.cos(turn), np.sin(turn)))).argmax(axis=0))]
    corners = far[_rim(far)]
    if len(corners) < 3:
        return every
    within = np.ones(len(points), dtype=bool)
    for corner, following in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        side = (following - corner) / math.dist(following, corner)
        within &= (points - corner) @ np.array((-side[1], side[0])) > WITHIN_MM
    return every[~within]


def _chain(points: list[list[float]], order: list[int]) -> list[int]:
    chain: list[int] = []
    for index in order:
        while len(chain) > 1 and _turn(points[chain[-2]], points[chain[-1]], points[index]) <= 0:
            chain.pop()
        chain.append(index)
    return chain


def _turn(first: list[float], second: list[float], third: list[float]) -> float:
    """Above 0 where the way through three points turns left."""
    return ((second[0] - first[0]) * (third[1] - first[1])
            - (second[1] - first[1]) * (third[0] - first[0]))
