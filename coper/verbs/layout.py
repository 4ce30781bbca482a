"""``coper layout``: the frame of a job file on the flat table.

The frame lies on its right side with its front to the left and its top away from you; you stand
at the table's straight front edge. With lies = "flat" under [table] it lies as it will stand, as a
trailer, a gate, a kart or a rack is built: its front to the right and its left side away from you,
so that a point's x is measured from the left end, its y from the front edge, and its z is a height
above the table. origin and plane may stand under [table] too; the options win.

The answer has, in the job's unit and in inches to 1/32: every point's distance from the left end
and from the front edge, and its height above the table; every tube's angle to the edge as an angle
finder reads it, its climb, and the gap under it where it is clear of its copes, at the place of its
lowest point (of a turned box or oval that is beside its axis; of a plate without a width only that
under its axis is known); two marks for every axis, to be joined with a rule; diagonals from mark to
mark for the tape, enough to fix every mark; the wheels' circles and the drop, unless it lies flat;
and for every height the stack of your own set-up blocks (blocks under [shop], a size twice if you
have two) and the shim that is left, or what is missing where there are too few.

--pdf draws it to scale on one page with the tables; --full-size draws it to glue to the table
and build on, on a roll or tiled, and says beforehand how many sheets that takes (sheets in --json):
leave --pdf out to know only that. --paper roll=36in, or roll = "36in" under [shop], is a roll of
that width: what is wider is cut into strips with marks to join them by. A roll without a width is
as wide as it has to be. Unless
you say otherwise everything lies 50 mm or more from both edges, at the least height that clears the
frame and that your blocks make up; flat, its lowest point lies on the table itself.

With the options of coper bicycle the frame is laid out with another fork, other wheels or another
rear end; the file stays as it is.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from coper.bench.layout.layout import Layout
from coper.drawing.page import Page
from coper.errors import CoperError, WordsError
from coper.job.changed import changed_job
from coper.job.frame import make_pieces
from coper.job.job import Job
from coper.job.layout import job_layout
from coper.job.read import read_job
from coper.joint.steps import Progress, silent
from coper.telling.lines import Line
from coper.telling.records.bicycle import asked_record
from coper.telling.records.head import json_head
from coper.telling.records.layout import layout_record
from coper.telling.words.changed import change_caution, job_title
from coper.telling.words.layout import layout_lines
from coper.telling.words.plausible import job_doubts
from coper.units import lengths_in
from coper.verbs.answer import Answer, in_job_unit, placed
from coper.verbs.changes import add_changes, at_option, read_change
from coper.verbs.full_size import full_sheets
from coper.verbs.options import (
    PAPER_NAMES,
    add_output,
    add_printer,
    file_name,
    length,
    paper_name,
    read_in,
)

HELP = "Lay a frame out on the flat table: marks, angles, diagonals, blocks."
EXAMPLES = """\
The frame lies on its right side, its front to the left, or with lies = "flat" under [table] as it
will stand; places are measured from the table's left end and from its straight front edge, where
you stand.

examples:
  coper layout demo/wagtail.toml
  coper layout demo/wagtail.toml --pdf layout.pdf
  coper layout demo/wagtail.toml --full-size
  coper layout demo/wagtail.toml --full-size --paper roll=36in --pdf table.pdf
  coper layout demo/wagtail.toml --fork-length 365 --rear-wheel 47-507
  coper layout demo/wagtail.toml --origin 6in,4in --plane 3-1/8in
