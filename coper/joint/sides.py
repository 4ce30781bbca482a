"""The names of a branch's sides."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from coper.joint.joint import Joint
from coper.units import plain


@lru_cache(maxsize=16)  # a sheet asks for every clock that it names, and each side is a search
def side_names(joint: Joint) -> Mapping[float, str]:
    """The names of the four sides of the branch, by their clock in degrees."""
    names = ("main +", "side", "main –", "side") if joint.angle == 90 else (
        "heel", "side", "toe", "side")
    return MappingProxyType(
        {joint.side_clock(quarters): name for quarters, name in enumerate(names)})


def clock_words(clock: float) -> str:
    """A clock to a tenth of a degree, from 0 and below 360."""
    return plain(round(clock, 1) % 360)


def clock_name(joint: Joint, clock: float) -> str:
    """A clock to a tenth, with the name of its side where it has one: ``180 (toe)``."""
    words = clock_words(clock)
    for known, name in side_names(joint).items():
        if words == clock_words(known):
            return f"{words} ({name})"
    return words
