"""In which order tubes are shaped: a main stands before what seats on it."""

from __future__ import annotations

from collections.abc import Sequence

from coper.frame.piece import Piece


def work_order(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces, each after all that it seats on; else in the order they came in.

    Tubes that seat on each other in a circle are refused before they become pieces.
    """
    left, done, ordered = list(pieces), set[str](), list[Piece]()
    while left:
        ready = next(piece for piece in left if mains_of(piece) <= done)
        left.remove(ready)
        done.add(ready.label)
        ordered.append(ready)
    return tuple(ordered)


def mains_of(piece: Piece) -> set[str]:
    """The labels of all that has to stand before ``piece`` is shaped or fitted to it."""
    return {main.label for end in piece.ends if end.flat is None for main in end.mains}
