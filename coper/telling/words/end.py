"""An end of a job in words."""

from __future__ import annotations

from collections.abc import Iterator

from coper.frame.end import TubeEnd
from coper.job.named_end import JobEnd
from coper.joint.ordinates import Ordinates
from coper.joint.sides import clock_name
from coper.joint.template import Template
from coper.shapes.words import tube_words
from coper.telling.cells import length_cells, length_heads, short_cell
from coper.telling.grid import Grid
from coper.telling.lines import Fact, Line
from coper.telling.words.job import end_fact
from coper.telling.words.joint import named, stretch_words
from coper.telling.words.piece import flat_words, zero_words
from coper.units import first_unit, format_length, format_short


def end_title(end: JobEnd) -> str:
    """The end in one short line."""
    return f"{end.name}: {tube_words(end.piece.tube.shape)} {seat_words(end.end)}"


def seat_words(end: TubeEnd) -> str:
    """What an end seats on, or how it is cut in one plane."""
    if end.flat is not None:
        return flat_words(end.flat)
    return f"on {', '.join(main.label for main in end.mains)}"


def end_facts(end: JobEnd, template: Template) -> Iterator[Line]:
    """The end as the job has it, every length from the tube's start point."""
    tube, cope = end.piece.tube, end.end.cope
    assert cope is not None
    yield Fact("tube", f"{named(tube.shape)}, {format_length(tube.length)} from point to point")
    yield Fact("clock 0", zero_words(tube))
    yield end_fact(end.end)
    yield Fact("cut", f"{end.end.cut}, edge {format_short(cope.edge_length, 1)} long")
    yield Fact("template", f"{format_short(template.width)} once round", stretch_words(template))


def end_ordinates(end: JobEnd, table: Ordinates) -> Grid:
    """The lengths to set off, clocks and line as the tube counts them."""
    joint = end.joint
    rows = tuple(
        (clock_name(joint, joint.counted(clock)), short_cell(way), *length_cells(length))
        for clock, way, length in zip(
            table.clock.tolist(), table.way, table.length, strict=True))
    return Grid("The ordinates",
                ("clock", f"way round {first_unit()}", *length_heads("line to cut")), rows,
                f"From a line drawn straight round the tube, {format_length(table.line)} from its "
                f"start point and {format_length(end.piece.from_blank(end.end, table.line))} from "
                f"the blank's {end.end.which}.")
