"""What is joined with what: the mains that an end seats on, and the partner of a mitre."""

from __future__ import annotations

from collections.abc import Sequence

from coper.frame.end import TubeEnd
from coper.frame.piece import Piece

Neighbours = dict[str, set[str]]
"""The labels of all that a piece is joined with, by its own label."""


def end_joins(end: TubeEnd) -> tuple[str, ...]:
    """The labels of what an end is joined with; nothing of a plain one, or one cut along a face."""
    if end.flat is not None:
        return (end.flat.partner,) if end.flat.partner else ()
    return tuple(main.label for main in end.mains)


def neighbours(pieces: Sequence[Piece]) -> Neighbours:
    """Every piece with what it seats on, what seats on it, and what it is mitred with."""
    found: Neighbours = {piece.label: set() for piece in pieces}
    for piece in pieces:
        for end in piece.ends:
            for other in end_joins(end):
                if other in found:
                    found[piece.label].add(other)
                    found[other].add(piece.label)
    return found


def core(joined: Neighbours) -> set[str]:
    """Those that close a ring: what is joined with less than two others is taken away in turn."""
    left = dict(joined)
    while loose := [name for name, others in left.items() if len(others & left.keys()) < 2]:
        for name in loose:
            del left[name]
    return set(left)
