"""The lowest places of curves: a grid, then windows that shrink about the best of it.

::

    value |  .                .      grid     . . . .   hollows: no neighbour is lower
          |     .          .         window   |-'-'-|   as many places again about a hollow
          |        .  .  .           next one  |'|      a few steps wide, about the best of them
          +-------------------- x

Many searches run at once: arrays have one row a search (m). The highest place of a curve is the
lowest of its negative. Knows no tube; how many places are tried, and how closely, stands in
:mod:`coper.tolerances`.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats, Whole
from coper.tolerances import CHANGED, EDGE, EVEN_MM, Closing, Narrowing

Curves = Callable[..., Floats]
"""The values of m curves, ``nan`` where there is none: of places (m, n) with one axis; with two, of
(m, 1, n) on the first and (m, d, n) on the second, a value (m, d, n) for each pair."""

Flags = NDArray[np.bool_]
Labels = TypeVar("Labels", Whole, Flags)

Bounds = tuple[float, float]
"""Between which places of an axis a search stays."""

FREE: Bounds = (-math.inf, math.inf)


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Up to k places (m, k) of each of m curves, one of which may be its lowest.

    Attributes
    ----------
    value : (m, k) float
        ``inf`` where there is none.
    at : tuple of (m, k) float
        Where, one array an axis.
    """

    value: Floats
    at: tuple[Floats, ...]

    @property
    def least(self) -> Floats:
        """The lowest value (m,) of each curve."""
        least: Floats = self.value.min(axis=1)
        return least

    @property
    def first(self) -> tuple[Floats, ...]:
        """Where (m,) on each axis it is: of places that are even, the first."""
        column = (self.value <= self.value.min(axis=1, keepdims=True) + EVEN_MM).argmax(axis=1)
        row = np.arange(column.size)
        return tuple(at[row, column] for at in self.at)

    def of(self, chosen: Whole) -> Places:
        """The places of some of the curves, their numbers (j,) given."""
        return Places(self.value[chosen], tuple(at[chosen] for at in self.at))

    def on(self, value: Curves) -> Places:
        """The same places (m, k) with their values on other curves."""
        single = tuple(at[..., None] for at in self.at)
        return Places(_asked(value, single)[..., 0], self.at)


def hollows(grid: Floats, wraps: Sequence[bool], how: Closing) -> tuple[Whole, ...]:
    """The cells of a grid (m, n) or (m, n, p) that are no higher than any neighbour.

    Parameters
    ----------
    grid
        ``inf`` where there is no value.
    wraps
        Of each axis whether its last cell is the neighbour of its first.
    how
        At most ``how.kept`` of each row, the lowest; of equal ones the first. All that the lowest
        is not better than by more than ``how.better`` is equal to it.

    Returns
    -------
    index : tuple of (m, k) int
        One array an axis, in the grid's order. A row with fewer hollows than another has other
        cells besides.
    """
    rows, shape = len(grid), grid.shape[1:]
    flat = grid.reshape(rows, -1)
    level = np.maximum(flat, flat.min(axis=1, keepdims=True) + how.better).reshape(grid.shape)
    padded = level
    for axis, wrap in enumerate(wraps, 1):
        ends = (padded.take([-1], axis), padded.take([0], axis))
        if not wrap:
            ends = (np.full_like(ends[0], np.inf), np.full_like(ends[1], np.inf))
        padded = np.concatenate((ends[0], padded, ends[1]), axis=axis)
    hollow = np.isfinite(grid)
    for shift in itertools.product((0, 1, 2), repeat=len(shape)):
        beside = padded[:, *(slice(s, s + n) for s, n in zip(shift, shape, strict=True))]
        hollow &= level <= beside
    ranked = np.where(hollow, level, np.inf).reshape(rows, -1)
    count = max(1, min(how.kept, int(hollow.reshape(rows, -1).sum(axis=1).max())))
    if count == 1:
        chosen = ranked.argmin(axis=1)[:, None]
    else:
        chosen = np.sort(np.argsort(ranked, axis=1, kind="stable")[:, :count], axis=1)
    return _unravelled(chosen, shape)


