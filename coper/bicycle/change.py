"""Another fork, other wheels or another rear end in the same frame."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace

from coper.bicycle.bicycle import Bicycle, Fork, Parts, Rear, make_bicycle
from coper.bicycle.ground import Flat, Ground
from coper.bicycle.solve import behind
from coper.bicycle.wheel import Wheel
from coper.errors import ShapeError
from coper.units import format_angle, plain


@dataclass(frozen=True, slots=True)
class Change:
    """What becomes different; ``None`` stays. The bracket and the head tube stay where they are.

    Attributes
    ----------
    fork_length, rake : float or None, mm
    front_wheel, rear_wheel : Wheel or None
    drop : float or None, mm
        The rear axle moves to this drop, at the same length of chain stay.
    chain_stay : float or None, mm
        The rear axle moves to this distance from the bracket, at the same drop.
    head_angle : float or None, degrees
        On the ground: the rear axle moves to the drop that gives it.
    """

    fork_length: float | None = None
    rake: float | None = None
    front_wheel: Wheel | None = None
    rear_wheel: Wheel | None = None
    drop: float | None = None
    chain_stay: float | None = None
    head_angle: float | None = None

    @property
    def asked(self) -> tuple[str, ...]:
        """The names of what becomes different."""
        return tuple(field.name for field in fields(self) if getattr(self, field.name) is not None)


def changed(bicycle: Bicycle, change: Change) -> Bicycle:
    """The bicycle with ``change``, on the ground again.

    Raises
    ------
    ShapeError
        Where it lacks what would change, or nothing gives what was asked; ``where`` is the name.
    """
    if change.drop is not None and change.head_angle is not None:
        raise ShapeError("drop says where the axle goes, and head_angle asks for it",
                         "give one of them", "head_angle")
    parts = bicycle.parts
    fork, rear = _new_fork(parts.fork, change), _new_rear(parts.rear, change)
    parts = replace(parts, fork=fork, rear=rear)
    if change.head_angle is not None:
        parts = _leaned(parts, change.head_angle)
    try:
        return make_bicycle(parts)
    except ShapeError as error:
        raise error.at("with this change") from error


def _new_fork(fork: Fork | None, change: Change) -> Fork | None:
    names = [name for name in change.asked if name in ("fork_length", "rake", "front_wheel")]
    if not names:
        return fork
    if fork is None:
        raise ShapeError("the bicycle has no fork to change", "give the front's numbers in "
                         "[bicycle]: head_angle, fork_length, rake", names[0])
    return Fork(_either(change.fork_length, fork.length), _either(change.rake, fork.rake),
                fork.lower_stack, fork.hub, change.front_wheel or fork.wheel)


def _new_rear(rear: Rear | None, change: Change) -> Rear | None:
    names = [name for name in change.asked if name in ("rear_wheel", "drop", "chain_stay")]
    if not names:
        return rear
    if rear is None:
        raise ShapeError("the bicycle has no rear axle to change", "give the rear's numbers in "
                         "[bicycle]: drop, chain_stay", names[0])
    axle = rear.axle
    if moved := [name for name in names if name != "rear_wheel"]:
        axle = behind(_either(change.chain_stay, rear.chain_stay), Ground(0.0, 0.0),
                      _either(change.drop, axle[1]), moved[0])
    return replace(rear, axle=axle, wheel=change.rear_wheel or rear.wheel)


def _either(one: float | None, other: float) -> float:
    return other if one is None else one


def _leaned(parts: Parts, wanted: float) -> Parts:
    """The rear axle moved along its arc until the head angle on the ground is ``wanted``.

    Derived: the wanted angle says the ground's slope, and the front wheel its height; the rear
    axle is its radius above that ground and a chain stay from the bracket.
    """
    rear, head, fork, front = parts.rear, parts.head, parts.fork, parts.front_axle
    if (rear is None or head is None or fork is None or front is None or rear.wheel is None
            or fork.wheel is None):
        raise ShapeError("a head angle on the ground needs both ends and both wheels",
                         "give them in [bicycle]", "head_angle")
    over = rear.wheel.radius - fork.wheel.radius
    ground = Ground(head.angle - wanted, 0.0)
    rise = ground.height(front) + over
    if abs(rise) >= rear.chain_stay:
        raise _out_of_reach(wanted, head.angle, front, over, rear.chain_stay)
    return replace(parts, rear=replace(rear, axle=behind(rear.chain_stay, ground, rise,
                                                         "head_angle")))


def _out_of_reach(
    wanted: float, head_angle: float, front: Flat, over: float, stay: float
) -> ShapeError:
    """Which angles there are: those with the axle straight above and straight below the bracket.

    Derived: the axle's height over the bracket is ``over + front . n``, ``n`` the ground's normal,
    which is ``over + |front| sin(slope of front - slope of ground)``.
    """
    apart, slope = math.hypot(*front), math.degrees(math.atan2(front[1], front[0]))
    low, high = (head_angle + slope - math.degrees(math.asin(
        max(-1.0, min((rise - over) / apart, 1.0)))) for rise in (stay, -stay))
    return ShapeError(
        f"no drop gives {plain(wanted)}°: this chain stay, fork and wheels can give "
        f"{format_angle(low)} to {format_angle(high)}", "ask for one between", "head_angle")
