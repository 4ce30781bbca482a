"""Whether what was printed of a piece still holds where it is to be another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, OneLine
from coper.frame.end import TubeEnd, cut_along
from coper.frame.piece import Piece
from coper.frame.tube import Which
from coper.joint.edge import STEPS, even_clocks
from coper.shapes.round import Round
from coper.shapes.tapered import Tapered
from coper.tolerances import ALIKE_MM, SQUARE_DEG


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Held(OneLine):
    """A piece beside what it is to be now.

    Attributes
    ----------
    before, after : Piece
    ends : dict of ``start``, ``end`` to mm
        How far each end's cut is from the printed one where they are furthest apart, laid on each
        other, heel to heel and long point to long point.
    turned : float, mm
        How far the end's cut has turned round the tube from where it was printed.
    """

    before: Piece
    after: Piece
    ends: dict[Which, float]
    turned: float

    @property
    def longer(self) -> float:
        """What is added to its length over all, mm."""
        return self.after.shaped - self.before.shaped

    @property
    def again(self) -> tuple[Which, ...]:
        """The ends whose templates have to be printed again."""
        return tuple(which for which, apart in self.ends.items()
                     if max(apart, self.turned if len(self.ends) > 1 else 0.0) > ALIKE_MM)

    @property
    def holds(self) -> bool:
        """Whether all that was printed of it holds, its length too."""
        return not self.again and abs(self.longer) <= ALIKE_MM


def make_held(before: Piece, after: Piece) -> Held:
    """The two pieces of one tube compared."""
    pairs = list(zip(before.ends, after.ends, strict=True))
    ends = {one.which: _apart(before, one, after, other) for one, other in pairs
            if one.cope is not None or one.flat is not None}
    return Held(before, after, ends, _turned(before, after))


def _apart(before: Piece, one: TubeEnd, after: Piece, other: TubeEnd) -> float:
    """How far two cuts are apart at most, mm; without a bound where one is open elsewhere."""
    own, its = _laid(before, one), _laid(after, other)
    if (np.isnan(own) != np.isnan(its)).any():
        return float("inf")
    return float(np.nanmax(np.abs(own - its)))


def _laid(piece: Piece, end: TubeEnd) -> Floats:
    """The outside of a cut (STEPS,), mm from its furthest reach, from its main's end side on.

    Only what is round can be turned to it: any other shape is laid as it stands.
    """
    first = 0.0
    if end.stances and isinstance(piece.tube.shape, Round | Tapered):
        first = _end_side(end)
    return cut_along(piece.tube, end, (first + even_clocks(STEPS)) % 360, 0.0) - end.reach


def _end_side(end: TubeEnd) -> float:
    """The clock, degrees, on the side of the first main's end point.

    That is the heel, or the toe where the angle is above 90: a heel changes sides there.
    """
    stance = end.stances[0]
    return stance.heel_clock + (180.0 if stance.angle > 90 + SQUARE_DEG else 0.0)


def _turned(before: Piece, after: Piece) -> float:
    """How far the two ends' cuts have turned to each other, mm round the tube."""
    pieces = (before, after)
    if not (isinstance(before.tube.shape, Round | Tapered)
            and all(end.stances for piece in pieces for end in piece.ends)):
        return 0.0
    old, new = (_end_side(piece.end) - _end_side(piece.start) for piece in pieces)
    turn = (new - old + 180) % 360 - 180
    return abs(turn) / 360 * before.tube.seen_from("start")[0].girth(along=before.tube.length / 2)
