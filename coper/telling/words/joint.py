"""A joint in words, for the terminal and the paper alike."""

from __future__ import annotations

from coper.joint.joint import Joint
from coper.joint.template import Template
from coper.shapes.checks import plain
from coper.shapes.shape import BranchShape, MainShape
from coper.units import format_length


def title(joint: Joint) -> str:
    """The joint in one short line."""
    offset = f", offset {plain(joint.offset)}" if joint.offset else ""
    return f"{joint.branch.words()} on {joint.main.words()} at {plain(joint.angle)}°{offset}"


def named(shape: BranchShape | MainShape) -> str:
    """A tube in the words of the grammar, and its kind where they do not say it."""
    words = shape.words()
    return words if words.startswith(shape.kind) else f"{words} ({shape.kind})"


def from_axis(along: float) -> str:
    """Which way a place on the branch lies from the main's axis, in words after its length."""
    return "up the branch from the main's axis" if along >= 0 else "beyond the main's axis"


def stretch_words(template: Template) -> tuple[str, ...]:
    """What to know where flat paper cannot follow the tube exactly."""
    if template.stretch < SHOWN_STRETCH_MM:
        return ()
    return (f"This tube does not unroll exactly: lengths round it are off by up to "
            f"{template.stretch:.2f} mm; ease the paper evenly.",)


SHOWN_STRETCH_MM = 0.005
"""A stretch that rounds to 0.00 mm is not worth a line."""


def slide_words(slide: float) -> str:
    """Where the seated branch is, against the design, mm; above 0 is away."""
    if abs(slide) < SHOWN_SLIDE_MM:
        return "where the design puts it"
    way = "further out than" if slide > 0 else "further in than"
    return f"{format_length(abs(slide))} {way} the design puts it"


SHOWN_SLIDE_MM = 0.005
"""What rounds to 0.00 mm is no slide."""
