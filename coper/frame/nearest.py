"""The place of a piece that comes nearest to something, whatever the shapes of both."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Point
from coper.frame.piece import Piece
from coper.frame.surface import EndFace, Surface, surfaces
from coper.search import FREE, Places, closed_in, hollows
from coper.tolerances import NEAREST

Distance = Callable[[Floats], Floats]
"""How far points (..., 3) of the frame are from something, (...,) mm; below 0 inside it."""

THINGS = 64
"""Distances that are kept of each kind of thing, so that the same one is known again."""

CLOCKS = 48
SHARES = 97
"""Places round and along a piece that are tried first: 5 mm apart on a stay."""


BETWEEN = 1.01
"""The corner of a box is 1 / cos(3.75 degrees) as far as the nearest of the clocks is at most."""


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


def nearest_spot(piece: Piece, off: Distance, even: bool = False) -> Nearest:
    """The place of ``piece`` where ``off`` is least.

    ``even`` is whether that changes between any two places by no more than they are apart, as the
    distance from a thing does: the face of an end that is too far away is then not searched.
    """
    sides, *faces = surfaces(piece)
    best = _nearest(sides, off)
    for face in faces:
        if even and isinstance(face, EndFace) and _least(face, off) > best.gap:
            continue
        best = min(best, _nearest(face, off), key=lambda spot: spot.gap)
    return best


def _least(face: EndFace, off: Distance) -> float:
    """What ``off`` is more than all over a face: from its middle on it falls by its reach at most.

    Between the clocks that are looked at its edge goes out by less than ``BETWEEN`` more.
    """
    edge, middle = (face.at(grid()[0], np.array((share,)))[:, 0] for share in (1.0, 0.0))
    reach = float(np.linalg.norm(edge - middle[0], axis=-1).max())
    return float(off(middle[:1])[0]) - BETWEEN * reach


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
