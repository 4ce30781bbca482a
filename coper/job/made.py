"""What follows from a tube that came out otherwise than it was designed.

The free end's point moves, and with it the part of the frame that it is on: the points measured
from the same root. From that come the rear axle, where the tube holds it, and what was printed of
the other tubes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coper.arrays import OneLine, Point
from coper.bicycle.clearance.chain import Chain, make_chain
from coper.bicycle.tracking.askew import Askew
from coper.errors import CoperError
from coper.frame.held import Held, make_held
from coper.frame.made import MadeTube, made_tube
from coper.frame.piece import Piece
from coper.frame.tube import Side, Which, across
from coper.job.frame import make_pieces
from coper.job.job import Job
from coper.job.moved import Root, find_root, move_root
from coper.job.ways import Way, find_ways
from coper.tolerances import ALIKE_MM

AXLES: Final = ("axle", "axle-left", "axle-right")
"""The bicycle's points that a dropout is on."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What one part measured; ``None`` where it was not.

    Attributes
    ----------
    length : float or None, mm
        Over all.
    angle : float or None, degrees
        To the main that takes most of the end that is put home first.
    at : ``start``, ``end`` or None
        That end, where it was said which.
    """

    length: float | None = None
    angle: float | None = None
    at: Which | None = None


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Outcome(OneLine):
    """What follows.

    Attributes
    ----------
    made : MadeTube
    twin : MadeTube or None
        The one on the other side, where it was measured too.
    root : Root
        What moves with the free end's point.
    sheets : tuple of Held
        Each other tube that is still to be made, beside what it is to be now.
    broken : str
        Why the rest cannot be worked out with the point moved; empty where it can.
    axle : Askew or None
        Where the tube holds the rear axle.
    chain : Chain or None
        With the axle's middle moved.
    ways : tuple of Way
        What still works.
    """

    made: MadeTube
    twin: MadeTube | None
    root: Root
    sheets: tuple[Held, ...]
    broken: str
    axle: Askew | None
    chain: Chain | None
    ways: tuple[Way, ...]

    @property
    def moves(self) -> bool:
        """Whether a point of the frame moves: the free end is not held by a main."""
        return self.made.free_end.cope is None and self.made.by > ALIKE_MM

    @property
    def again(self) -> tuple[Held, ...]:
        """Tubes of which something has to be printed again."""
        return tuple(one for one in self.sheets if not one.holds)


def find_outcome(
    job: Job, tube: str, side: Side, measured: Measured, twin: Measured | None = None
) -> Outcome:
    """What follows from what a tube of ``job`` measured, and from its twin, if it did too.

    Raises
    ------
    CoperError
        Where the job cannot be made, or what was measured cannot be.
    """
    pieces = make_pieces(job)
    made = _made(_piece(pieces, tube, side), measured)
    other = None if twin is None else _made(_piece(pieces, tube, across(side)), twin)
    root = find_root(job, tube, made.free)
    sheets, broken = _sheets(job, pieces, made, root)
    axle = _askew(job, made, other, root)
    return Outcome(made, other, root, sheets, broken, axle, _chain(job, axle),
                   find_ways(made, other, pieces))


def _piece(pieces: Sequence[Piece], tube: str, side: Side) -> Piece:
    return next(one for one in pieces if (one.tube.name, one.tube.side) == (tube, side))


def _made(piece: Piece, measured: Measured) -> MadeTube:
    return made_tube(piece, measured.length, measured.angle, measured.at)


def _sheets(
    job: Job, pieces: Sequence[Piece], made: MadeTube, root: Root
) -> tuple[tuple[Held, ...], str]:
    """The other tubes beside what they are to be now, or why that cannot be worked out."""
    own = made.piece.tube
    others = [one for one in pieces if one.tube.label != own.label and not one.tube.existing]
    if made.free_end.cope is not None or made.by <= ALIKE_MM:
        return tuple(make_held(one, one) for one in others), ""
    try:
        after = move_root(job, own.name, made.free, own.side, _point(made))
    except CoperError as error:
        return (), str(error).splitlines()[0]
    there = {one.tube.label: one for one in after}
    return tuple(make_held(one, there[one.tube.label]) for one in others), ""


def _point(made: MadeTube) -> Point:
    x, y, z = made.move.tolist()
    return x, y, z


def _askew(job: Job, made: MadeTube, other: MadeTube | None, root: Root) -> Askew | None:
    """The axle, where the tube has a twin and its free end is on the dropout."""
    bicycle, side = job.bicycle, made.piece.tube.side
    if bicycle is None or bicycle.parts.rear is None or root.name not in AXLES:
        return None
    rear = bicycle.parts.rear
    if side == "centre" or rear.hub is None or made.free_end.cope is not None:
        return None
    own, its = _point(made), (0.0, 0.0, 0.0) if other is None else _point(other)
    left, right = (own, its) if side == "left" else (its, own)
    radius = None if rear.wheel is None else rear.wheel.radius - rear.wheel.tyre
    return Askew(left, right, rear.hub, radius, job.drive.slot)


def _chain(job: Job, axle: Askew | None) -> Chain | None:
    """The chain with the axle's middle where it comes to stand."""
    if axle is None or job.drive.sprockets is None or job.bicycle is None:
        return None
    drawn = job.bicycle.points["axle"]
    x, y, z = (a + b for a, b in zip(drawn, axle.middle, strict=True))
    return make_chain(job.drive.sprockets, (x, y, z), job.drive.slot)
