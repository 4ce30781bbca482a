"""What still works with a tube that came out too long or too short."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import CoperError
from coper.frame.end import TubeEnd, shape_end
from coper.frame.end_joint import end_joint
from coper.frame.made import MadeTube
from coper.frame.piece import Piece, make_piece
from coper.frame.stance import axis_near
from coper.frame.tube import ENDS, Which
from coper.joint.fit.face import template_face
from coper.joint.fit.fit import seat
from coper.tolerances import ALIKE_MM

MOST_ALONG_MM: Final = 60.0
"""A tube whose end would have to go further along its main makes another frame."""

CLOSE_MM: Final = 0.01
"""How closely a place along a main is found: a tenth of what a rule shows."""

PARALLEL_DEG: Final = 1.0
"""Mains that are nearer to parallel come no nearer to each other in any length of them."""

STEPS: Final = 8
"""Of the secant: what is left of the length shrinks far more than tenfold with each."""

GAP_POINTS: Final = 72
"""Clocks that a gap is looked at, and besides at every break."""


@dataclass(frozen=True, slots=True)
class TakeOff:
    """A tube that is too long, cut off plain at its free end, by so many mm."""

    end: Which
    by: float


@dataclass(frozen=True, slots=True)
class SetBack:
    """A plain end that stands ``back`` mm short of its point, which stays; less was meant."""

    end: Which
    back: float
    was: float


@dataclass(frozen=True, slots=True)
class SameTwin:
    """Of two twins the longer one, cut by so many mm: then both are the same."""

    label: str
    by: float


@dataclass(frozen=True, slots=True)
class OtherFirst:
    """The tube put home at its other end first: then it does not reach ``open`` on ``mains``."""

    first: Which
    open: Which
    mains: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class AlongMain(OneLine):
    """The tube put elsewhere along its mains, where the two are nearer to each other.

    Attributes
    ----------
    mains : dict of end to the main's name
        The ends that go along: one, or on two twins both.
    by : float, mm
        How far, towards the mains' end points.
    at : dict of end to mm
        Where they then are, from the main's start point.
    angles : dict of end to degrees
        At both ends then.
    gaps : dict of end to mm
        The largest gap that each end, cut for the angle that was meant, has then.
    """

    mains: dict[Which, str]
    by: float
    at: dict[Which, float]
    angles: dict[Which, float]
    gaps: dict[Which, float]


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Another tube of the job that can be made of it, and what is left over, mm."""

    label: str
    over: float


@dataclass(frozen=True, slots=True)
class NewBlank:
    """Another one, from a blank of this length, mm."""

    length: float


Way: TypeAlias = TakeOff | SetBack | SameTwin | OtherFirst | AlongMain | Elsewhere | NewBlank


def find_ways(
    made: MadeTube, twin: MadeTube | None, pieces: Sequence[Piece]
) -> tuple[Way, ...]:
    """What still works, what changes least first; none where the length is as designed.

    ``twin`` is the one on the other side, where it was measured too.
    """
    if made.longer is None or abs(made.longer) <= ALIKE_MM:
        return ()
    ways = [*_at_free_end(made), *_twins(made, twin, pieces), *_other_first(made), *_along(made)]
    if made.longer < 0:
        ways += [*_elsewhere(made, pieces), NewBlank(made.piece.blank)]
    return tuple(ways)


def _at_free_end(made: MadeTube) -> Iterator[Way]:
    """What a plain end allows: it is cut again, or stands further back."""
    end, longer = made.free_end, made.longer or 0.0
    if end.cope is not None or end.flat is not None:
        return
    if longer > 0:
        yield TakeOff(end.which, longer)
        return
    was = made.piece.short_of(end)
    yield SetBack(end.which, was - longer, was)


def _twins(
    made: MadeTube, twin: MadeTube | None, pieces: Sequence[Piece]
) -> Iterator[SameTwin]:
    """Both the same, where one of two twins is too short: the longer one is cut."""
    tube, longer = made.piece.tube, made.longer or 0.0
    its = 0.0 if twin is None else twin.longer or 0.0
    others = [one for one in pieces
              if one.tube.name == tube.name and one.tube.side != tube.side]
    if min(longer, its) < 0 and abs(longer - its) > ALIKE_MM:
        for other in others:
            yield SameTwin(other.label if its > longer else made.piece.label, abs(its - longer))


