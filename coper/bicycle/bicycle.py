r"""A bicycle's points and axes, from the numbers that fix it.

::

                 seat-axis              o head-top          x forward, z up, y to the left;
                     \                   \                  the bracket is the origin
                      \                   o head-bottom
                       \                  o crown           lower_stack below it
             seat angle \                  \
                    -----\------  head angle \
                          \            -------\---
        axle o             \                   \   o front-axle: fork_length down the axis
               chain_stay   o bracket                from the crown, then rake ahead of it
             drop: the axle's z
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from coper.arrays import Point
from coper.bicycle.ground import Flat, Ground, stand
from coper.bicycle.standing import StandingWheel, check_apart
from coper.bicycle.wheel import Wheel
from coper.errors import ShapeError
from coper.units import format_size, plain

Axis = tuple[Point, Point]

POINT_NEEDS: Final = {
    "bottom-bracket": (),
    "shell-left": ("shell",),
    "shell-right": ("shell",),
    "axle": ("drop", "chain_stay"),
    "axle-left": ("drop", "chain_stay", "rear_hub"),
    "axle-right": ("drop", "chain_stay", "rear_hub"),
    "rear-wheel-left": ("drop", "chain_stay", "rear_wheel", "rear_track"),
    "rear-wheel-right": ("drop", "chain_stay", "rear_wheel", "rear_track"),
    "head-top": ("head_angle", "head_tube"),
    "head-bottom": ("head_angle",),
    "crown": ("head_angle", "fork_length", "rake"),
    "front-axle": ("head_angle", "fork_length", "rake"),
    "front-axle-left": ("head_angle", "fork_length", "rake", "front_hub"),
    "front-axle-right": ("head_angle", "fork_length", "rake", "front_hub"),
}
"""Every point that a bicycle may have, and the fewest measured numbers that give it."""

WHEEL_POINTS: Final = ("rear-wheel-left", "rear-wheel-right")
"""Those of them that are in the middle of a wheel beside the frame."""

AXIS_NEEDS: Final = {"seat-axis": "seat_angle", "head-axis": "head_angle"}
"""Every axis, and the number that gives it."""


@dataclass(frozen=True, slots=True)
class Rear:
    """The rear end.

    Attributes
    ----------
    axle : (x, z), mm
    hub : float or None, mm
        Over the lock nuts, which is between the dropouts' inner faces.
    wheel : Wheel or None
    track : float or None, mm
        Between the middles of two wheels, one left and one right; ``None`` where one wheel runs in
        the middle plane.
    """

    axle: Flat
    hub: float | None = None
    wheel: Wheel | None = None
    track: float | None = None

    @property
    def chain_stay(self) -> float:
        """From the bracket's centre to the axle in side view, mm."""
        return math.hypot(*self.axle)


@dataclass(frozen=True, slots=True)
class Head:
    """The head tube: ``angle`` in degrees from the horizontal at the back, ``bottom`` (x, z) and
    ``tube``, its length, in mm; ``None`` where the length is not known.
    """

    angle: float
    bottom: Flat
    tube: float | None = None

    @property
    def up(self) -> Flat:
        """The direction of the steering axis, upward."""
        return leaning(self.angle)

    def down(self, down: float, ahead: float = 0.0) -> Flat:
        """From the bottom, ``down`` mm along the axis, then ``ahead`` mm square to it, forward."""
        (x, z), (ux, uz) = self.bottom, self.up
        return x - down * ux + ahead * uz, z - down * uz - ahead * ux

    @property
    def top(self) -> Flat | None:
        """The middle of the upper edge, (x, z) mm, where the length is known."""
        return None if self.tube is None else self.down(-self.tube)


@dataclass(frozen=True, slots=True)
class Fork:
    """The fork and what is in it.

    Attributes
    ----------
    length : float, mm
        From the crown race to the axle, along the steering axis.
    rake : float, mm
        From the steering axis to the axle, square to it.
    lower_stack : float, mm
        Head set between the crown race and the head tube.
    hub : float or None, mm
    wheel : Wheel or None
    """

    length: float
    rake: float
    lower_stack: float = 0.0
    hub: float | None = None
    wheel: Wheel | None = None

    def crown(self, head: Head) -> Flat:
        """The crown race's middle, (x, z) mm."""
        return head.down(self.lower_stack)

    def axle(self, head: Head) -> Flat:
        """The front axle, (x, z) mm."""
        return head.down(self.lower_stack + self.length, self.rake)


@dataclass(frozen=True, slots=True)
class Parts:
    """What fixes a bicycle; ``None`` where the numbers do not give it.

    Attributes
    ----------
    shell : float or None, mm
        Width of the bracket's shell.
    seat_angle : float or None, degrees
    rear : Rear or None
    head : Head or None
    fork : Fork or None
        Only with a head.
    """

    shell: float | None = None
    seat_angle: float | None = None
    rear: Rear | None = None
    head: Head | None = None
    fork: Fork | None = None

    @property
    def front_axle(self) -> Flat | None:
        """The front axle, (x, z) mm."""
        return None if self.head is None or self.fork is None else self.fork.axle(self.head)


