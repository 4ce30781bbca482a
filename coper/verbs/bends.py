"""``coper bends``: what the bender has to know of every bent tube of a job file.

For each bend of a tube with corners: the straight length before it, its angle, the turn of its
plane from the bend before (right-handed about the tube, clockwise looking from the start; 180
bends the other way), its radius, the tube's own clock on its inside, and where it begins, from
the end of the blank along the centreline. The blank's length is that of the centreline, from the
furthest that either shaped end reaches, with the shop's allowance; straight_after in --json is
what is straight after the last bend.

A bender draws the tube out: bend a piece of known length by 90 degrees, measure both legs as the
job does, and give what it came out longer as stretch under [shop]. Then every bend has a mark of
your own bender besides, and the blank what is needed of it. In proportion to the angle, stretch
is taken as the same for every bend.

--pdf draws each tube with its numbers and tables; they are in the packet too.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from coper.bench.bends import BendList, bend_lists
from coper.drawing.page import Page
from coper.errors import CoperError
from coper.job.frame import make_pieces
from coper.job.job import Job
from coper.job.read import read_job
from coper.joint.steps import Progress
from coper.telling.lines import Line
from coper.telling.records.bends import bends_record
from coper.telling.records.head import json_head
from coper.telling.words.bends import bends_lines
from coper.verbs.answer import Answer, in_job_unit, placed
from coper.verbs.options import add_output, add_printer, file_name

HELP = "Tell the bender: where each bend of a tube begins, how far, and which way."
EXAMPLES = """\
a bent tube in a job file:
  [tubes.hoop]
  shape = "1-1/2in x 0.095in"
  start = { at = [0, 300, 0], on = ["rail"] }
  corners = [[0, 300, 400], [0, -300, 400]]     # where the straight axes would meet
  bend = "4-1/2in"                              # radius of the centreline
  end = { at = [0, -300, 0] }

examples:
  coper bends frame.toml
  coper bends frame.toml --pdf bends.pdf
  coper bends frame.toml --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add_printer(parser)
    add("--svg", metavar="FILE", type=file_name, help="draw it as SVG, one file per page")
    add("--pdf", metavar="FILE", type=file_name, help="draw it as PDF")
    add_output(parser)


def ask(arguments: Namespace) -> Answer[tuple[BendList, ...]]:
    """The answer to what the options ask."""
    given = read_job(arguments.file)
    return placed(lambda: bends(given, arguments.printer), lambda error: error.at(arguments.file))


@in_job_unit
def bends(job: Job, printer: tuple[float, float] | None = None) -> Answer[tuple[BendList, ...]]:
    """The bends of every bent tube of a job; ``printer`` is the shop's unless given.

    Raises
    ------
    CoperError
        A tube that cannot be made, or where none is bent.
    """
    stretch = job.shop.stretch
    found = bend_lists(make_pieces(job), stretch)
    if not found:
        raise CoperError("no tube is bent", "give one corners and bend, as coper bends --help "
                         "shows", "tubes")
    title = f"{job.title}: bends" if job.title else "Bends"

    def record() -> dict[str, Any]:
        return {**json_head(), "title": job.title, "stretch": stretch,
                "tubes": bends_record(found)}

    def lines() -> Iterator[Line]:
        return bends_lines(found, job.title, stretch)

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.pages.compose import compose
        from coper.sheets.bends import bends_blocks

        return compose(bends_blocks(found, stretch), job.shop.paper_for(),
                       job.shop.printing(printer).printer, title=title)

    return Answer(title, found, record, lines, pages)