def _other_first(made: MadeTube) -> Iterator[OtherFirst]:
    """The other end first, where both are coped."""
    ends = {end.which: end for end in made.piece.ends}
    if all(end.cope is not None for end in ends.values()) and (made.longer or 0.0) < 0:
        home = ends[made.seated]
        yield OtherFirst(made.free, made.seated, tuple(main.label for main in home.mains))


def _elsewhere(made: MadeTube, pieces: Sequence[Piece]) -> Iterator[Way]:
    """Tubes of the same shape that are shorter, the one that wastes least first."""
    own, seen = made.piece, set[str]()
    left = own.shaped + (made.longer or 0.0)
    for other in sorted(pieces, key=lambda one: left - one.shaped):
        over = left - other.shaped
        if (other.tube.name not in (own.tube.name, *seen) and over >= 0
                and other.tube.shape == own.tube.shape and not other.tube.existing):
            seen.add(other.tube.name)
            yield Elsewhere(other.label, over)


def _along(made: MadeTube) -> Iterator[AlongMain]:
    """The places along its mains where the tube that there is reaches; the nearest first."""
    piece = made.piece
    if piece.tube.is_bent or not all(_movable(end) for end in piece.ends):
        return
    one, other = (end.mains[0] for end in piece.ends)
    choices = [piece.ends] if one.name == other.name else [(end,) for end in piece.ends]
    found = [way for ends in choices if (way := _moved_along(made, ends)) is not None]
    yield from sorted(found, key=lambda way: abs(way.by))


def _movable(end: TubeEnd) -> bool:
    """Whether an end seats on one main, which is straight."""
    return end.cope is not None and len(end.mains) == 1 and not end.mains[0].is_bent


def _moved_along(made: MadeTube, ends: Sequence[TubeEnd]) -> AlongMain | None:
    """The tube with these ends moved along their mains until it is as long as it came out."""
    piece = made.piece
    wanted = piece.shaped + (made.longer or 0.0)
    ahead = {end.which: _ahead(piece, end) for end in ends}
    toward = sum(float(way @ piece.tube.way_in(which)) for which, way in ahead.items())
    if abs(toward) < math.sin(math.radians(PARALLEL_DEG)):  # the mains run alongside each other
        return None

    def at(by: float) -> Piece:
        start, end = (piece.tube.point(which) + by * ahead.get(which, np.zeros(3))
                      for which in ENDS)
        tube = replace(piece.tube, start=start, end=end)
        one, other = (shape_end(tube, end.which, end.mains, end.cope_cut) for end in piece.ends)
        return make_piece(tube, one, other)

    try:
        by = _solved(lambda by: at(by).shaped - wanted, -(made.longer or 0.0) / toward)
        moved = None if by is None else at(by)
    except CoperError:  # it meets its mains no more
        return None
    if by is None or moved is None:
        return None
    return AlongMain({end.which: end.mains[0].label for end in ends}, by,
                     {end.which: float(end.mains[0].station(moved.tube.point(end.which)))
                      for end in ends},
                     {one.which: one.stances[0].angle for one in moved.ends},
                     {one.which: _gap(piece, one.which, moved) for one in moved.ends})


def _ahead(piece: Piece, end: TubeEnd) -> Floats:
    """The way (3,) along the main of an end, towards that main's end point."""
    return axis_near(end.mains[0], piece.tube.point(end.which), piece.tube.way_in(end.which))[1]


def _solved(over: Callable[[float], float], guess: float) -> float | None:
    """Where ``over`` is 0, by the secant from 0 and a guess; ``None`` where it is too far."""
    before, now = 0.0, guess
    low = over(before)
    for _ in range(STEPS):
        if abs(now) > MOST_ALONG_MM:
            return None
        here = over(now)
        if abs(here) <= CLOSE_MM or here == low:
            break
        before, low, now = now, here, now - here * (now - before) / (here - low)
    return now if abs(here) <= CLOSE_MM else None


def _gap(before: Piece, which: Which, moved: Piece) -> float:
    """The largest gap of an end that was cut as ``before`` has it, mounted as ``moved`` is, mm."""
    one, other = before.end_at(which), moved.end_at(which)
    joint = end_joint(before.tube, one)
    there = joint.mounted(other.stances[0].angle - one.stances[0].angle,
                          other.stances[0].offset - one.stances[0].offset)
    return seat(template_face(joint.cluster(), one.cope_cut), there.cluster(),
                points=GAP_POINTS).largest
