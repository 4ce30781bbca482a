"""In which order tubes are shaped: a main stands before what seats on it."""

from __future__ import annotations

from collections.abc import Sequence

from coper.frame.piece import Piece


def work_order(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces, each after all that it seats on; else in the order they came in.

    Tubes that seat on each other in a circle are refused before they become pieces.
    """
    left, done, ordered = list(pieces), set[tuple[str, str]](), list[Piece]()
    while left:
        ready = next(piece for piece in left if _mains(piece) <= done)
        left.remove(ready)
        done.add((ready.tube.name, ready.tube.side))
        ordered.append(ready)
    return tuple(ordered)


def _mains(piece: Piece) -> set[tuple[str, str]]:
    return {(main.name, main.side) for end in piece.ends if end.flat is None
            for main in end.mains}