@dataclass(frozen=True, slots=True)
class Bicycle:
    """A bicycle in the frame's axes, and how it stands.

    Attributes
    ----------
    points : dict of name to (x, y, z), mm
    axes : dict of name to a point of the axis and its unit direction, upward
    wheels : tuple of StandingWheel
        Those that are known, the rear ones first, the left one before the right.
    ground : Ground or None
        ``None`` where no rear wheel is known.
    parts : Parts
        What fixed all of it.
    """

    points: dict[str, Point] = field(default_factory=dict)
    axes: dict[str, Axis] = field(default_factory=dict)
    wheels: tuple[StandingWheel, ...] = ()
    ground: Ground | None = None
    parts: Parts = Parts()

    def standing(self, end: str) -> tuple[StandingWheel, ...]:
        """The wheels at one end, ``rear`` or ``front``."""
        return tuple(wheel for wheel in self.wheels if wheel.end == end)


def make_bicycle(parts: Parts) -> Bicycle:
    """Everything that ``parts`` say.

    Raises
    ------
    ShapeError
        Where the wheels cannot stand on one ground.
    """
    return Bicycle(_points(parts), _axes(parts), _wheels(parts), _ground(parts), parts)


def leaning(angle: float) -> Flat:
    """The upward direction (x, z) that makes ``angle`` degrees with the horizontal at the back."""
    lean = math.radians(angle)
    return -math.cos(lean), math.sin(lean)


def _points(parts: Parts) -> dict[str, Point]:
    points = {"bottom-bracket": (0.0, 0.0, 0.0)}
    points |= _sides("shell", (0.0, 0.0), parts.shell)
    if (rear := parts.rear) is not None:
        points |= {"axle": _middle(rear.axle), **_sides("axle", rear.axle, rear.hub),
                   **_sides("rear-wheel", rear.axle, rear.track)}
    if (head := parts.head) is None:
        return points
    if head.top is not None:
        points["head-top"] = _middle(head.top)
    points["head-bottom"] = _middle(head.bottom)
    if (fork := parts.fork) is not None:
        axle = fork.axle(head)
        points |= {"crown": _middle(fork.crown(head)), "front-axle": _middle(axle),
                   **_sides("front-axle", axle, fork.hub)}
    return points


def _middle(flat: Flat) -> Point:
    return flat[0], 0.0, flat[1]


def _sides(name: str, flat: Flat, width: float | None) -> dict[str, Point]:
    """The left and the right point ``width`` apart, where the width is known."""
    if width is None:
        return {}
    return {f"{name}-left": (flat[0], width / 2, flat[1]),
            f"{name}-right": (flat[0], -width / 2, flat[1])}


def _axes(parts: Parts) -> dict[str, Axis]:
    axes = {}
    if parts.seat_angle is not None:
        axes["seat-axis"] = ((0.0, 0.0, 0.0), _middle(leaning(parts.seat_angle)))
    if parts.head is not None:
        axes["head-axis"] = (_middle(parts.head.bottom), _middle(parts.head.up))
    return axes


def _wheels(parts: Parts) -> tuple[StandingWheel, ...]:
    wheels = [] if parts.rear is None else [*_rear_wheels(parts.rear)]
    if parts.fork is not None and parts.fork.wheel is not None and parts.front_axle is not None:
        wheels.append(StandingWheel("front", parts.fork.wheel, _middle(parts.front_axle)))
    return tuple(wheels)


def _rear_wheels(rear: Rear) -> Iterator[StandingWheel]:
    """The wheel in the middle plane, or two, the left one first."""
    if rear.wheel is None:
        return
    if rear.track is None:
        yield StandingWheel("rear", rear.wheel, _middle(rear.axle))
        return
    for name, at in _sides("rear", rear.axle, rear.track).items():
        yield StandingWheel(name, rear.wheel, at)


def _ground(parts: Parts) -> Ground | None:
    """The ground under the wheels, the bracket above it."""
    ground = _touching(parts)
    check_apart(_wheels(parts))
    if ground is not None and ground.bracket_height <= 0:
        raise ShapeError(f"the bracket would be {format_size(-ground.bracket_height)} below the "
                         "ground", "check the drop and the wheels")
    return ground


def _touching(parts: Parts) -> Ground | None:
    """The ground under both wheels; level where there is only the rear one."""
    rear, fork, front = parts.rear, parts.fork, parts.front_axle
    if rear is None or rear.wheel is None:
        return None
    if fork is None or fork.wheel is None or front is None:
        return Ground(0.0, rear.wheel.radius - rear.axle[1])
    return stand(rear.axle, rear.wheel.radius, front, fork.wheel.radius)


LEAN_DEG = (30.0, 110.0)
"""A seat or head angle outside these was measured from the other side, or is a slip."""


def check_lean(angle: float) -> float:
    """``angle`` itself, refused where no seat or head tube leans like that."""
    low, high = LEAN_DEG
    if low <= angle <= high:
        return angle
    raise ShapeError(f"{plain(angle)}° is not a bicycle's angle",
                     f"measure from the horizontal at the back, {low:g} to {high:g}")