def _unravelled(cells: Whole, shape: Sequence[int]) -> tuple[Whole, ...]:
    """The places (...,) on each axis of cells (...,) of a grid that were counted through it.

    Flat for numpy: where the last axis is of length 1, its 2.4 answers wrongly beyond the first
    8192 rows.
    """
    flat = np.unravel_index(cells.ravel(), tuple(shape))
    return tuple(one.reshape(cells.shape) for one in flat)


def closed_in(
    value: Curves, near: Places, windows: Sequence[Floats | float], bounds: Sequence[Bounds],
    how: Closing,
) -> Places:
    """The same places, each followed to the lowest one near it.

    Parameters
    ----------
    value
        The curves.
    near
        Where to begin, with their values.
    windows : one an axis, a number or (m, k)
        How far either way is looked at first. A window whose best place is better and on its
        border moves there, else the next one is smaller.
    bounds
        One pair an axis.
    how
        A place is taken only where it is better by more than ``how.better``.
    """
    least, at = near.value, near.at
    going = np.arange(least.shape[1])
    sizes = [np.broadcast_to(np.asarray(window, dtype=np.float64), least.shape)
             for window in windows]
    share = 1.0
    for number in range(1, how.rounds + 1):
        tried = tuple(_window(one[:, going], size, count, bound) for one, size, count, bound
                      in zip(at, sizes, how.tried, bounds, strict=True))
        found = _asked(value, tried)
        here, before = found.min(axis=2), least
        better = moves = here < least[:, going] - how.better
        if better.any():
            places = _unravelled(found.argmin(axis=2)[..., None], how.tried)
            there = tuple(np.take_along_axis(one, place, 2)[..., 0]
                          for one, place in zip(tried, places, strict=True))
            at = tuple(_changed(old, going, better, new)
                       for new, old in zip(there, at, strict=True))
            least = _changed(least, going, better, here)
            moves = better & _on_border(there, places, how.tried, bounds)
        share = share if moves.any() else share / how.closer[0]
        if share < how.to or _settled(least, before, number, how):
            break
        with np.errstate(invalid="ignore"):
            differ = found.max(axis=2) - here
        followed = (moves | _hopeful(differ, least, going, how)).any(axis=0)
        if not followed.any():
            break
        sizes = [np.where(moves, size, (one[..., -1] - one[..., 0]) / (2 * closer))[:, followed]
                 for size, one, closer in zip(sizes, tried, how.closer, strict=True)]
        going = going[followed]
    return Places(least, at)


def _changed(old: Floats, columns: Whole, chosen: Flags, new: Floats) -> Floats:
    """The array (m, k), with ``new`` (m, j) where ``chosen`` (m, j) in those ``columns`` (j,)."""
    if columns.size == old.shape[1]:
        return np.where(chosen, new, old)
    changed = old.copy()
    changed[:, columns] = np.where(chosen, new, old[:, columns])
    return changed


def _hopeful(differ: Floats, least: Floats, going: Whole, how: Closing) -> Flags:
    """Whether (m, j) a smaller window may yet lead to the lowest place, or to one even with it.

    Between its places a curve falls below the best of them by less than the window's values
    ``differ`` (m, j): a flat window has no better place, and one that is too high no lowest. Of a
    window without values (``nan``) nothing is known.
    """
    too_high = least[:, going] - differ > least.min(axis=1, keepdims=True) + EVEN_MM
    hopeful: Flags = ~(too_high | (differ <= max(how.better, how.settled)))
    return hopeful


def _window(at: Floats, size: Floats, count: int, bounds: Bounds) -> Floats:
    """So many places (m, k, n) about each of (m, k), ``size`` (m, k) either way within bounds."""
    if bounds is FREE:
        return at[..., None] + size[..., None] * _even(-1.0, count)
    low, high = np.maximum(at - size, bounds[0]), np.minimum(at + size, bounds[1])
    return low[..., None] + (high - low)[..., None] * _even(0.0, count)


@lru_cache(maxsize=16)
def _even(low: float, count: int) -> Floats:
    """So many even places (count,) from ``low`` to 1."""
    return np.linspace(low, 1.0, count)


def _on_border(
    there: Sequence[Floats], places: Sequence[Whole], tried: Sequence[int], bounds: Sequence[Bounds]
) -> Flags:
    """Whether (m, k) the best place is on its window's border, and not on the axis's end."""
    border = np.zeros(there[0].shape, dtype=bool)
    for at, place, count, (low, high) in zip(there, places, tried, bounds, strict=True):
        border |= (place[..., 0] % (count - 1) == 0) & (at > low) & (at < high)
    return border


