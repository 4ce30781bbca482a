"""What is known of two pieces, for as long as both of them are."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar
from weakref import WeakKeyDictionary

from coper.frame.piece import Piece

Known = TypeVar("Known")


class Pairs(Generic[Known]):
    """Worked out once for every two pieces; what it holds must not hold the pieces themselves.

    A bound on pairs would be none on pieces: each pair that is kept would keep two of them.
    """

    def __init__(self) -> None:
        self._known: WeakKeyDictionary[Piece, WeakKeyDictionary[Piece, Known]] = (
            WeakKeyDictionary())

    def of(self, one: Piece, other: Piece, work: Callable[[Piece, Piece], Known]) -> Known:
        """What is known of the two, in this order; by ``work`` where it is asked first."""
        beside = self._known.setdefault(one, WeakKeyDictionary())
        if other not in beside:
            beside[other] = work(one, other)
        return beside[other]
