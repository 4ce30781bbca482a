"""Which pieces are fitted at one time, and in which order: common practice, no source.

First the ring that all else is built on, then pairs of twins from the lowest up, then what bridges
twins, then the rest. Nothing comes before what it seats on, so what something seats on comes as
early as that needs. What seats on nothing is set in its place just before the first that needs it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum

from coper.bench.assembly.joined import end_joins
from coper.bench.assembly.ring import IN_PLANE_MM
from coper.frame.alike import Alike
from coper.frame.order import mains_of
from coper.frame.piece import Piece

Batch = tuple[Piece, ...]
"""Pieces that are fitted at one time."""


class Rank(IntEnum):
    """What a piece is to the frame; the lower the earlier."""

    RING = 0
    PAIR = 1
    BRIDGE = 2
    REST = 3
    LOOSE = 4


@dataclass(frozen=True, slots=True, eq=False)
class Ranked:
    """A piece with what decides when it is its turn.

    Attributes
    ----------
    piece : Piece
    rank : Rank
    height : float, mm
        Of the lowest point at which it is joined; of one that seats on nothing, of its lowest.
    """

    piece: Piece
    rank: Rank
    height: float


def sequence(
    ordered: Sequence[Piece], alike: Sequence[Alike], ring: frozenset[str]
) -> tuple[tuple[Rank, Batch], ...]:
    """The batches in the order in which they are fitted, each with its rank.

    ``ordered`` are the pieces in the order of work, which decides where nothing else does; what
    stands already comes in no batch.
    """
    ranked = _ranked(ordered, ring)
    together = _together(ordered, alike)
    done = {piece.label for piece in ordered if piece.tube.existing}
    left = [one for one in ranked if not one.piece.tube.existing]
    found: list[tuple[Rank, Batch]] = []
    while left:
        ready = [one for one in left if mains_of(one.piece) <= done]
        first = min(ready, key=lambda one: (one.rank, round(one.height / IN_PLANE_MM)))
        batch = [one for one in ready if one is first or _goes_with(one, first, together)]
        found.append((first.rank, tuple(one.piece for one in batch)))
        done |= {one.piece.label for one in batch}
        left = [one for one in left if one not in batch]
    return tuple(found)


def _ranked(ordered: Sequence[Piece], ring: frozenset[str]) -> list[Ranked]:
    """The pieces with their ranks: none comes later than what seats on it needs."""
    ranks = {piece.label: _own_rank(piece, ring) for piece in ordered}
    for piece in reversed(ordered):  # what seats on a piece comes after it in the order of work
        for main in mains_of(piece):
            ranks[main] = min(ranks[main], ranks[piece.label])
    return [Ranked(piece, ranks[piece.label], _height(piece)) for piece in ordered]


def _own_rank(piece: Piece, ring: frozenset[str]) -> Rank:
    if piece.label in ring:
        return Rank.RING
    if not any(map(end_joins, piece.ends)):
        return Rank.LOOSE
    if _bridges(piece):
        return Rank.BRIDGE
    return Rank.REST if piece.tube.side == "centre" else Rank.PAIR


def _bridges(piece: Piece) -> bool:
    """Whether its ends seat on a tube and that one's twin."""
    start, end = ({(main.name, main.side) for main in part.mains} for part in piece.ends)
    other = {"left": "right", "right": "left"}
    return any((name, other.get(side)) in end for name, side in start)


def _height(piece: Piece) -> float:
    """Of the lowest point at which a piece is joined, mm."""
    joined = [end.which for end in piece.ends if end.mains] or ["start", "end"]
    return min(float(piece.tube.point(which)[2]) for which in joined)


def _together(ordered: Sequence[Piece], alike: Sequence[Alike]) -> Mapping[str, int]:
    """A number for each piece, the same for those that are alike, or twins."""
    numbers = {piece.label: at for at, group in enumerate(alike)
               for batch in group.batches for piece in (member.piece for member in batch.members)}
    names: dict[str, int] = {}
    for at, piece in enumerate(ordered, len(alike)):
        number = numbers.setdefault(piece.label, names.get(piece.tube.name, at))
        names.setdefault(piece.tube.name, number)
    return numbers


def _goes_with(one: Ranked, first: Ranked, together: Mapping[str, int]) -> bool:
    return (one.rank == first.rank and together[one.piece.label] == together[first.piece.label]
            and abs(one.height - first.height) < IN_PLANE_MM)
