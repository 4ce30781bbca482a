"""The words beside a template: the joint, how to use the sheet, bevels, cautions."""

from __future__ import annotations

import numpy as np

from coper.drawing.marks import Mark
from coper.joint.cautions import cautions
from coper.joint.cope import Cope
from coper.joint.joint import Joint
from coper.joint.mountable import Mountable
from coper.joint.sides import clock_name
from coper.joint.template import Cut, Template
from coper.pages.furniture import check_bars
from coper.pages.measured import cure_words, measured_marks
from coper.pages.text import caution_column, column
from coper.shapes.words import tube_words
from coper.telling.words.joint import from_axis, named, stretch_words
from coper.units import format_length, format_short, format_size, plain

BEVEL_STEP_DEG = 45.0


def strip_notes(joint: Joint, cope: Cope, template: Template, glue: float) -> tuple[Mark, ...]:
    """What the branch's template is for and how it is used."""
    long, short = cope.long_point, cope.short_point
    lines: tuple[str | tuple[Mark, ...], ...] = (
        f"Branch {named(joint.branch)}",
        f"Main {named(joint.main)}",
        f"Angle {plain(joint.angle)}° from the main's + end, offset {format_length(joint.offset)}",
        f"{template.cut.capitalize()} cut: {CUT_WORDS[template.cut]}",
        f"Once round: {format_short(template.width)}, plus a glue tab of "
        f"{format_short(glue, 0)}; "
        f"paper {format_size(template.paper)} thick",
        f"Long point at clock {clock_name(joint, long.clock)}, "
        f"{format_length(abs(long.along))} {from_axis(joint, long.along)}",
        f"Short point at clock {clock_name(joint, short.clock)}, "
        f"{format_length(abs(short.along))} {from_axis(joint, short.along)}",
        *stretch_words(template),
        f"Measure {check_bars()} first:",
        measured_marks(),
        cure_words("the same"),
    )
    return column("Branch template", lines)


CUT_WORDS = {
    "bevelled": "the cut face follows the main's surface",
    "flat": "saw it in one plane, at the angle of its card",
    "square": "saw or grind square to the wall; the line clears the inside edge",
}


def footprint_notes(joint: Joint, cope: Cope) -> tuple[Mark, ...]:
    """How the footprint is used."""
    lines = (
        f"Where {tube_words(joint.branch)} lands on {tube_words(joint.main)}",
        f"Edge {format_short(cope.edge_length, 1)} long; the numbers round it are the branch's "
        "clock",
        "Lay the long chain line along the side of the main that faces the branch, the arrow "
        "towards the main's + end. The short one is the foot of the branch's axis.",
    )
    return column("Footprint on the main", lines)


def bevel_notes(joint: Mountable, cope: Cope) -> tuple[Mark, ...]:
    """The lean of the cut face at eight clocks, for grinding."""
    clocks = joint.counted(
        (joint.counted(joint.heel_clock) + np.arange(0.0, 360.0, BEVEL_STEP_DEG)) % 360)
    lines = tuple(
        f"Clock {clock_name(joint, clock)}: {_lean(bevel)}"
        for clock, bevel in zip(clocks, cope.at(clocks).bevel, strict=True)
    )
    return column("Bevel of the wall", ("Lean of the cut face from square.", *lines))


def _lean(bevel: float) -> str:
    if np.isnan(bevel):
        return "open"
    if round(abs(bevel)) == 0:
        return "square"
    side = "inside" if bevel > 0 else "outside"
    return f"{abs(bevel):.0f}°, {side} edge cut back"


def caution_notes(cope: Cope, cut: Cut) -> tuple[Mark, ...]:
    """The cautions, as a column."""
    return caution_column(cautions(cope, cut))
