"""What a person reads on the terminal after ``coper joint``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from coper.cli.tables import length_cell
from coper.joint.cautions import SAFETY
from coper.joint.cope import EdgePoint
from coper.joint.joint import Joint
from coper.joint.ordinates import Ordinates
from coper.joint.saw.setting import SawSetting
from coper.joint.sides import clock_name
from coper.shapes.shape import BranchShape, MainShape
from coper.telling.records.joint import sizes_of
from coper.telling.words.joint import from_axis, stretch_words, title
from coper.units import format_angle, format_length, format_mm
from coper.work.joint import JointWork


def joint_summary(work: JointWork, written: tuple[Path, ...]) -> Iterator[str]:
    """The lines of the summary, most needed first."""
    joint, cope = work.order.joint, work.cope
    yield title(joint)
    yield from _understood(joint)
    yield f"  cut          {work.order.cut}, edge {cope.edge_length:.1f} mm long"
    yield f"  long point   {_point(joint, cope.long_point)}"
    yield f"  short point  {_point(joint, cope.short_point)}"
    yield f"  template     {work.template.width:.2f} mm once round"
    yield from (f"               {line}" for line in stretch_words(work.template))
    yield from _saw(joint, work.saw)
    yield from _table(joint, work.ordinates)
    special = [caution for caution in work.cautions if caution not in SAFETY]
    yield from (f"  ! {caution}" for caution in (*special, *SAFETY))
    yield from (f"wrote {path}" for path in written)


def _understood(joint: Joint) -> Iterator[str]:
    yield f"  branch       {_tube(joint.branch)}"
    yield f"  main         {_tube(joint.main)}"
    yield (f"  angle        {format_angle(joint.angle)} from the main's + end, "
           f"offset {format_length(joint.offset)}")


def _tube(shape: BranchShape | MainShape) -> str:
    """Every size of a tube as it was understood."""
    sizes = (f"{name} {format_length(value)}" for name, value in sizes_of(shape).items()
             if value is not None)
    return ", ".join((shape.kind, *sizes))


def _point(joint: Joint, point: EdgePoint) -> str:
    return (f"{format_length(abs(point.along))} {from_axis(point.along)}, "
            f"clock {clock_name(joint, point.clock)}")


def _saw(joint: Joint, saw: SawSetting | None) -> Iterator[str]:
    if saw is None:
        return
    yield (f"  saw          {format_length(saw.diameter)}: set {format_angle(saw.set_angle)} "
           f"from square, offset {format_mm(saw.offset)},")
    yield (f"               its axis {format_mm(saw.centre_beyond_long_point)} beyond the long "
           f"point, {saw.rpm['mild steel']} rpm in mild steel")
    depth = "deep enough" if saw.depth_ok else "TOO SHALLOW: cut from both sides"
    yield (f"               travel {format_mm(saw.depth_needed)} of the usual "
           f"{format_mm(saw.depth)}: {depth}")
    if not saw.covers:
        yield "               TOO SMALL: it does not cover the tube; use the template"


def _table(joint: Joint, table: Ordinates) -> Iterator[str]:
    yield (f"  ordinates    from a line straight round the branch, {format_length(table.line)} "
           "up from the main's axis:")
    yield "    clock          way round      line to cut"
    for clock, way, length in zip(table.clock, table.way, table.length, strict=True):
        yield f"    {clock_name(joint, clock):<12} {format_mm(way):>11}   {length_cell(length)}"
