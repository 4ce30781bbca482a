"""What there is of a piece's outside: its sides from edge to edge, and the faces of plain ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from coper.arrays import Floats
from coper.frame.outline import skin
from coper.frame.piece import Piece
from coper.frame.tube import REMEMBERED


class Surface(Protocol):
    """A piece of skin located by a clock in degrees and a share from 0 to 1."""

    def at(self, clock: Floats, share: Floats) -> Floats:
        """Points (..., 3) in mm of the frame; clock and share are broadcast."""

    def __hash__(self) -> int:
        """It is known again by its piece."""

    def station(self, clock: Floats, share: Floats) -> Floats:
        """Their positions (...,) in mm from the piece's start point."""


@dataclass(frozen=True, slots=True)
class Sides:
    """The sides of a piece: every generator from the edge at the start to that at the end."""

    piece: Piece

    def station(self, clock: Floats, share: Floats) -> Floats:
        """Positions (...,) in mm from the start point."""
        low, high = (end.edge_at(clock) for end in self.piece.ends)
        along: Floats = low + share * (high - low)
        return along

    def at(self, clock: Floats, share: Floats) -> Floats:
        """Points (..., 3) in mm of the frame."""
        return skin(self.piece, *np.broadcast_arrays(clock, self.station(clock, share)))


@dataclass(frozen=True, slots=True)
class EndFace:
    """The face of a plain end, taken as closed: a plug or a dropout fills it.

    Attributes
    ----------
    piece : Piece
    reach : float, mm
        Where along the tube the end is cut off.
    """

    piece: Piece
    reach: float

    def station(self, clock: Floats, share: Floats) -> Floats:
        """The same (...,) everywhere, mm."""
        return np.full(np.broadcast_shapes(np.shape(clock), np.shape(share)), self.reach)

    def at(self, clock: Floats, share: Floats) -> Floats:
        """Points (..., 3) in mm of the frame, at that share of the way out to the edge."""
        edge = skin(self.piece, clock, self.station(clock, np.zeros(())))
        middle = _middle(self)
        points: Floats = middle + share[..., None] * (edge - middle)
        return points


@lru_cache(maxsize=REMEMBERED)
def _middle(face: EndFace) -> Floats:
    """The middle (3,) of a face, mm: a search on it asks for it again and again."""
    across = skin(face.piece, np.array((0.0, 180.0)), np.full(2, face.reach))
    middle: Floats = across.mean(axis=0)
    return middle


def surfaces(piece: Piece) -> Iterator[Surface]:
    """The sides, and the faces of the ends that are cut off plain."""
    yield Sides(piece)
    yield from (EndFace(piece, end.reach) for end in piece.ends if end.cope is None)
