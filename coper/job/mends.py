"""What mends tubes that run through each other, or that end at one on which they do not seat."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import Literal

import numpy as np

from coper.errors import CoperError
from coper.frame.clash import Clash, find_clashes
from coper.frame.piece import Piece
from coper.frame.seat_offer import away_from
from coper.frame.tube import ENDS, Tube, Which
from coper.job.end_change import end_changed, with_seat
from coper.job.frame import make_pieces
from coper.job.job import EndPlan, Job
from coper.job.read import parse_job
from coper.shapes.tapered_oval import TaperedOval
from coper.tolerances import ALIKE_MM, CLASH_MM

AT_SKIN_MM = 0.5
"""An end whose point is no further from a tube's skin was meant to touch it."""

How = Literal["on", "mitre"]
HOWS: tuple[How, ...] = ("on", "mitre")

Pair = frozenset[str]
"""The labels of two pieces."""


@dataclass(frozen=True, slots=True)
class Mend:
    """One key of one end that was forgotten.

    Attributes
    ----------
    tube : str
    which : ``start`` or ``end``
    how : ``on`` or ``mitre``
    other : str
        The tube that the end seats on, or is mitred with.
    """

    tube: str
    which: Which
    how: How
    other: str


def mended(text: str, mend: Mend) -> str:
    """The text of a job with what was forgotten.

    Raises
    ------
    CoperError
        Where the file is written in a way that cannot be changed.
    """
    if mend.how == "mitre":
        return end_changed(text, mend.tube, mend.which, "mitre", mend.other)
    return with_seat(text, mend.tube, mend.which, mend.other)


def mends_of(job: Job, clashes: Sequence[Clash], clash: Clash) -> tuple[Mend, ...]:
    """Each way in which one end that says more takes a clash of ``clashes`` away."""
    left = {_pair(one) for one in clashes} - {_pair(clash)}
    return tuple(mend for mend in _mends(job, clash) if _does(job, mend, left))


def forgotten(
    job: Job, pieces: Sequence[Piece], clashes: Sequence[Clash]
) -> tuple[Mend, ...]:
    """The seat of each plain end whose point is at the skin of a tube."""
    known = {frozenset((one.one.tube.name, one.other.tube.name)) for one in clashes}
    ends = [(piece.tube, which) for piece in pieces for which in ENDS
            if not piece.tube.existing and _is_plain(_end_plan(job, piece.tube.name, which))]
    found: dict[Mend, None] = {}
    points = np.array([tube.point(which) for tube, which in ends]).reshape(-1, 3)
    for other in pieces:
        away = away_from(other.tube, points)
        for at in ((away >= -CLASH_MM) & (away <= AT_SKIN_MM)).nonzero()[0]:
            tube, which = ends[at]
            pair = frozenset((tube.name, other.tube.name))
            if len(pair) > 1 and pair not in known and not _seats(other, tube):
                found[Mend(tube.name, which, "on", other.tube.name)] = None
    left = set(map(_pair, clashes))
    return tuple(mend for mend in found if _does(job, mend, left))


def _end_plan(job: Job, name: str, which: Which) -> EndPlan:
    plan = next(one for one in job.tubes if one.name == name)
    return plan.start if which == "start" else plan.end


def _is_plain(plan: EndPlan) -> bool:
    """Whether nothing is said of an end but its point."""
    return not (plan.how or plan.back or plan.cap)


def _seats(piece: Piece, on: Tube) -> bool:
    return any(main.name == on.name for end in piece.ends for main in end.mains)


def _mends(job: Job, clash: Clash) -> Iterator[Mend]:
    """What may be meant: ends at one point are mitred, or one near the place seats there.

    One whose point is in the other tube was meant to, rather than one that only comes near.
    """
    one, other = clash.one.tube, clash.other.tube
    if one.name == other.name:
        return
    for which in ENDS:
        for there in ENDS:
            both = (_end_plan(job, one.name, which), _end_plan(job, other.name, there))
            if math.dist(one.point(which), other.point(there)) <= ALIKE_MM and all(
                    map(_is_plain, both)):
                yield Mend(one.name, which, "mitre", other.name)
    near: dict[Mend, float] = {}
    for tube, main in permutations((one, other)):
        which = _nearer(tube, clash)
        away = float(away_from(main, tube.point(which)))
        if away <= _across(tube):
            near[Mend(tube.name, which, "on", main.name)] = away
    within = [mend for mend, away in near.items() if away <= 0]
    yield from within or near


def _nearer(tube: Tube, clash: Clash) -> Which:
    """The end whose point is nearer to where two tubes run through each other."""
    far = [float(np.linalg.norm(tube.point(which) - np.array(clash.at))) for which in ENDS]
    return ENDS[int(np.argmin(far))]


def _across(tube: Tube) -> float:
    shape = tube.shape
    return shape.minor if isinstance(shape, TaperedOval) else shape.across or 0.0


def _does(job: Job, mend: Mend, left: set[Pair]) -> bool:
    """Whether the job loads, its tubes can be made, and none clash but those that are ``left``."""
    try:
        pieces = make_pieces(parse_job(mended(job.text, mend)))
    except CoperError:
        return False
    return {_pair(clash) for clash in find_clashes(pieces)} <= left


def _pair(clash: Clash) -> Pair:
    return frozenset((clash.one.label, clash.other.label))
