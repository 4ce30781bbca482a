"""What the numbers of a bicycle are for, and which are still wanting."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

from coper.bicycle.measured import LEVEL, NEEDS, Measured

Way: TypeAlias = tuple[str, ...]
"""Keys that together say something."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What some numbers give.

    Attributes
    ----------
    name : str
    needs : tuple of tuples of Way
        All of them are needed, and of each any one way will do, the most usual first.
    after : tuple of str
        The aims that come before it.
    """

    name: str
    needs: tuple[tuple[Way, ...], ...]
    after: tuple[str, ...] = ()


AXLE, HEAD, FRONT = "rear axle", "head tube", "front axle"

AIMS: Final = (
    Aim(AXLE, ((("drop",), ("height", "rear_wheel")), (("chain_stay",), ("axle_back",)))),
    Aim(HEAD, ((("head_angle",),),
               (("reach", "stack"), ("head_bottom",), *((key, *NEEDS[key]) for key in LEVEL)),
               (("head_tube",),))),
    Aim(FRONT, ((("fork_length",),), (("rake",),)), (HEAD,)),
    Aim("trail, wheelbase and angles on the ground", ((("rear_wheel",),), (("front_wheel",),)),
        (AXLE, FRONT)),
)
"""What a bicycle is measured for, in the order in which that is done."""


@dataclass(frozen=True, slots=True)
class Wanting:
    """What an aim still lacks: ways of its own, and the aims before it that are not reached."""

    aim: Aim
    ways: tuple[tuple[Way, ...], ...]
    after: tuple[str, ...]

    @property
    def reached(self) -> bool:
        """Whether nothing is wanting."""
        return not self.ways and not self.after


def wanting(measured: Measured) -> tuple[Wanting, ...]:
    """Of every aim what it still lacks."""
    found: dict[str, Wanting] = {}
    for aim in AIMS:
        found[aim.name] = Wanting(
            aim, tuple(ways for ways in aim.needs if not any(measured.has(*way) for way in ways)),
            tuple(name for name in aim.after if not found[name].reached))
    return tuple(found.values())
