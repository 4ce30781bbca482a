"""Tubes that run through each other though neither seats on the other: something was not said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from coper.arrays import Floats, Point
from coper.frame.nearest import Distance, Nearest, nearest_spot
from coper.frame.pairs import Pairs
from coper.frame.piece import Piece
from coper.frame.solid import solids
from coper.frame.surface import surfaces
from coper.frame.tube import REMEMBERED
from coper.shapes.plate import Plate
from coper.tolerances import CLASH_MM

_KNOWN: Pairs[Nearest | None] = Pairs()
"""How deep two pieces run into each other, and where."""

BOXED = 24
"""Clocks and stations at which a piece's box in the frame is taken."""


SLEEVED = 97
"""Stations at which a piece is looked at for whether it is in another's bore."""


@dataclass(frozen=True, slots=True, eq=False)
class Clash:
    """Two pieces that run through each other.

    Attributes
    ----------
    one, other : Piece
        In the order of the job's file.
    deep : float, mm
        How far the skin of one lies inside the other, where it lies deepest.
    at : (x, y, z), mm
        That place.
    """

    one: Piece
    other: Piece
    deep: float
    at: Point


def find_clashes(pieces: Sequence[Piece]) -> tuple[Clash, ...]:
    """Every two of ``pieces`` that run through each other.

    Plates without a width are left out, and so is what is in another's bore, as a sleeve
    or a seat post; and two that both stand already, which are drawn from point to point and were
    joined by somebody else.
    """
    whole = solids(pieces)
    pairs = ((whole[one], whole[other]) for one, other in _near(whole))
    found = ((one, other, _KNOWN.of(one, other, _deepest)) for one, other in pairs
             if not (one.tube.existing and other.tube.existing) and not _seated(one, other))
    return tuple(Clash(one, other, -spot.gap, spot.point) for one, other, spot in found
                 if spot is not None)


def _near(pieces: Sequence[Piece]) -> list[tuple[int, int]]:
    """Every two of ``pieces`` whose boxes meet, by their index, in the order of the pieces."""
    boxes = np.array([_box(piece) for piece in pieces]).reshape(-1, 2, 3)
    low, high = boxes[:, 0], boxes[:, 1]
    meet = ((low[:, None] <= high) & (low <= high[:, None])).all(axis=-1)
    one, other = np.triu(meet, 1).nonzero()
    return list(zip(one.tolist(), other.tolist(), strict=True))


@lru_cache(maxsize=REMEMBERED)
def _box(piece: Piece) -> tuple[Floats, Floats]:
    """The lowest and the highest coordinates (3,) in mm of a piece."""
    clock = np.linspace(0.0, 360.0, BOXED, endpoint=False)[:, None]
    points = next(surfaces(piece)).at(clock, np.linspace(0.0, 1.0, BOXED))
    low, high = points.min(axis=(0, 1)), points.max(axis=(0, 1))
    # Between two of the clocks a round section reaches further out, by this share of its width.
    room = (high - low) * (1 - np.cos(np.pi / BOXED))
    return low - room, high + room


def _seated(one: Piece, other: Piece) -> bool:
    """Whether either seats on the other."""
    return any((main.name, main.side) == (on.tube.name, on.tube.side)
               for piece, on in ((one, other), (other, one))
               for end in piece.ends for main in end.mains)


def _deepest(one: Piece, other: Piece) -> Nearest | None:
    """Where two pieces run deepest into each other; ``None`` where they do not."""
    spots = (nearest_spot(one, _inside(other)), nearest_spot(other, _inside(one)))
    deepest = min(spots, key=lambda spot: spot.gap)
    if deepest.gap > -CLASH_MM or _in_bore(one, other) or _in_bore(other, one):
        return None
    return deepest


def _in_bore(inner: Piece, outer: Piece) -> bool:
    """Whether all of ``inner`` between the ends of ``outer`` is in its bore: a sleeve or a post."""
    tube, shape = outer.tube, outer.tube.shape
    if isinstance(shape, Plate) or shape.wall is None:
        return False
    clock = np.linspace(0.0, 360.0, BOXED, endpoint=False)[:, None]
    points = next(surfaces(inner)).at(clock, np.linspace(0.0, 1.0, SLEEVED))
    station = tube.station(points)
    low, high = np.nanmin(outer.start.outer), np.nanmax(outer.end.outer)
    beside = points[(station >= low) & (station <= high)]
    depth = -tube.as_main.distance(tube.pose.inward(beside))
    return bool((depth >= shape.wall - CLASH_MM).all())


def _inside(piece: Piece) -> Distance:
    """How far points of the frame are outside a piece, between its two cut edges.

    Below 0 inside. The edge at a point is that at its direction from the axis, which is its clock
    on a round tube and near it on another.
    """
    main, tube = piece.tube.as_main, piece.tube

    def off(points: Floats) -> Floats:
        """Distances (...,) in mm of points (..., 3)."""
        distance = main.distance(tube.pose.inward(points))
        own = tube.straightened(points)
        clock = np.degrees(np.arctan2(own[..., 1], own[..., 0]))
        start, end = (cut.edge_at(clock) for cut in piece.ends)
        outside: Floats = np.maximum.reduce((distance, start - own[..., 2], own[..., 2] - end))
        return outside

    return off
