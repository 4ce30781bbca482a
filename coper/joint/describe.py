"""A joint in words, for the terminal and the paper alike."""

from __future__ import annotations

from coper.joint.joint import Joint
from coper.shapes.checks import plain


def title(joint: Joint) -> str:
    """The joint in one short line."""
    offset = f", offset {plain(joint.offset)}" if joint.offset else ""
    return f"{joint.branch.words()} on {joint.main.words()} at {plain(joint.angle)}°{offset}"


def side_names(joint: Joint) -> dict[float, str]:
    """The names of the four sides of the branch, by their clock in degrees."""
    heel = joint.heel_clock
    names = ("main +", "side", "main –", "side") if joint.angle == 90 else (
        "heel", "side", "toe", "side")
    return {(heel + 90 * quarter) % 360: name for quarter, name in enumerate(names)}


def clock_name(joint: Joint, clock: float) -> str:
    """A clock with the name of its side, where it has one: ``180 (toe)``."""
    for known, name in side_names(joint).items():
        if abs((clock - known + 180) % 360 - 180) < HALF_TENTH:
            return f"{clock:.0f} ({name})"
    return f"{clock:.0f}"


HALF_TENTH = 0.05
"""Half of the last digit in which a clock is told apart from a side's, degrees."""


def from_axis(along: float) -> str:
    """Which way a place on the branch lies from the main's axis, in words after its length."""
    return "up the branch from the main's axis" if along >= 0 else "beyond the main's axis"
