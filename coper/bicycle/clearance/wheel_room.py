"""The room of a wheel in its fork and under its mudguard, and what keeps it out."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from coper.bicycle.bicycle import Bicycle, Fork, Head
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.clearance.fitted import Crown
from coper.bicycle.ground import Flat
from coper.bicycle.standing import StandingWheel

CROWN, CROWN_RACE, BLADE, GUARD = "crown", "crown race", "blade", "mudguard"
SIDES = ("left", "right")
TYRE = "tyre"


@dataclass(frozen=True, slots=True)
class Room:
    """The room between a part of a wheel and something that is not a tube.

    Attributes
    ----------
    wheel : str
    part : ``tyre`` or ``mudguard``
    to : ``crown``, ``crown race``, ``blade`` or ``mudguard``
    side : ``left`` or ``right``, of a blade and of a mudguard's edge; else empty
    gap : float, mm
        Below 0 how deep the one is in the other; of a mudguard's edge how far it lies inside the
        tyre's flank, which it then does not cover.
    """

    wheel: str
    part: str
    to: str
    side: str
    gap: float

    @property
    def covers(self) -> bool:
        """Whether it is only how far a mudguard reaches out over the tyre."""
        return self.to == GUARD and self.side != ""

    def clears(self, limit: float) -> bool:
        """Whether it is enough: to what the tyre runs by ``limit`` mm, else that nothing fouls."""
        return self.covers or self.gap >= (limit if self.part == TYRE else 0.0)


@dataclass(frozen=True, slots=True)
class NoWayIn:
    """Why a wheel does not go into its fork.

    Attributes
    ----------
    wheel : str
    what : ``radius``, more than the fork's length, or ``tyre``, wider than between the blades
    found, room : float, mm
        Of the wheel, and what the fork has.
    """

    wheel: str
    what: str
    found: float
    room: float


def moved_aside(bicycle: Bicycle, drive: Drive) -> Bicycle:
    """The bicycle with each wheel where its rim was measured: y is to the left."""
    return replace(bicycle, wheels=tuple(
        replace(one, at=(one.at[0], one.at[1] + (drive.at(one.end).rim_off or 0.0), one.at[2]))
        for one in bicycle.wheels))


def wheel_rooms(bicycle: Bicycle, drive: Drive) -> Iterator[Room]:
    """Every room of the wheels but those to tubes; a wheel's own in the order crown, blades."""
    for wheel in bicycle.wheels:
        if wheel.end == "front" and bicycle.parts.fork is not None:
            yield from _in_fork(wheel, bicycle.parts.fork, drive)
        yield from _under_guard(wheel, drive)


def _in_fork(wheel: StandingWheel, fork: Fork, drive: Drive) -> Iterator[Room]:
    """To crown and blades, of the tyre and then of the mudguard, which stands in the middle."""
    fitted, inside = drive.at(wheel.end), drive.fork
    to = CROWN_RACE if inside.crown is None else CROWN
    reach = crown_reach(fork, inside.crown or Crown()) - wheel.wheel.radius
    parts = [(TYRE, reach, wheel.wheel.tyre, fitted.rim_off or 0.0)]
    if fitted.guard is not None:
        parts.append((GUARD, reach - fitted.guard.gap, fitted.guard.width, 0.0))
    for part, gap, width, off in parts:
        yield Room(wheel.name, part, to, "", gap)
        if inside.blades is not None:
            for side, room in _beside((inside.blades - width) / 2, off):
                yield Room(wheel.name, part, BLADE, side, room)


def _under_guard(wheel: StandingWheel, drive: Drive) -> Iterator[Room]:
    fitted = drive.at(wheel.end)
    if fitted.guard is None:
        return
    yield Room(wheel.name, TYRE, GUARD, "", fitted.guard.gap)
    half = (fitted.guard.width - wheel.wheel.tyre) / 2
    for side, room in _beside(half, fitted.rim_off or 0.0):
        yield Room(wheel.name, TYRE, GUARD, side, room)


def _beside(half: float, off: float) -> Iterator[tuple[str, float]]:
    """What is left on each side of ``half`` mm by what stands ``off`` mm to the left."""
    yield from zip(SIDES, (half - off, half + off), strict=True)


def crown_reach(fork: Fork, crown: Crown) -> float:
    """From the front axle to the nearest place of the crown's underside, mm.

    Derived: in the steering axis's frame the axle is ``length`` below the crown race and ``rake``
    ahead, and the underside is ``under`` below it, from half its length behind to half ahead; the
    nearest place of it is the one nearest to abreast of the axle.
    """
    return math.hypot(fork.length - crown.under, fork.rake - _abreast(fork, crown))


def crown_place(head: Head, fork: Fork, crown: Crown) -> Flat:
    """That place of the underside, (x, z) in mm."""
    return head.down(fork.lower_stack + crown.under, _abreast(fork, crown))


def _abreast(fork: Fork, crown: Crown) -> float:
    """How far ahead of the steering axis it is, mm."""
    half = crown.length / 2
    return min(max(fork.rake, -half), half)


def kept_out(bicycle: Bicycle, drive: Drive) -> Iterator[NoWayIn]:
    """Why the front wheel does not go into the fork at all."""
    fork, blades = bicycle.parts.fork, drive.fork.blades
    for wheel in () if fork is None else bicycle.standing("front"):
        if fork is not None and wheel.wheel.radius > fork.length:
            yield NoWayIn(wheel.name, "radius", wheel.wheel.radius, fork.length)
        if blades is not None and wheel.wheel.tyre > blades:
            yield NoWayIn(wheel.name, TYRE, wheel.wheel.tyre, blades)
