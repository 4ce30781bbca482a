"""The place of a piece that comes nearest to something, whatever the shapes of both."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Point
from coper.frame.piece import Piece
from coper.frame.surface import Surface, surfaces
from coper.search import FREE, Places, closed_in, hollows
from coper.tolerances import NEAREST

Distance = Callable[[Floats], Floats]
"""How far points (..., 3) of the frame are from something, (...,) mm; below 0 inside it."""

THINGS = 64
"""Distances that are kept of each kind of thing, so that the same one is known again."""

CLOCKS = 48
SHARES = 97
"""Places round and along a piece that are tried first: 5 mm apart on a stay."""


@dataclass(frozen=True, slots=True)
class Nearest:
    """A place on a piece, and its gap to something.

    Attributes
    ----------
    gap : float, mm
        Below 0 where the piece runs into it: the depth of the overlap.
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
    def value(clock: Floats, share: Floats) -> Floats:
        """Gaps (...,) in mm at clocks in degrees and shares, broadcast."""
        return off(surface.at(clock, share))

    clocks, shares = grid()
    found = value(clocks, shares)
    one, other = hollows(found[None], (True, False), NEAREST)
    near = Places(found[one, other], (clocks[one, 0], shares[other]))
    near = closed_in(value, near, (360.0 / CLOCKS, 1.0 / (SHARES - 1)), (FREE, (0.0, 1.0)), NEAREST)
    best = int(near.value[0].argmin())
    clock, share = (at[0, best:best + 1] for at in near.at)
    x, y, z = surface.at(clock, share)[0].tolist()
    return Nearest(float(near.value[0, best]), float(surface.station(clock, share)[0]),
                   float(clock[0] % 360), (x, y, z))
