r"""The tubes that a frame is built up from: the ring that lies in one plane.

::

    on its right side: the middle plane        flat: the lowest level at which tubes close a ring

          o------o                                 o-----------o        _ uprights and what is
         / \      \   stays, racks and             |           |----   above come later, and what
        o---\------o  bridges come later           o-----------o       hangs on by one joint too
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import numpy as np

from coper.arrays import Floats
from coper.bench.assembly.joined import core, neighbours
from coper.frame.piece import Piece
from coper.frame.tube import Tube

IN_PLANE_MM = 1.0
"""An axis that strays less from a plane lies in it: on the bench nobody sets a tube truer."""


def main_ring(pieces: Sequence[Piece], flat: bool) -> frozenset[str]:
    """The labels of the tubes that are fitted first; none where no tubes close a ring.

    Of a frame that lies on its side the ring of its middle plane, of one that is built flat, or
    has no such ring, that of its lowest level.
    """
    if not flat and (found := _closed(pieces, _in_middle_plane)):
        return found
    levels = (_level_of(height) for height in _levels(pieces))
    return next((found for level in levels if (found := _closed(pieces, level))), frozenset())


def _closed(pieces: Sequence[Piece], lies: Callable[[Tube], bool]) -> frozenset[str]:
    return frozenset(core(neighbours([piece for piece in pieces if lies(piece.tube)])))


def _points(tube: Tube) -> Floats:
    """The points (n, 3) that a tube goes through."""
    return np.stack((tube.start, *tube.corners, tube.end))


def _in_middle_plane(tube: Tube) -> bool:
    """Whether a tube lies in the middle plane, or straight across it as a shell does."""
    across = _points(tube)[:, 1]
    return bool(np.abs(across).max() < IN_PLANE_MM
                or (tube.beside_y and abs(across.sum()) < IN_PLANE_MM))


def _levels(pieces: Iterable[Piece]) -> list[float]:
    """Heights at which tubes lie level, the lowest first."""
    return sorted({round(float(piece.tube.start[2]), 3) for piece in pieces
                   if np.ptp(_points(piece.tube)[:, 2]) < IN_PLANE_MM})


def _level_of(height: float) -> Callable[[Tube], bool]:
    return lambda tube: bool(np.abs(_points(tube)[:, 2] - height).max() < IN_PLANE_MM)
