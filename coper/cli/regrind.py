"""``coper regrind``: where to take metal off next."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, TextIO, cast

from coper.cli.joint_options import add_joint_options, read_joint
from coper.cli.options import needed, read, read_choice, read_output
from coper.cli.telling import tell, write_files
from coper.errors import CoperError, WordsError
from coper.joint.template import CUTS, Cut
from coper.units import parse_angle, parse_length

if TYPE_CHECKING:
    from coper.work.regrind import RegrindOrder

HELP = "Tell from the gaps of a dry fit where to take metal off next."
EXAMPLES = """\
examples:
  coper regrind "28.6 x 0.9" 38.1 --angle 62 --offset 3 \\
      --gaps 0=1.1,45=0.85,90=0.1,135=0.15,180=0.9,225=1.25,270=0.95,315=0.95 --pdf regrind.pdf
  coper regrind "28.6 x 0.9" 36 --angle 90 --gaps "0=0, 45=0.1, 90=0.3, 135=0.5, 180=0.6"
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_joint_options(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", default="bevelled", help="bevelled (usual) or square")
    add("--gaps", metavar="CLOCK=MM,…", help="feeler gauge readings on the outside, at 3 to 24 "
        "clocks (needed)")
    add("--svg", metavar="FILE", help="write the strip as SVG, a file a page")
    add("--pdf", metavar="FILE", help="write the strip as PDF")
    add("--force", action="store_true", help="replace files that exist")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Find what is wrong, write the strip, tell what to take off."""
    from coper.cli.regrind_summary import regrind_summary
    from coper.work.regrind import regrind_files, regrind_json, work_regrind

    svg, pdf = (read_output(arguments, name) for name in ("svg", "pdf"))
    work = work_regrind(read_order(arguments))
    files = regrind_files(work, svg, pdf)
    written = write_files(arguments, files)
    tell(arguments, out, lambda: regrind_json(work), lambda: regrind_summary(work, written))
    return 0


def read_order(arguments: Namespace) -> RegrindOrder:
    """Everything that was asked for."""
    from coper.work.regrind import RegrindOrder

    gaps = needed("--gaps", arguments.gaps, "0=0.2,120=0,240=0.35")
    return RegrindOrder(
        joint=read_joint(arguments),
        cut=cast("Cut", read("--cut", arguments.cut, read_choice(CUTS))),
        gaps=read("--gaps", gaps, read_gaps),
    )


def read_gaps(text: str) -> tuple[tuple[float, float], ...]:
    """``CLOCK=MM,CLOCK=MM,…``: pairs of degrees and mm, in the order given."""
    return tuple(_reading(part.strip()) for part in text.split(",") if part.strip())


def _reading(text: str) -> tuple[float, float]:
    clock, sign, gap = text.partition("=")
    if not sign:
        raise WordsError(f"{text!r} is no reading",
                         "write CLOCK=MM with a decimal point, such as 45=0.3")
    try:
        return parse_angle(clock), parse_length(gap)
    except CoperError as error:
        raise error.at(repr(text)) from error
