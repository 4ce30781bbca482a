"""What is measured of a fork's inside, of brakes, mudguards and rims beside the middle plane."""

from __future__ import annotations

from dataclasses import dataclass

from coper.arrays import Point


@dataclass(frozen=True, slots=True)
class Crown:
    """The underside of a fork's crown, square to the steering axis.

    ::

              | steering axis
        ======o======  crown race
        |     |     |
        |     |     |  under
        +-----+-----+
           length       from its back to its front, half of it ahead of the axis

    It is taken to go across the fork over all of the tyre. With both numbers 0 it is the middle
    of the crown race.

    Attributes
    ----------
    under : float, mm
        From the crown race to the underside.
    length : float, mm
    """

    under: float = 0.0
    length: float = 0.0


@dataclass(frozen=True, slots=True)
class ForkInside:
    """The room inside a fork; ``None`` where it was not measured.

    Attributes
    ----------
    crown : Crown or None
    blades : float or None, mm
        Between the inner faces of the blades, at the tyre.
    """

    crown: Crown | None = None
    blades: float | None = None


@dataclass(frozen=True, slots=True)
class Hole:
    """The brake's hole through the fork's crown.

    Attributes
    ----------
    below : float, mm
        Below the crown race, along the steering axis.
    ahead : float, mm
        How far ahead of the axis, square to it, the brake's arms stand.
    """

    below: float
    ahead: float = 0.0


@dataclass(frozen=True, slots=True)
class Brake:
    """A brake on one bolt, its pads on the rim.

    Attributes
    ----------
    bolt : (x, y, z) in mm, or Hole
    least, most : float, mm
        From the bolt to the middle of the pads, these at the upper and the lower end of their
        slots.
    pad : float, mm
        How far inside the bead seat circle the middle of the pads sits.
    """

    bolt: Point | Hole
    least: float
    most: float
    pad: float = 0.0


@dataclass(frozen=True, slots=True)
class Guard:
    """A mudguard round a wheel, with the axle as drawn.

    Attributes
    ----------
    width : float, mm
    gap : float, mm
        From the tread to its inside.
    """

    width: float
    gap: float


@dataclass(frozen=True, slots=True)
class Fitted:
    """What is at one wheel besides the tubes; ``None`` where it was not measured.

    Attributes
    ----------
    brake : Brake or None
    guard : Guard or None
    rim_off : float or None, mm
        How far to the left of the middle plane the rim's middle stands; below 0 to the right.
    """

    brake: Brake | None = None
    guard: Guard | None = None
    rim_off: float | None = None
