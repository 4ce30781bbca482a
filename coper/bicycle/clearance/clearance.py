"""The room round the wheels, the cranks and the heels of a bicycle."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from coper.arrays import OneLine, Point
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.clearance.brake import BrakeReach, brake_reaches
from coper.bicycle.clearance.chain import Chain, make_chain
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.clearance.guard import guard_off
from coper.bicycle.clearance.slot import AS_DRAWN
from coper.bicycle.clearance.sweep import crank_off, heel_off, lean_angle, tyre_between
from coper.bicycle.clearance.tyre import through_spokes, tyre_off
from coper.bicycle.clearance.wheel_room import (
    GUARD,
    TYRE,
    NoWayIn,
    Room,
    kept_out,
    moved_aside,
    wheel_rooms,
)
from coper.bicycle.standing import StandingWheel
from coper.bicycle.wheel import Wheel
from coper.errors import JointError
from coper.frame.nearest import Distance, Nearest, nearest_spot
from coper.frame.piece import Piece
from coper.frame.solid import solid, solids
from coper.frame.tube import REMEMBERED


@dataclass(frozen=True, slots=True)
class Gap:
    """The least gap between one tube and side, and one thing that moves.

    Attributes
    ----------
    part : a wheel's name, ``crank`` or ``heel``
        Of a wheel its tyre, or its mudguard.
    axle : str
        Where in the slot the wheel stands; empty for crank and heel.
    tube, side : str
    spot : Nearest
        The gap, and its place on the tube.
    spokes : bool
        Whether the tube passes through the wheel's spokes.
    """

    part: str
    axle: str
    tube: str
    side: str
    spot: Nearest
    spokes: bool = False

    def clears(self, limit: float) -> bool:
        """Whether the gap is at least ``limit`` mm."""
        return self.spot.gap >= limit and not self.spokes


@dataclass(frozen=True, slots=True)
class Guidance:
    """A published least value and what this bicycle has; the rule exempts one-of-a-kind bicycles.

    Attributes
    ----------
    what : str
    least, found : float
    unit : str
        Theirs, mm or deg.
    source : str
    """

    what: str
    least: float
    found: float
    unit: str
    source: str

    @property
    def ok(self) -> bool:
        """Whether it is reached."""
        return self.found >= self.least


TYRE_MM = (1.6, "16 CFR 1512.11(b)")
SHOE_MM = (89.0, "16 CFR 1512.17(d)")
LEAN_DEG = (25.0, "16 CFR 1512")
"""Published least values as guidance: the rule exempts one-of-a-kind bicycles."""


@dataclass(frozen=True, slots=True, repr=False)
class Clearances(OneLine):
    """Every clearance, the least gap of each kind first; ``None`` where it was not measured.

    Attributes
    ----------
    wheels : tuple of StandingWheel
    drive : Drive
    tyre, crank, heel : tuple of Gap
    toe_overlap : float or None, mm
        From the pedal's axle to the front tyre, the wheel straight: what a toe has.
    lean : float or None, degrees
        Until a pedal touches the ground.
    chain : Chain or None
    left_out : tuple of str
        Plates of which the job file does not say how wide they are.
    two_rear : bool
        Whether two rear wheels run beside the middle plane: then there is no lean.
    guard : tuple of Gap
        Of the mudguards, the axle as drawn.
    rooms : tuple of Room
        Between wheels, fork and mudguards.
    no_way_in : tuple of NoWayIn
    brakes : tuple of BrakeReach
    """

    wheels: tuple[StandingWheel, ...]
    drive: Drive
    tyre: tuple[Gap, ...] = ()
    crank: tuple[Gap, ...] = ()
    heel: tuple[Gap, ...] = ()
    toe_overlap: float | None = None
    lean: float | None = None
    chain: Chain | None = None
    left_out: tuple[str, ...] = ()
    two_rear: bool = False
    guard: tuple[Gap, ...] = ()
    rooms: tuple[Room, ...] = ()
    no_way_in: tuple[NoWayIn, ...] = ()
    brakes: tuple[BrakeReach, ...] = ()

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """Those of all that moves."""
        return (*self.tyre, *self.crank, *self.heel)

    def too_close(self, limit: float) -> tuple[str, ...]:
        """What has less room than ``limit`` mm, or fouls: tubes, crown, blades and mudguards."""
        tubes = {gap.tube for gap in self.gaps if not gap.clears(limit)}
        tubes |= {gap.tube for gap in self.guard if not gap.clears(0.0)}
        others = {room.to for room in self.rooms if not room.clears(limit)}
        return *sorted(tubes), *sorted(others)

    def ok(self, limit: float | None = None) -> bool:
        """Whether nothing fouls, or is nearer than ``limit`` mm, and each brake reaches its rim.

        A brake is judged by the axle as drawn.
        """
        reached = all(one.ok for one in self.brakes if one.axle == AS_DRAWN)
        return reached and not self.no_way_in and not self.too_close(limit or 0.0)

    @property
    def guidance(self) -> tuple[Guidance, ...]:
        """What published rules ask of it."""
        found = [] if not self.tyre else [
            Guidance("tyre to frame", TYRE_MM[0], self._tyre_to_frame, "mm", TYRE_MM[1])]
        if self.toe_overlap is not None:
            found.append(Guidance("pedal to front tyre", SHOE_MM[0], self.toe_overlap, "mm",
                                  SHOE_MM[1]))
        if self.lean is not None:
            found.append(Guidance("lean until a pedal touches", LEAN_DEG[0], self.lean, "deg",
                                  LEAN_DEG[1]))
        return tuple(found)

    @property
    def _tyre_to_frame(self) -> float:
        """The least gap of a tyre to a tube or the fork, mm."""
        fork = [room.gap for room in self.rooms if room.part == TYRE and room.to != GUARD]
        return min([self.tyre[0].spot.gap, *fork])


def make_clearances(
    pieces: Sequence[Piece], bicycle: Bicycle | None, drive: Drive
) -> Clearances:
    """Every gap of ``pieces`` with the wheels of ``bicycle`` and what ``drive`` says.

    Raises
    ------
    JointError
        Where nothing is known to keep clear of, or the chain's axle is not known.
    """
    bicycle = bicycle or Bicycle()
    _check_known(bicycle, drive)
    bicycle, drawn = moved_aside(bicycle, drive), bicycle
    tubes = solids(pieces)
    plates = dict.fromkeys(piece.tube.name for piece in pieces if solid(piece) is None)
    return Clearances(
        bicycle.wheels, drive, _least_first(_tyre(tubes, bicycle, drive)),
        _least_first(_crank(tubes, drive)), _least_first(_heel(tubes, drive)),
        _toe_overlap(bicycle, drive), _lean(bicycle, drive), _chain(bicycle, drive), tuple(plates),
        len(bicycle.standing("rear")) > 1, _least_first(_guard(tubes, drawn, drive)),
        tuple(wheel_rooms(bicycle, drive)), tuple(kept_out(bicycle, drive)),
        tuple(brake_reaches(bicycle, drive)))


def _check_known(bicycle: Bicycle, drive: Drive) -> None:
    if drive.sprockets is not None and "axle" not in bicycle.points:
        raise JointError("the chain's rear axle is not known", "give chain_stay and drop",
                         "bicycle")
    swept = drive.crank is not None and not (drive.crank_inside is None and drive.heel is None)
    if not (bicycle.wheels or swept or drive.sprockets):
        raise JointError("no wheel is known", 'say where it stands and what it is, such as '
                         'chain_stay, drop and rear_wheel = "47-507"', "bicycle")


def _least_first(gaps: Iterator[Gap]) -> tuple[Gap, ...]:
    """A tube through the spokes first, then by the gap."""
    return tuple(sorted(gaps, key=lambda gap: (not gap.spokes, gap.spot.gap)))


def _tyre(pieces: Sequence[Piece], bicycle: Bicycle, drive: Drive) -> Iterator[Gap]:
    for standing in bicycle.wheels:
        slot = drive.slot if standing.end == "rear" else None
        places = {AS_DRAWN: standing.at} if slot is None else slot.places(standing.at)
        for axle, at in places.items():
            off = tyre_off(standing.wheel, at)
            for piece in pieces:
                yield Gap(standing.name, axle, piece.tube.name, piece.tube.side,
                          _spot(piece, off), _in_spokes(piece, standing.wheel, at))


def _guard(pieces: Sequence[Piece], bicycle: Bicycle, drive: Drive) -> Iterator[Gap]:
    for standing in bicycle.wheels:
        guard = drive.at(standing.end).guard
        if guard is not None:
            yield from _swept(standing.name, pieces,
                              guard_off(guard, standing.wheel, standing.at))


def _crank(pieces: Sequence[Piece], drive: Drive) -> Iterator[Gap]:
    if drive.crank is not None and drive.crank_inside is not None:
        yield from _swept("crank", pieces, crank_off(drive.crank, drive.crank_inside))


def _heel(pieces: Sequence[Piece], drive: Drive) -> Iterator[Gap]:
    if drive.crank is not None and drive.heel is not None:
        yield from _swept("heel", pieces, heel_off(drive.crank, drive.heel))


def _swept(part: str, pieces: Sequence[Piece], off: Distance) -> Iterator[Gap]:
    for piece in pieces:
        yield Gap(part, "", piece.tube.name, piece.tube.side, _spot(piece, off))


@lru_cache(maxsize=2 * REMEMBERED)
def _spot(piece: Piece, off: Distance) -> Nearest:
    """Once for a piece and a thing: most of both are as they were when a number of a job changes.

    A thing is known by its distance, of which there is one for the same numbers.
    """
    return nearest_spot(piece, off, even=True)


@lru_cache(maxsize=2 * REMEMBERED)
def _in_spokes(piece: Piece, wheel: Wheel, axle: Point) -> bool:
    return through_spokes(piece, wheel, axle)


def _wheel(bicycle: Bicycle, name: str) -> StandingWheel | None:
    return next((one for one in bicycle.wheels if one.name == name), None)


def _toe_overlap(bicycle: Bicycle, drive: Drive) -> float | None:
    """Between the pedal axle's circle and the tread, the nearest in side view."""
    front = _wheel(bicycle, "front")
    if front is None or drive.crank is None:
        return None
    return math.hypot(front.at[0], front.at[2]) - drive.crank - front.wheel.radius


def _lean(bicycle: Bicycle, drive: Drive) -> float | None:
    """Of a bicycle; on two rear wheels it does not lean."""
    rear, ground = _wheel(bicycle, "rear"), bicycle.ground
    if rear is None or ground is None or drive.crank is None or drive.pedal is None:
        return None
    front = _wheel(bicycle, "front") or rear
    behind, before = (ground.ahead((one.at[0], one.at[2])) for one in (rear, front))
    share = 0.0 if front is rear else behind / (behind - before)
    tyre = tyre_between(rear.wheel.tyre, front.wheel.tyre, share)
    return lean_angle(ground.bracket_height, drive.crank, drive.pedal, tyre)


def _chain(bicycle: Bicycle, drive: Drive) -> Chain | None:
    if drive.sprockets is None:
        return None
    return make_chain(drive.sprockets, bicycle.points["axle"], drive.slot)
