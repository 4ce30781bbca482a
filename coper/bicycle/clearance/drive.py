"""What is measured of cranks, shoes, chain wheels, the dropout's slot and what is at the wheels."""

from __future__ import annotations

from dataclasses import dataclass, field

from coper.bicycle.clearance.fitted import Fitted, ForkInside
from coper.bicycle.clearance.slot import Slot


@dataclass(frozen=True, slots=True)
class Sprockets:
    """The teeth of the ring at the crank and of the sprocket at the wheel."""

    ring: int
    sprocket: int


@dataclass(frozen=True, slots=True)
class ShoeHeel:
    """The shoe's heel, the foot level.

    Attributes
    ----------
    back : float, mm
        How far behind the pedal's axle the heel ends.
    out : float, mm
        How far the heel's inner side stands from the middle plane.
    """

    back: float
    out: float


@dataclass(frozen=True, slots=True)
class Pedal:
    """The pedal, level.

    Attributes
    ----------
    out : float, mm
        How far its outer edge stands from the middle plane.
    under : float, mm
        How far its underside stands below its axle.
    """

    out: float
    under: float


@dataclass(frozen=True, slots=True)
class Drive:
    """The drive, and where the axle may stand; ``None`` where it was not measured.

    Attributes
    ----------
    slot : Slot or None
    sprockets : Sprockets or None
    crank : float or None, mm
        From the bracket's axle to the pedal's.
    crank_inside : float or None, mm
        How far the inner face of the crank's end stands from the middle plane.
    heel : ShoeHeel or None
    pedal : Pedal or None
    rear, front : Fitted
    fork : ForkInside
    """

    slot: Slot | None = None
    sprockets: Sprockets | None = None
    crank: float | None = None
    crank_inside: float | None = None
    heel: ShoeHeel | None = None
    pedal: Pedal | None = None
    rear: Fitted = field(default_factory=Fitted)
    front: Fitted = field(default_factory=Fitted)
    fork: ForkInside = field(default_factory=ForkInside)

    def at(self, end: str) -> Fitted:
        """What is fitted at one end of the bicycle, ``rear`` or ``front``."""
        return self.rear if end == "rear" else self.front
