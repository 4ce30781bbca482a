"""Whether a brake's pads reach the rim from its bolt."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from coper.arrays import Point
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.clearance.fitted import Brake, Hole
from coper.bicycle.clearance.slot import AS_DRAWN
from coper.bicycle.ground import Flat


@dataclass(frozen=True, slots=True)
class BrakeReach:
    """What a brake has to reach, with the axle in one place of the slot.

    Attributes
    ----------
    wheel : str
    axle : str
        Where in the slot the wheel stands.
    brake : Brake
    needed : float, mm
        From the bolt straight towards the axle to the middle of the pads.
    track : float, mm
        Radius of the circle that the middle of the pads sits on.
    way : (x, z), mm
        From the bolt to the axle.
    aside : float, mm
        How far to the left of the bolt the rim's middle stands; below 0 to the right.
    bolt : (x, y, z), mm
    """

    wheel: str
    axle: str
    brake: Brake
    needed: float
    track: float
    way: Flat
    aside: float
    bolt: Point

    @property
    def pads(self) -> Point:
        """Where the middle of the pads has to come, abreast of the bolt: (x, y, z) in mm."""
        (x, z), share = self.way, self.needed / math.hypot(*self.way)
        return self.bolt[0] + share * x, self.bolt[1], self.bolt[2] + share * z

    @property
    def errs(self) -> float:
        """How much too short for it the brake is, mm; below 0 how much too long; 0 where it fits.

        The bolt has to move so far towards the axle.
        """
        if self.needed > self.brake.most:
            return self.needed - self.brake.most
        return min(self.needed - self.brake.least, 0.0)

    @property
    def ok(self) -> bool:
        """Whether the pads reach the rim."""
        return self.errs == 0.0


def brake_reaches(bicycle: Bicycle, drive: Drive) -> Iterator[BrakeReach]:
    """What every brake has to reach; at the rear in each place of the slot.

    Derived: the pads sit on a circle about the axle, so in side view the way from the bolt to it
    is that to the axle less its radius. The bead seat's is what the tyre's height leaves of the
    wheel's; a rim's flange is about 6 mm higher and a pad 10 mm high, so that a pad a mm below
    the rim's edge has its middle on that circle.
    """
    for wheel in bicycle.wheels:
        brake = drive.at(wheel.end).brake
        if brake is None or (bolt := _bolt(brake, bicycle)) is None:
            continue
        slot = drive.slot if wheel.end == "rear" else None
        places = {AS_DRAWN: wheel.at} if slot is None else slot.places(wheel.at)
        track = wheel.wheel.bead_seat - brake.pad
        for axle, at in places.items():
            way = at[0] - bolt[0], at[2] - bolt[2]
            yield BrakeReach(wheel.name, axle, brake, math.hypot(*way) - track, track, way,
                             at[1] - bolt[1], bolt)


def _bolt(brake: Brake, bicycle: Bicycle) -> Point | None:
    """The bolt's place; of a hole in the crown ``None`` where there is no fork."""
    if not isinstance(brake.bolt, Hole):
        return brake.bolt
    head, fork = bicycle.parts.head, bicycle.parts.fork
    if head is None or fork is None:
        return None
    x, z = head.down(fork.lower_stack + brake.bolt.below, brake.bolt.ahead)
    return x, 0.0, z
