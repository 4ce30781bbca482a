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
from coper.shapes.checks import plain

AGREE_MM: Final = 2.0
"""Two measured numbers that differ by no more say the same: what a tape on a frame is good for."""


def solve(told: Measured) -> Parts:
    """What the measured numbers fix; nothing that they need is missing from them.

    With ``front_centre`` or ``wheelbase`` for the head tube's place, the frame's axes are level
    with the ground.

    Raises
    ------
    ShapeError
        Where no bicycle has these numbers; ``where`` is the key.
    """
    fork = _fork(told)
    if told.place in LEVEL:
        rear = _rear(told, Ground(0.0, told.height or 0.0))
        head = _head_over(told, rear, fork)
        return Parts(told.shell, told.seat_angle, rear, head, fork)
    head = _head(told)
    rear = _rear(told, _height_ground(told, head, fork))
    return Parts(told.shell, told.seat_angle, rear, head, fork)


def _fork(told: Measured) -> Fork | None:
    if told.fork_length is None or told.rake is None:
        return None
    return Fork(told.fork_length, told.rake, told.lower_stack or 0.0, told.front_hub,
                told.front_wheel)


def _head(told: Measured) -> Head | None:
    """The head tube from its lower edge, or down from its upper one."""
    if told.head_angle is None:
        return None
    if told.head_bottom is not None:
        return Head(told.head_angle, told.head_bottom, told.head_tube)
    if told.reach is None or told.stack is None or told.head_tube is None:
        return None
    top = Head(told.head_angle, (told.reach, told.stack), told.head_tube)
    return Head(told.head_angle, top.down(told.head_tube), told.head_tube)


def _height_ground(told: Measured, head: Head | None, fork: Fork | None) -> Ground:
    """The ground as the front and the bracket's height tell it; level where there is no front.

    Derived: seen from below, a height is a circle round the bracket that the ground touches.
    """
    height = told.height or 0.0
    if told.drop is not None or head is None or fork is None or fork.wheel is None:
        return Ground(0.0, height)
    try:
        return stand((0.0, 0.0), height, fork.axle(head), fork.wheel.radius)
    except ShapeError as error:
        raise ShapeError("no ground touches the front wheel and leaves the bracket "
                         f"{plain(height)} mm above it", "check height and the front's numbers",
                         "height") from error


def _rear(told: Measured, ground: Ground) -> Rear | None:
    """The rear axle: ``drop`` is in the frame's axes, ``height`` above ``ground``."""
    wheel = told.rear_wheel
    if told.drop is not None:
        axle = _axle(told, Ground(0.0, 0.0), told.drop, "drop")
    elif told.height is not None and wheel is not None:
        axle = _axle(told, ground, wheel.radius - told.height, "height")
    else:
        return None
    return Rear(axle, told.rear_hub, wheel)


def _axle(told: Measured, ground: Ground, rise: float, key: str) -> Flat:
    """The axle ``rise`` mm further from the ground than the bracket."""
    if told.chain_stay is None:
        (x, z), back = ground.up, told.axle_back or 0.0
        return -back, (rise + back * x) / z
    return behind(told.chain_stay, ground, rise, key)


def behind(chain_stay: float, ground: Ground, rise: float, key: str) -> Flat:
    """The point ``chain_stay`` mm from the bracket, behind it and ``rise`` mm up from the ground.

    Raises
    ------
    ShapeError
        At ``key``, where the stay is too short for that.
    """
    if abs(rise) >= chain_stay:
        way = "above" if rise > 0 else "below"
        raise ShapeError(f"puts the rear axle {plain(abs(rise))} mm {way} the bracket, and the "
                         f"chain_stay is {plain(chain_stay)} mm long", "check both", key)
    back = math.sqrt(chain_stay**2 - rise**2)
    (tx, tz), (nx, nz) = ground.along, ground.up
    return rise * nx - back * tx, rise * nz - back * tz


def _head_over(told: Measured, rear: Rear | None, fork: Fork | None) -> Head | None:
    """The head tube over a front axle that stands on level ground with the rear one."""
    if rear is None or fork is None or told.head_angle is None:
        return None
    rise = rear.axle[1] + _radius(fork.wheel) - _radius(rear.wheel)
    if told.front_centre is None:
        ahead = rear.axle[0] + (told.wheelbase or 0.0)
    elif abs(rise) < told.front_centre:
        ahead = math.sqrt(told.front_centre**2 - rise**2)
    else:
        raise ShapeError(f"{plain(told.front_centre)} mm do not reach the front axle, which is "
                         f"{plain(rise)} mm above the bracket", "check it and the wheels",
                         "front_centre")
    x, z = fork.axle(Head(told.head_angle, (0.0, 0.0)))
    return Head(told.head_angle, (ahead - x, rise - z), told.head_tube)


def _radius(wheel: Wheel | None) -> float:
    return 0.0 if wheel is None else wheel.radius


def contradictions(told: Measured, bicycle: Bicycle) -> Iterator[CoperError]:
    """Numbers that were measured, and that the others do not say too; each at its key."""
    for key, by, said in _redundant(told, bicycle):
        measured = getattr(told, key)
        if abs(measured - said) > AGREE_MM:
            yield CoperError(f"{plain(measured)} mm, and {_listed(by)} say "
                             f"{plain(round(said, 2))} mm",
                             "measure again, and take out what is wrong", key)


def _listed(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}"


Redundant = Iterator[tuple[str, tuple[str, ...], float]]
"""Each measured length that fixed nothing, the keys that did in its place, and what they say."""


def _redundant(told: Measured, bicycle: Bicycle) -> Redundant:
    rear, head, front = bicycle.parts.rear, bicycle.parts.head, bicycle.parts.front_axle
    place = told.place
    by = ("reach", "stack", "head_tube") if place == "stack" else (str(place),)
    fork = (*by, "head_angle", *FORK)
    if rear is not None and told.has("chain_stay", "axle_back"):
        yield "axle_back", ("chain_stay", *told.any_of("drop", "height")[:1]), -rear.axle[0]
    if bicycle.ground is not None and told.has("drop", "height"):
        rest = fork if len(bicycle.wheels) > 1 and place not in LEVEL else ()
        yield "height", (*rest, "drop", "rear_wheel"), bicycle.ground.bracket_height
    if head is not None and head.top is not None and place != "stack":
        yield from ((key, (*by, "head_angle", "head_tube"), at) for key, at in
                    zip(("reach", "stack"), head.top, strict=True) if told.has(key))
    if front is not None and told.has("front_centre") and place != "front_centre":
        yield "front_centre", fork, math.hypot(*front)
    wheelbase = measure(bicycle).wheelbase
    if wheelbase is not None and told.has("wheelbase") and place != "wheelbase":
        yield "wheelbase", (*fork, *told.any_of("chain_stay", "axle_back")[:1]), wheelbase
