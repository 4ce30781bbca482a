"""A joint in words, for the terminal and the paper alike."""

from __future__ import annotations

from collections.abc import Iterator

from coper.joint.cope import Cope, EdgePoint
from coper.joint.joint import Joint
from coper.joint.ordinates import Ordinates
from coper.joint.saw.setting import SawSetting, too_shallow
from coper.joint.sides import clock_name
from coper.joint.template import Template
from coper.shapes.shape import BranchShape, MainShape
from coper.shapes.words import tube_words
from coper.telling.cells import length_cells, length_heads, short_cell
from coper.telling.grid import Grid
from coper.telling.lines import Fact
from coper.telling.sizes import sizes_of
from coper.units import (
    first_unit,
    format_angle,
    format_gap,
    format_length,
    format_number,
    format_short,
    in_inches,
    plain,
)


def title(joint: Joint) -> str:
    """The joint in one short line."""
    unit = " in" if in_inches() else ""
    offset = f", offset {format_number(joint.offset)}{unit}" if joint.offset else ""
    return (f"{tube_words(joint.branch)} on {tube_words(joint.main)} at "
            f"{plain(joint.angle)}°{offset}")


def named(shape: BranchShape | MainShape) -> str:
    """A tube in the words of the grammar, and its kind where they do not say it."""
    words = tube_words(shape)
    return words if words.startswith(shape.kind) else f"{words} ({shape.kind})"


def origin_words(joint: Joint) -> str:
    """What an along counts from: a plate has a face and no axis."""
    return f"main's {'face' if joint.main.kind == 'plate' else 'axis'}"


def from_axis(joint: Joint, along: float) -> str:
    """Which way a place on the branch lies from where its along is 0, in words after a length."""
    return f"{'up the branch from' if along >= 0 else 'beyond'} the {origin_words(joint)}"


def stretch_words(template: Template) -> tuple[str, ...]:
    """A warning where flat paper cannot follow the tube exactly."""
    if template.stretch < SHOWN_STRETCH_MM:
        return ()
    return (f"This tube does not unroll exactly: lengths round it are off by up to "
            f"{format_short(template.stretch)}; ease the paper round evenly.",)


SHOWN_STRETCH_MM = 0.005
"""A stretch that rounds to 0.00 mm is not worth a line."""


def slide_words(slide: float) -> str:
    """Where the seated branch sits against the design, mm; above 0 is away from the main."""
    if abs(slide) < SHOWN_SLIDE_MM:
        return "as designed"
    way = "out" if slide > 0 else "in"
    return f"{format_length(abs(slide))} further {way} than designed"


SHOWN_SLIDE_MM = 0.005
"""What rounds to 0.00 mm is no slide."""


def joint_facts(joint: Joint) -> Iterator[Fact]:
    """The joint as it was understood, every size of its tubes."""
    yield Fact("branch", _sizes(joint.branch))
    yield Fact("main", _sizes(joint.main))
    yield Fact("angle", f"{format_angle(joint.angle)} from the main's + end, "
               f"offset {format_length(joint.offset)}")


def _sizes(shape: BranchShape | MainShape) -> str:
    sizes = (f"{name} {(format_gap if name == 'wall' else format_length)(value)}"
             for name, value in sizes_of(shape).items() if value is not None)
    return ", ".join((shape.kind, *sizes))


def cope_facts(joint: Joint, cope: Cope, template: Template) -> Iterator[Fact]:
    """The edge, its two extremes, and the template's length."""
    yield Fact("cut", f"{template.cut}, edge {format_short(cope.edge_length, 1)} long")
    yield Fact("long point", _point(joint, cope.long_point))
    yield Fact("short point", _point(joint, cope.short_point))
    yield Fact("template", f"{format_short(template.width)} once round", stretch_words(template))


def _point(joint: Joint, point: EdgePoint) -> str:
    return (f"{format_length(abs(point.along))} {from_axis(joint, point.along)}, "
            f"clock {clock_name(joint, point.clock)}")


def own_saw_fact(saw: SawSetting) -> Fact:
    """How a saw of the main's own diameter is set."""
    if not saw.reaches:
        short = too_shallow(saw.depth_needed, saw.depth)
        return Fact("saw", f"none: {short.fault}", (f"{short.cure}",))
    depth = "deep enough" if saw.depth_ok else "TOO SHALLOW: cut from both sides"
    small = () if saw.covers else ("TOO SMALL: it does not cover the tube; use the template",)
    return Fact(
        "saw",
        f"{format_length(saw.diameter)}: set {format_angle(saw.set_angle)} from square, "
        f"offset {format_short(saw.offset)},",
        (f"its axis {format_short(saw.centre_beyond_long_point)} beyond the long point, "
         f"{saw.rpm['mild steel']} rpm in mild steel",
         f"travel {format_short(saw.depth_needed)} of the usual {format_short(saw.depth)}: {depth}",
         *small))


def ordinates_table(joint: Joint, table: Ordinates) -> Grid:
    """The lengths to set off."""
    rows = tuple((clock_name(joint, clock), short_cell(way), *length_cells(length))
                 for clock, way, length in zip(table.clock, table.way, table.length, strict=True))
    return Grid("The ordinates",
                ("clock", f"way round {first_unit()}", *length_heads("line to cut")), rows,
                "From a line straight round the branch, "
                f"{format_length(table.line)} up from the {origin_words(joint)}.")
