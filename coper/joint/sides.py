"""The names of a branch's sides."""

from __future__ import annotations

from coper.joint.joint import Joint
from coper.shapes.checks import plain


def side_names(joint: Joint) -> dict[float, str]:
    """The names of the four sides of the branch, by their clock in degrees."""
    names = ("main +", "side", "main –", "side") if joint.angle == 90 else (
        "heel", "side", "toe", "side")
    return {joint.side_clock(quarters): name for quarters, name in enumerate(names)}


def clock_words(clock: float) -> str:
    """A clock to a tenth of a degree, from 0 and below 360."""
    return plain(round(clock, 1) % 360)


def clock_name(joint: Joint, clock: float) -> str:
    """A clock to a tenth, with the name of its side where it has one: ``180 (toe)``."""
    told = clock_words(clock)
    for known, name in side_names(joint).items():
        if told == clock_words(known):
            return f"{told} ({name})"
    return told
