"""``coper layout``: the frame drawn out on the flat table."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, TextIO

from coper.cli.options import read, read_choice, read_output, read_printer
from coper.cli.telling import tell, write_files
from coper.errors import CoperError, FileError, WordsError
from coper.job.papers import PAPERS
from coper.units import parse_length

if TYPE_CHECKING:
    from coper.work.layout import LayoutOrder

HELP = "Lay a frame out on the flat table: marks, angles, diagonals, blocks."
EXAMPLES = """\
The frame lies on its right side, its front to the left; places count from the table's left end
and from its straight front edge, where you stand.

examples:
  coper layout demo/wagtail.toml
  coper layout demo/wagtail.toml --pdf layout.pdf
  coper layout demo/wagtail.toml --full-size --paper roll --pdf table.pdf
  coper layout demo/wagtail.toml --origin 6in,4in --plane 3-1/8in
"""
OPTIONS = ("origin", "plane", "paper", "printer", "full-size")
"""Options whose values may turn out wrong only when the frame is known."""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb, all read as text so that each fault can name its option."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add("--origin", metavar="X,Z", help="from the left end and from the front edge to the frame's "
        "origin (all lies 50 mm or more from both)")
    add("--plane", metavar="MM", help="height of the frame's middle plane above the table (the "
        "least that clears it and that the shop's blocks come to)")
    add("--svg", metavar="FILE", help="draw it as SVG, a file a page")
    add("--pdf", metavar="FILE", help="draw it as PDF")
    add("--full-size", action="store_true", help="draw at full size instead of to scale")
    add("--paper", metavar="SIZE", help=", ".join(PAPERS) + " (the shop's, or a4)")
    add("--printer", metavar="ACROSS,ALONG", default="100,100",
        help="what the printed 100 mm bars measured")
    add("--force", action="store_true", help="replace files that exist")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Read the job, lay it out, draw it, tell it."""
    from coper.cli.layout_summary import layout_summary
    from coper.work.layout import layout_files, layout_json, work_layout

    order = read_order(arguments)
    svg, pdf = (read_output(arguments, name) for name in ("svg", "pdf"))
    try:
        work = work_layout(order)
        files = layout_files(work, svg, pdf)
    except CoperError as error:
        raise _placed(error, arguments) from error
    written = write_files(arguments, files)
    tell(arguments, out, lambda: layout_json(work), lambda: layout_summary(work, written))
    return 0


def read_order(arguments: Namespace) -> LayoutOrder:
    """Everything that was asked for."""
    from coper.job.read import read_job
    from coper.work.layout import LayoutOrder

    origin, plane, paper = arguments.origin, arguments.plane, arguments.paper
    return LayoutOrder(
        origin=None if origin is None else read("--origin", origin, read_place),
        plane=None if plane is None else read("--plane", plane, parse_length),
        paper=None if paper is None else read("--paper", paper, read_choice(PAPERS)),
        printer=read("--printer", arguments.printer, read_printer),
        full=arguments.full_size,
        job=read_job(arguments.file),
    )


def read_place(text: str) -> tuple[float, float]:
    """``X,Z``: from the left end and from the front edge, mm."""
    parts = text.split(",")
    if len(parts) != 2:
        raise WordsError(f"{text!r} is no place", "write how far from the left end and from the "
                         "front edge, such as 150,100")
    left, edge = (parse_length(part) for part in parts)
    return left, edge


def _placed(error: CoperError, arguments: Namespace) -> CoperError:
    """A fault of an option told at the option, one of the job at its file."""
    if isinstance(error, FileError):
        return error
    if error.where == "paper" and arguments.paper is None:
        return CoperError(error.fault, error.cure, f"{arguments.file}: shop.paper")
    if error.where in OPTIONS:
        return CoperError(error.fault, error.cure, f"--{error.where}")
    return error.at(arguments.file)
