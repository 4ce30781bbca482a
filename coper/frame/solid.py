"""What a piece fills: a tube is its own outside, a plate is its slab."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from coper.frame.piece import Piece
from coper.frame.tube import REMEMBERED, Tube
from coper.shapes.box import Box
from coper.shapes.plate import Plate


@lru_cache(maxsize=REMEMBERED)  # the same box each time, so that what is known of it can be kept
def solid(piece: Piece) -> Piece | None:
    """The piece as what is there: a plate as the box that its width and thickness make.

    ``None`` of a plate whose width is not known. Along the piece nothing moves.
    """
    tube, shape = piece.tube, piece.tube.shape
    if not isinstance(shape, Plate):
        return piece
    if shape.width is None:
        return None
    behind = -shape.thickness / 2 * tube.pose.axes[1]
    slab = Tube(Box(shape.width, shape.thickness), tube.start + behind, tube.end + behind,
                tube.name, tube.side, tube.turn, tube.existing)
    return replace(piece, tube=slab)


def solids(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """All that are known; plates without a width are left out."""
    return tuple(one for piece in pieces if (one := solid(piece)) is not None)
