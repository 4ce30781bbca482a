"""``coper joint``: one branch on one main."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TextIO, cast

from coper.cli.joint_options import add_joint_options, read_joint
from coper.cli.options import read, read_choice, read_output, read_printer, read_whole
from coper.cli.summary import joint_summary
from coper.cli.telling import tell, write_files
from coper.job.papers import PAPERS
from coper.joint.template import CUTS, Cut
from coper.units import parse_angle, parse_length
from coper.work.joint import JointOrder, joint_files, joint_json, work_joint

HELP = "Compute the cope of one branch on one main, and print its template."
EXAMPLES = """\
tubes:
  "28.6 x 0.9"                          diameter x wall (a main may leave the wall out)
  "1-1/8in x 0.035in"                   inches and fractions
  "around 89.8 x 20swg"                 from the measured girth; wall as a gauge with its system
  "22.2 to 14 over 390 x 0.8"           tapered: at the start, at the far end, length between
  "oval 30 by 17 x 0.9"                 major by minor
  "oval 30 by 17 to 14 over 380 x 0.8"  oval to round, as a branch
  "box 40 by 20 corner 3 x 1.5"         rectangular, outside corner radius
  "plate 6"                             flat, as a main
  "25.4 bent to 120 x 0.9"              bent to a centreline radius, as a main

examples:
  coper joint "28.6 x 0.9" 38.1 --angle 62 --pdf cope.pdf
  coper joint "1-1/8in x 0.035in" 1-1/2in --angle 62°30' --offset -3 --cut square --pdf cope.pdf
  coper joint "28.6 x 0.9" 38.1 --angle 62 --steps 24 --table cope.csv
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb, all read as text so that each fault can name its option."""
    add_joint_options(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", default="bevelled", help="bevelled (usual) or square")
    add("--points", metavar="N", default="720", help="even clocks in the JSON lists (720)")
    add("--steps", metavar="N", default="16", help="ordinates: 8, 12, 16 or 24 (16)")
    add("--seam", metavar="CLOCK", help="where the template's ends meet (the toe)")
    add("--paper", metavar="SIZE", default="a4", help=", ".join(PAPERS) + " (a4)")
    add("--paper-thickness", metavar="MM", default="0.1", help="of the sheet that wraps (0.1)")
    add("--printer", metavar="ACROSS,ALONG", default="100,100",
        help="what the printed 100 mm bars measured")
    add("--overlap", metavar="MM", default="10", help="width of the glue tab (10)")
    add("--svg", metavar="FILE", help="write the pages as SVG, a file a page")
    add("--pdf", metavar="FILE", help="write the pages as PDF")
    add("--table", metavar="FILE", help="write the ordinates as CSV")
    add("--force", action="store_true", help="replace files that exist")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Do the work, write the files, tell what was done."""
    work = work_joint(read_order(arguments))
    files = joint_files(work, *(read_output(arguments, name) for name in ("svg", "pdf", "table")))
    written = write_files(arguments, files)
    tell(arguments, out, lambda: joint_json(work), lambda: joint_summary(work, written))
    return 0


def read_order(arguments: Namespace) -> JointOrder:
    """Everything that was asked for."""
    seam = arguments.seam
    return JointOrder(
        joint=read_joint(arguments),
        cut=cast("Cut", read("--cut", arguments.cut, read_choice(CUTS))),
        points=read("--points", arguments.points, read_whole),
        steps=read("--steps", arguments.steps, read_whole),
        seam=None if seam is None else read("--seam", seam, parse_angle) % 360,
        paper=read("--paper", arguments.paper, read_choice(PAPERS)),
        paper_thickness=read("--paper-thickness", arguments.paper_thickness, parse_length),
        printer=read("--printer", arguments.printer, read_printer),
        glue=read("--overlap", arguments.overlap, parse_length),
    )
