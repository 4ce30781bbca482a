"""``coper tolerance``: how careful to be."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, TextIO, cast

from coper.cli.joint_options import add_joint_options, add_limit_options, read_joint, read_limit
from coper.cli.options import FALLS_SHORT, read, read_choice, read_output, read_whole
from coper.cli.telling import tell, write_files
from coper.errors import CoperError
from coper.joint.template import CUTS, Cut
from coper.units import parse_angle, parse_length

if TYPE_CHECKING:
    from coper.joint.tolerance.spread import Scatter
    from coper.work.tolerance import ToleranceOrder

HELP = "Tell how careful to be: what gap each error leaves, and what gaps to expect."
EXAMPLES = """\
examples:
  coper tolerance "28.6 x 0.9" 38.1 --angle 62 --offset 3 --process tig
  coper tolerance "28.6 x 0.9" 36 --angle 90 --angle-scatter 0.25 --length-scatter 0.5
  coper tolerance "28.6 x 0.9" 36 --angle 90 --cut square --limit 1 --picture care.svg
"""
SEED = "1"

SCATTERS = {"angle": "0.5", "turn": "1", "offset": "0.3", "diameter": "0.05", "length": "0"}
"""The usual scatters, as in :class:`coper.joint.tolerance.spread.Scatter`, which a test holds."""

MEANT = {"angle": "the angle", "turn": "how the cope is turned on its tube", "offset": "the offset",
         "diameter": "the main's real size",
         "length": "the length of a tube held between two ends"}


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_joint_options(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", default="bevelled", help="bevelled (usual) or square")
    add_limit_options(parser)
    for thing, usual in SCATTERS.items():
        unit = "D" if thing in ("angle", "turn") else "MM"
        add(f"--{thing}-scatter", metavar=unit, default=usual,
            help=f"standard deviation of {MEANT[thing]} ({usual})")
    add("--seed", metavar="N", default=SEED, help=f"draws other joints ({SEED})")
    add("--picture", metavar="FILE", help="draw it: FILE.svg, FILE.pdf or FILE.png")
    add("--force", action="store_true", help="replace files that exist")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Try each error, then 10,000 joints; 1 where a given limit is below what the cut leaves."""
    from coper.cli.tolerance_summary import tolerance_summary
    from coper.work.tolerance import tolerance_files, tolerance_json, work_tolerance

    order, path = read_order(arguments), read_output(arguments, "picture")
    work = work_tolerance(order)
    written = write_files(arguments, {} if path is None else tolerance_files(work, path))
    tell(arguments, out, lambda: tolerance_json(work), lambda: tolerance_summary(work, written))
    return FALLS_SHORT if work.ok is False else 0


def read_order(arguments: Namespace) -> ToleranceOrder:
    """Everything that was asked for."""
    from coper.work.tolerance import ToleranceOrder

    return ToleranceOrder(
        joint=read_joint(arguments),
        cut=cast("Cut", read("--cut", arguments.cut, read_choice(CUTS))),
        limit=read_limit(arguments),
        scatter=_read_scatter(arguments),
        seed=read("--seed", arguments.seed, read_whole),
    )


def _read_scatter(arguments: Namespace) -> Scatter:
    from coper.joint.tolerance.spread import Scatter

    values = {}
    for thing in SCATTERS:
        parse = parse_angle if thing in ("angle", "turn") else parse_length
        text = getattr(arguments, f"{thing}_scatter")
        values[thing] = read(f"--{thing}-scatter", text, parse)
    try:
        return Scatter(**values)
    except CoperError as error:
        raise type(error)(error.fault, error.cure, f"--{error.where.replace(' ', '-')}") from error
