"""From measured numbers to what fixes a bicycle, and where they contradict each other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from coper.bicycle.bicycle import Bicycle, Fork, Head, Parts, Rear
from coper.bicycle.ground import Flat, Ground, stand
from coper.bicycle.measured import FORK, LEVEL, Measured
from coper.bicycle.measures import measure
from coper.bicycle.wheel import Wheel
from coper.errors import CoperError, ShapeError
from coper.units import format_size

AGREE_MM: Final = 2.0
"""Two measured numbers that differ by no more agree: a tape on a frame is good to this."""


def solve(measured: Measured) -> Parts:
    """The parts that the measured numbers fix; :func:`missing` has found nothing missing.

    With ``front_centre`` or ``wheelbase`` for the head tube's place, the frame's axes are level
    with the ground.

    Raises
    ------
    ShapeError
        Where no bicycle has these numbers; ``where`` is the key.
    """
    fork = _fork(measured)
    if measured.place in LEVEL:
        rear = _rear(measured, Ground(0.0, measured.height or 0.0))
        head = _head_over(measured, rear, fork)
        return Parts(measured.shell, measured.seat_angle, rear, head, fork)
    head = _head(measured)
    rear = _rear(measured, _height_ground(measured, head, fork))
    return Parts(measured.shell, measured.seat_angle, rear, head, fork)


def _fork(measured: Measured) -> Fork | None:
    if measured.fork_length is None or measured.rake is None:
        return None
    return Fork(measured.fork_length, measured.rake, measured.lower_stack or 0.0,
                measured.front_hub, measured.front_wheel)


def _head(measured: Measured) -> Head | None:
    """The head tube from its lower edge, or down from its upper one."""
    if measured.head_angle is None:
        return None
    if measured.head_bottom is not None:
        return Head(measured.head_angle, measured.head_bottom, measured.head_tube)
    if measured.reach is None or measured.stack is None or measured.head_tube is None:
        return None
    top = Head(measured.head_angle, (measured.reach, measured.stack), measured.head_tube)
    return Head(measured.head_angle, top.down(measured.head_tube), measured.head_tube)


def _height_ground(measured: Measured, head: Head | None, fork: Fork | None) -> Ground:
    """The ground from the front and the bracket's height; level where there is no front.

    Derived: seen from below, a height is a circle round the bracket that the ground touches.
    """
    height = measured.height or 0.0
    if measured.drop is not None or head is None or fork is None or fork.wheel is None:
        return Ground(0.0, height)
    try:
        return stand((0.0, 0.0), height, fork.axle(head), fork.wheel.radius)
    except ShapeError as error:
        raise ShapeError("no ground touches the front wheel and leaves the bracket "
                         f"{format_size(height)} above it", "check height and the front's numbers",
                         "height") from error


def _rear(measured: Measured, ground: Ground) -> Rear | None:
    """The rear axle: ``drop`` is in the frame's axes, ``height`` above ``ground``."""
    wheel = measured.rear_wheel
    if measured.drop is not None:
        axle = _axle(measured, Ground(0.0, 0.0), measured.drop, "drop")
    elif measured.height is not None and wheel is not None:
        axle = _axle(measured, ground, wheel.radius - measured.height, "height")
    else:
        return None
    return Rear(axle, measured.rear_hub, wheel, measured.rear_track)


def _axle(measured: Measured, ground: Ground, rise: float, key: str) -> Flat:
    """The axle ``rise`` mm further from the ground than the bracket."""
    if measured.chain_stay is None:
        (x, z), back = ground.up, measured.axle_back or 0.0
        return -back, (rise + back * x) / z
    return behind(measured.chain_stay, ground, rise, key)


def behind(chain_stay: float, ground: Ground, rise: float, key: str) -> Flat:
    """The point ``chain_stay`` mm from the bracket, behind it and ``rise`` mm up from the ground.

    Raises
    ------
    ShapeError
        At ``key``, where the stay is too short for that.
    """
    if abs(rise) >= chain_stay:
        way = "above" if rise > 0 else "below"
        raise ShapeError(f"puts the rear axle {format_size(abs(rise))} {way} the bracket, and the "
                         f"chain_stay is {format_size(chain_stay)} long", "check both", key)
    back = math.sqrt(chain_stay**2 - rise**2)
    (tx, tz), (nx, nz) = ground.along, ground.up
    return rise * nx - back * tx, rise * nz - back * tz


def _head_over(measured: Measured, rear: Rear | None, fork: Fork | None) -> Head | None:
    """The head tube over a front axle that stands on level ground with the rear one."""
    if rear is None or fork is None or measured.head_angle is None:
        return None
    rise = rear.axle[1] + _radius(fork.wheel) - _radius(rear.wheel)
    if measured.front_centre is None:
        ahead = rear.axle[0] + (measured.wheelbase or 0.0)
    elif abs(rise) < measured.front_centre:
        ahead = math.sqrt(measured.front_centre**2 - rise**2)
    else:
        raise ShapeError(f"{format_size(measured.front_centre)} does not reach the front axle, "
                         f"{format_size(rise)} above the bracket", "check it and the wheels",
                         "front_centre")
    x, z = fork.axle(Head(measured.head_angle, (0.0, 0.0)))
    return Head(measured.head_angle, (ahead - x, rise - z), measured.head_tube)


def _radius(wheel: Wheel | None) -> float:
    return 0.0 if wheel is None else wheel.radius


def contradictions(measured: Measured, bicycle: Bicycle) -> Iterator[CoperError]:
    """Measured numbers that the others contradict, each at its key."""
    for key, by, derived in _redundant(measured, bicycle):
        value = getattr(measured, key)
        if abs(value - derived) > AGREE_MM:
            yield CoperError(f"{format_size(value)}, but {_listed(by)} give "
                             f"{format_size(round(derived, 2))}",
                             "measure again, and take out the wrong one", key)


def _listed(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}"


Redundant = Iterator[tuple[str, tuple[str, ...], float]]
"""A measured length that fixed nothing, the keys that did instead, and the length they give."""


def _redundant(measured: Measured, bicycle: Bicycle) -> Redundant:
    rear, head, front = bicycle.parts.rear, bicycle.parts.head, bicycle.parts.front_axle
    place = measured.place
    by = ("reach", "stack", "head_tube") if place == "stack" else (str(place),)
    fork = (*by, "head_angle", *FORK)
    if rear is not None and measured.has("chain_stay", "axle_back"):
        yield "axle_back", ("chain_stay", *measured.any_of("drop", "height")[:1]), -rear.axle[0]
    if bicycle.ground is not None and measured.has("drop", "height"):
        rest = fork if bicycle.standing("front") and place not in LEVEL else ()
        yield "height", (*rest, "drop", "rear_wheel"), bicycle.ground.bracket_height
    if head is not None and head.top is not None and place != "stack":
        yield from ((key, (*by, "head_angle", "head_tube"), at) for key, at in
                    zip(("reach", "stack"), head.top, strict=True) if measured.has(key))
    if front is not None and measured.has("front_centre") and place != "front_centre":
        yield "front_centre", fork, math.hypot(*front)
    wheelbase = measure(bicycle).wheelbase
    if wheelbase is not None and measured.has("wheelbase") and place != "wheelbase":
        yield "wheelbase", (*fork, *measured.any_of("chain_stay", "axle_back")[:1]), wheelbase
