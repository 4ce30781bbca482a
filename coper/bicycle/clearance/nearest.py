"""The place of a piece that comes nearest to something, whatever the shapes of both."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.bicycle.bicycle import Point
from coper.bicycle.clearance.sides import Surface, surfaces
from coper.frame.piece import Piece
from coper.tolerances import TOUCH_MM

Distance = Callable[[Floats], Floats]
"""How far points (..., 3) of the frame are from something, (...,) mm; below 0 inside it."""

CLOCKS = 48
SHARES = 97
"""Places round and along a piece that are tried first: 5 mm apart on a stay."""

CANDIDATES = 4
"""Places that may be the nearest: a stay beside a tyre has two."""

TRIED = 9
"""Places that are then tried at a time either way in a window about each candidate."""

CLOSER = 3.0
"""The window shrinks to this part when its best place is not on its border."""

ROUNDS = 60
"""Windows at most; two dozen do."""

LEAST_WINDOW = 1e-9
"""The search ends when a window is this part of the first steps: 5 mm become 5e-9."""


@dataclass(frozen=True, slots=True)
class Nearest:
    """A place on a piece, and how far it is off.

    Attributes
    ----------
    gap : float, mm
        Below 0 where the piece runs into it, by how deep.
    along : float, mm
        From the piece's start point.
    clock : float, degrees
        The piece's own.
    point : (x, y, z), mm
    """

    gap: float
    along: float
    clock: float
    point: Point


def nearest_spot(piece: Piece, off: Distance) -> Nearest:
    """The place of ``piece`` where ``off`` is least."""
    return min((_nearest(surface, off) for surface in surfaces(piece)), key=lambda spot: spot.gap)


def grid() -> tuple[Floats, Floats]:
    """Even clocks (CLOCKS, 1) in degrees and shares (SHARES,)."""
    return (np.linspace(0.0, 360.0, CLOCKS, endpoint=False)[:, None],
            np.linspace(0.0, 1.0, SHARES))


def _nearest(surface: Surface, off: Distance) -> Nearest:
    least, clock, share = _closed_in(surface, off, *_lowest(surface, off))
    best = int(np.argmin(least))
    point = surface.at(clock[best:best + 1], share[best:best + 1])[0]
    along = float(surface.station(clock[best:best + 1], share[best:best + 1])[0])
    x, y, z = point.tolist()
    return Nearest(float(least[best]), along, float(clock[best] % 360), (x, y, z))


def _lowest(surface: Surface, off: Distance) -> tuple[Floats, Floats, Floats]:
    """The lowest hollows (k,) of ``off`` on the first grid: how low, clock and share."""
    clock, share = grid()
    value = off(surface.at(clock, share))
    walled = np.pad(value, ((0, 0), (1, 1)), constant_values=np.inf)
    hollow = np.ones(value.shape, dtype=bool)
    for turn in (-1, 0, 1):
        beside = np.roll(walled, turn, axis=0)
        for step in (0, 1, 2):
            hollow &= value <= beside[:, step:step + SHARES]
    found = np.flatnonzero(hollow)
    chosen = found[np.argsort(value.ravel()[found], kind="stable")[:CANDIDATES]]
    one, other = np.divmod(chosen, SHARES)
    return value.ravel()[chosen], clock[one, 0], share[other]


def _closed_in(
    surface: Surface, off: Distance, least: Floats, clock: Floats, share: Floats
) -> tuple[Floats, Floats, Floats]:
    """The same hollows, each followed in a window that moves and shrinks about its best place."""
    step, row = np.linspace(-1.0, 1.0, TRIED), np.arange(least.size)
    window = np.ones(least.size)
    for _ in range(ROUNDS):
        reach = window[:, None] * step
        clocks = clock[:, None] + 360.0 / CLOCKS * reach
        shares = np.clip(share[:, None] + reach / (SHARES - 1), 0.0, 1.0)
        found = off(surface.at(clocks[:, :, None], shares[:, None, :])).reshape(least.size, -1)
        at = found.argmin(axis=1)
        one, other = np.divmod(at, TRIED)
        better = found[row, at] < least - TOUCH_MM
        clock = np.where(better, clocks[row, one], clock)
        share = np.where(better, shares[row, other], share)
        least = np.where(better, found[row, at], least)
        border = (one % (TRIED - 1) == 0) | (other % (TRIED - 1) == 0)
        window = np.where(better & border, window, window / CLOSER)
        if window.max() < LEAST_WINDOW:
            break
    return least, clock, share
