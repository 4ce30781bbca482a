"""The names of a branch's sides."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Protocol

from coper.arrays import Number
from coper.units import plain


class Sided(Protocol):
    """What has sides: a branch that leans to one side of its main."""

    def __hash__(self) -> int:
        """It never changes."""

    @property
    def angle(self) -> float:
        """Between the axes, degrees."""

    @property
    def heel_clock(self) -> float:
        """Clock of the acute side, degrees."""

    @property
    def toe_clock(self) -> float:
        """Clock of the obtuse side, degrees."""

    def side_clock(self, quarters: int) -> float:
        """The clock, degrees, that stands so many quarter turns on from the heel."""

    def counted(self, clock: Number) -> Number:
        """Clocks, degrees, as the person counts them; the same back again."""


@lru_cache(maxsize=16)  # a sheet asks for every clock that it names, and each side is a search
def side_names(joint: Sided) -> Mapping[float, str]:
    """The names of the four sides of the branch, by their clock in degrees."""
    names = ("main +", "side", "main –", "side") if joint.angle == 90 else (
        "heel", "side", "toe", "side")
    return MappingProxyType(
        {joint.side_clock(quarters): name for quarters, name in enumerate(names)})


def clock_words(clock: float) -> str:
    """A clock to a tenth of a degree, from 0 and below 360."""
    return plain(round(clock, 1) % 360)


def clock_name(joint: Sided, clock: float) -> str:
    """A clock to a tenth as it is counted, and the name of its side, if any: ``180 (toe)``."""
    words, shown = clock_words(clock), clock_words(joint.counted(clock))
    for known, name in side_names(joint).items():
        if words == clock_words(known):
            return f"{shown} ({name})"
    return shown


def counted_turn(joint: Sided, turn: Number) -> Number:
    """Turns about the branch, degrees, the way that the person counts; the same the other way."""
    return turn if joint.counted(QUARTER) == QUARTER else -turn + 0.0


QUARTER = 90.0
"""A clock that is another one where clocks are counted the other way."""
