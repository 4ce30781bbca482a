"""A flat cut in words: how to set a saw that has a fence."""

from __future__ import annotations

from coper.bench.chop import ChopCut
from coper.joint.joint import Joint
from coper.joint.sides import clock_name, clock_words
from coper.telling.lines import Fact
from coper.units import format_angle

ACROSS = "straight across"
"""Of a cut that is square to the tube."""


def lay_words(chop: ChopCut, fence: str, up: str) -> str:
    """How the tube lies, its clocks given as they are called: ``180 (toe)``."""
    upward = f", clock {up} up" if chop.lean else ""
    return f"clock {fence} against the fence{upward}"


def swing_words(chop: ChopCut) -> str:
    """What the blade is set to."""
    if not chop.lean:
        return f"{format_angle(chop.angle)} from square, the side at the fence the longer one"
    return (f"swung {format_angle(chop.angle)} from square, the side at the fence the longer one; "
            f"leaned {format_angle(chop.lean)}, the upper side the longer one")


def chop_fact(joint: Joint, chop: ChopCut) -> Fact:
    """The whole setting for the end of one joint."""
    how = ACROSS if chop.square else (
        f"{swing_words(chop)}; "
        f"{lay_words(chop, clock_name(joint, chop.fence), clock_name(joint, chop.up))}")
    return Fact("flat", f"a chop saw or a band saw cuts it exactly: {how}")


def chop_steps(chop: ChopCut, fence: float, up: float) -> tuple[str, ...]:
    """The steps at the saw; ``fence`` and ``up`` are clocks of the tube, degrees."""
    if chop.square:
        return f"Chop saw or band saw: the cut is flat, {ACROSS}.",
    lay = lay_words(chop, clock_words(fence), clock_words(up))
    return ("Chop saw or band saw: the cut is flat.", f"Lay the tube with {lay}.",
            f"Set the blade {swing_words(chop)}.")
