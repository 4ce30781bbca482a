r"""What to measure after a tack: lengths between ends that the tack brought together.

::

          P           A tube of the middle plane that stands square to a shell is as far from the
         /|\          one end of the shell as from the other; so are the diagonals of a ring, and
        / | \         the ends of two twins from a tube of the middle plane. Such a pair is one
       Q--+--Q'       check: both have to measure the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from coper.arrays import Floats
from coper.bench.assembly.joined import end_joins
from coper.bench.assembly.places import Place
from coper.frame.piece import Piece
from coper.frame.tube import MIRROR
from coper.tolerances import ALIKE_MM

MOST_CHECKS = 2
"""So many lengths after a tack: a third would hardly say what two did not."""

Pair = tuple[Place, Place]


@dataclass(frozen=True, slots=True, eq=False)
class LengthCheck:
    """A length to measure, and the one on the other side of the middle plane that has to equal it.

    Attributes
    ----------
    pairs : tuple of (Place, Place)
        One, or the two that are mirror images of each other.
    length : float, mm
    on_layout : bool
        Whether the layout's sheet lists it among its diagonals.
    """

    pairs: tuple[Pair, ...]
    length: float
    on_layout: bool


@dataclass(frozen=True, slots=True)
class AngleCheck:
    """The angle of a tube to its main's end point's side, degrees: where no length can be taken."""

    label: str
    to: str
    angle: float


def length_checks(
    batch: Sequence[Piece], known: Mapping[str, Sequence[Place]], taped: set[frozenset[int]]
) -> tuple[LengthCheck, ...]:
    """The lengths to check once a batch is tacked.

    Parameters
    ----------
    batch
        The pieces that are tacked.
    known
        The places of all that stands, of the batch as well, by the label of their piece.
    taped
        The marks, two and two, of the layout's diagonals.
    """
    found: list[LengthCheck] = []
    pairs = list(_candidates(batch, known))
    while pairs:
        pair, *pairs = pairs
        twins = [other for other in pairs if _mirrored(pair, other)][:1]
        pairs = [other for other in pairs if other not in twins]
        both = (pair, *twins)
        found.append(LengthCheck(both, _apart(pair), any(_marks(one) in taped for one in both)))
    found.sort(key=lambda one: (not one.on_layout, -round(one.length, 3)))
    found.sort(key=lambda one: len(one.pairs) == 1)
    first_of_each = {len(one.pairs): one for one in reversed(found)}
    best = [one for one in found if one is first_of_each[len(one.pairs)]]
    rest = [one for one in found if one not in best]
    return tuple([*best, *rest][:MOST_CHECKS])


def angle_checks(batch: Iterable[Piece]) -> Iterator[AngleCheck]:
    """The angle of each end of a batch to its first main."""
    for piece in batch:
        for end in piece.ends:
            if end.flat is None and end.stances:
                yield AngleCheck(piece.label, end.mains[0].label, end.stances[0].angle)


def _candidates(
    batch: Sequence[Piece], known: Mapping[str, Sequence[Place]]
) -> Iterator[Pair]:
    """Pairs of places, each once, of two pieces that the batch joins, or that it is of."""
    seen: list[Pair] = []
    own = [piece.label for piece in batch]
    groups = [[piece.label, *{other: None for end in piece.ends for other in end_joins(end)}]
              for piece in batch]
    for group in (*groups, own):
        for one, other in combinations(dict.fromkeys(group), 2):
            for pair in ((a, b) for a in known.get(one, ()) for b in known.get(other, ())):
                if _apart(pair) > ALIKE_MM and not any(_same(pair, old) for old in seen):
                    seen.append(pair)
                    yield pair


def _apart(pair: Pair) -> float:
    return float(np.linalg.norm(pair[0].at - pair[1].at))


def _marks(pair: Pair) -> frozenset[int | None]:
    return frozenset(place.mark for place in pair)


def _same(pair: Pair, other: Pair) -> bool:
    """Whether two pairs are between the same two points, whichever tubes they are called by."""
    return _lie_on(pair, [place.at for place in other])


def _mirrored(pair: Pair, other: Pair) -> bool:
    """Whether a pair is the mirror image of another."""
    return _lie_on(pair, [place.at * MIRROR for place in other])


def _lie_on(pair: Pair, points: Sequence[Floats]) -> bool:
    one, other = (place.at for place in pair)
    a, b = points
    return bool(min(max(np.linalg.norm(one - a), np.linalg.norm(other - b)),
                    max(np.linalg.norm(one - b), np.linalg.norm(other - a))) < ALIKE_MM)