"""
OPTIONS = ("origin", "plane", "paper", "printer", "full-size")
"""Options whose values can be checked only when the frame is known."""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add("--origin", metavar="X,Y", type=_place, help="from the left end and from the front edge to "
        "the frame's origin (the job's; else 50 mm or more is kept from both)")
    add("--plane", metavar="MM", type=length, help="height of the frame's middle plane above "
        "the table (the job's; else the least that clears it and that the shop's blocks make up); "
        "flat, of its lowest point (0)")
    add("--svg", metavar="FILE", type=file_name, help="draw it as SVG, one file per page")
    add("--pdf", metavar="FILE", type=file_name, help="draw it as PDF")
    add("--full-size", action="store_true", help="draw at full size instead of to scale")
    add("--paper", metavar="SIZE", type=paper_name,
        help=f"{PAPER_NAMES} (the shop's, or a4)")
    add_printer(parser)
    add_changes(parser)
    add_output(parser)


def _place(text: str) -> tuple[float, float]:
    """``X,Y``: from the left end and from the front edge, mm."""
    parts = text.split(",")
    if len(parts) != 2:
        raise WordsError(f"{text!r} is not a place", "write how far from the left end and from the "
                         "front edge, such as 150,100")
    left, edge = (length(part) for part in parts)
    return left, edge


def ask(arguments: Namespace) -> Answer[Layout]:
    """The answer to what the options ask."""
    job = read_job(arguments.file)
    given = read_in(arguments, job.units)
    change = read_change(given)

    def place(error: CoperError) -> CoperError:
        """A fault of an option at the option, one of the job at its file."""
        if error.where == "paper" and arguments.paper is None:
            return CoperError(error.fault, error.cure, f"{arguments.file}: shop.paper")
        if error.where in OPTIONS:
            return CoperError(error.fault, error.cure, f"--{error.where}")
        return at_option(error, change, arguments.file)

    return placed(lambda: layout(
        changed_job(job, change), given.origin, given.plane, given.full_size, given.paper,
        given.printer, arguments.progress.live), place)


@in_job_unit
def layout(
    job: Job, origin: tuple[float, float] | None = None, plane: float | None = None,
    full: bool = False, paper: str | None = None, printer: tuple[float, float] | None = None,
    progress: Progress = silent,
) -> Answer[Layout]:
    """A job laid out on the flat table.

    Parameters
    ----------
    job
        With at least one tube.
    origin : (float, float), mm
        From the table's left end and from its front edge to the frame's origin; the job's, or near
        both, unless given.
    plane : float, mm
        Height above the table of the frame's middle plane, or of the lowest point of one that lies
        flat; the job's, or the least that will do, unless given.
    full
        Whether the drawing is at full size.
    paper
        Its name, or ``roll=WIDTH`` in mm; the shop's, or A4, unless given.
    printer : (float, float), mm
        What the printed 100 mm bars measured, across and along; the shop's unless given.
    progress
        Hears how many sheets the drawing at full size takes, before they are made.

    Raises
    ------
    CoperError
        A tube that cannot be made, a frame that cannot lie so, or a drawing at full size of too
        many pages; ``where`` is the option's name without its dashes.
    """
    found, size = job_layout(job, make_pieces(job), origin, plane), job.shop.paper_for(paper)
    bars = job.shop.printing(printer).printer
    found = replace(found, cautions=(*change_caution(job), *job_doubts(job), *found.cautions))
    with lengths_in(job.units):  # in inches the check bars take more of a page, in a record too
        sheets = full_sheets(found, size, bars) if full else None
    if sheets is not None:
        progress(sheets.words())
    name = job_title(job)
    title = f"{name}: on the table" if name else "On the table"

    def record() -> dict[str, Any]:
        counted = {} if sheets is None else {"sheets": sheets.record()}
        return {**json_head(), "title": name, "change": asked_record(job.change),
                **layout_record(found), **counted}

    def lines() -> Iterator[Line]:
        if name:
            yield name
        yield from layout_lines(found, has_blocks=bool(job.shop.blocks))
        if sheets is not None:
            yield f"At full size: {sheets.words()}."

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.pages.compose import compose
        from coper.sheets.layout import layout_blocks

        if sheets is not None:
            return sheets.laid.pages(title)
        return compose(layout_blocks(found, size, bars), size, bars, title=title)

    return Answer(title, found, record, lines, pages)