def _settled(least: Floats, before: Floats, number: int, how: Closing) -> bool:
    """Whether enough windows were tried, the last making no lowest of (m, k) much lower."""
    if how.sure is None or number < how.sure:
        return False
    return not (least.min(axis=1) < before.min(axis=1) - how.settled).any()


def _asked(value: Curves, tried: tuple[Floats, ...]) -> Floats:
    """Values (m, k, n) or (m, k, n * p) of the places (m, k, n) and (m, k, p) of each window."""
    rows, kept, count = tried[0].shape
    if len(tried) == 1:
        found = value(tried[0].reshape(rows, -1)).reshape(rows, kept, count)
    else:
        second = np.repeat(np.swapaxes(tried[1], 1, 2), count, axis=2)
        found = value(tried[0].reshape(rows, 1, -1), second)
        found = found.reshape(rows, -1, kept, count).transpose(0, 2, 3, 1).reshape(rows, kept, -1)
    return none_inf(found)


def none_inf(found: Floats) -> Floats:
    """Values (...,), ``inf`` for those that are ``nan``."""
    return np.where(np.isnan(found), np.inf, found)


def neighbour_reach(grid: Floats, period: float) -> Floats:
    """From each place (n,) of a grid once round to the further one of its two neighbours."""
    ahead = np.diff(grid, append=grid[0] + period)
    return np.maximum(ahead, np.roll(ahead, 1))


def lowest(value: Curves, grid: Floats, how: Closing) -> Places:
    """The lowest places (m, k) of m curves on even places (n,), closed in on between those."""
    found = none_inf(value(grid[None]))
    at, = hollows(found, (False,), how)
    near = Places(np.take_along_axis(found, at, 1), (grid[at],))
    ends = (float(grid[0]), float(grid[-1]))
    return closed_in(value, near, (float(grid[1] - grid[0]),), (ends,), how)


def lowest_round(
    curve: Callable[[Floats], Floats], clock: Floats, known: Floats | None = None
) -> tuple[float, float]:
    """The clock (degrees) and the value (mm) where one curve is lowest.

    The best of ``clock`` (n,), which rise once round, is refined between its neighbours. Of equal
    ones the first is taken, and a refined one only where it is better by more than ``EVEN_MM``, so
    that symmetric joints answer with round clocks. ``known`` (n,) is the curve at ``clock`` where
    the caller has it.
    """
    grid = none_inf(curve(clock) if known is None else known)
    best = int((grid <= grid.min() + EVEN_MM).argmax())
    reach = float(neighbour_reach(clock, 360.0)[best])
    near = Places(grid[best].reshape(1, 1), (clock[best].reshape(1, 1),))
    found = closed_in(lambda at: curve(at[0])[None], near, (reach,), (FREE,), EDGE)
    return float(found.first[0][0] % 360), float(found.least[0])


def changes(
    label: Callable[[Floats], Labels], low: Floats, high: Floats, before: Labels, after: Labels,
    how: Narrowing = CHANGED,
) -> tuple[Floats, Floats, Labels]:
    """The two sides (...,), ever closer, of a change of label between ``low`` and ``high`` (...,).

    Parameters
    ----------
    label
        The labels (..., n) of places (..., n) between each low and high.
    low, high
        Where to begin.
    before, after
        The labels (...,) there, which differ.
    how
        How closely.

    Returns
    -------
    left, right, beyond
        The left side has the label of ``low``, the right one has not: its own is ``beyond``.
    """
    left, right, beyond = low, high, after
    shares = np.arange(1, how.parts) / how.parts
    for _ in range(how.rounds):
        tried = left[..., None] + (right - left)[..., None] * shares
        found = label(tried)
        other = found != before[..., None]
        changed = other.any(axis=-1)
        first = np.where(changed, other.argmax(axis=-1), how.parts - 1)[..., None]
        places = np.concatenate((left[..., None], tried, right[..., None]), axis=-1)
        labels = np.concatenate((found, beyond[..., None]), axis=-1)
        left, right, beyond = (np.take_along_axis(places, first, -1)[..., 0],
                               np.take_along_axis(places, first + 1, -1)[..., 0],
                               np.take_along_axis(labels, first, -1)[..., 0])
    return left, right, beyond
