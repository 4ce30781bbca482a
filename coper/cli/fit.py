"""``coper fit``: the gap to expect when the end is pushed home."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, TextIO

from coper.cli.joint_options import add_joint_options, add_limit_options, read_joint, read_limit
from coper.cli.options import FALLS_SHORT, read, read_choice, read_output, read_size, read_whole
from coper.cli.telling import tell, write_files
from coper.joint.template import CUTS
from coper.units import parse_angle, parse_length

if TYPE_CHECKING:
    from coper.work.fit import FitOrder

HELP = "Push a shaped end home and tell the gap that is left."
EXAMPLES = """\
examples:
  coper fit "28.6 x 0.9" 36 --angle 90 --cut square --process tig
  coper fit "28.6 x 0.9" 36 --angle 62 --offset 3 --cut saw=1-1/2in --limit 0.5
  coper fit "28.6 x 0.9" 36 --angle 62 --angle-error 1 --clock-error -2 --picture gap.svg
"""
SAW = "saw="


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_joint_options(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", default="bevelled",
        help="bevelled (usual), square, or saw=DIAMETER")
    add("--angle-error", metavar="D", default="0", help="mounted angle less the design's (0)")
    add("--clock-error", metavar="D", default="0", help="how far the cope stands turned (0)")
    add("--offset-error", metavar="MM", default="0", help="mounted offset less the design's (0)")
    add_limit_options(parser)
    add("--picture", metavar="FILE", help="draw the gap: FILE.svg, FILE.pdf or FILE.png")
    add("--points", metavar="N", default="720", help="even clocks in the JSON lists (720)")
    add("--force", action="store_true", help="replace files that exist")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Seat the end, tell the gap; 1 where it is above the limit."""
    from coper.cli.fit_summary import fit_summary
    from coper.work.fit import fit_files, fit_json, work_fit

    work = work_fit(read_order(arguments))
    path = read_output(arguments, "picture")
    written = write_files(arguments, {} if path is None else fit_files(work, path))
    tell(arguments, out, lambda: fit_json(work), lambda: fit_summary(work, written))
    return FALLS_SHORT if work.ok is False else 0


def read_order(arguments: Namespace) -> FitOrder:
    """Everything that was asked for."""
    from coper.joint.fit.mount import Mounting
    from coper.work.fit import FitOrder

    cut, saw = read("--cut", arguments.cut, read_cut)
    return FitOrder(
        joint=read_joint(arguments),
        cut=cut,
        saw=saw,
        errors=Mounting(
            read("--angle-error", arguments.angle_error, parse_angle),
            read("--clock-error", arguments.clock_error, parse_angle),
            read("--offset-error", arguments.offset_error, parse_length),
        ),
        limit=read_limit(arguments),
        points=read("--points", arguments.points, read_whole),
    )


def read_cut(text: str) -> tuple[str, float | None]:
    """``bevelled``, ``square`` or ``saw=DIAMETER``: the cut, and the saw in mm if it is one."""
    word = "".join(text.lower().split())
    if word.startswith(SAW):
        return "saw", read_size(text.split("=", 1)[1])
    return read_choice((*CUTS, "saw=DIAMETER"))(text), None
