"""``coper saw``: which saw of the kit, and how to set it."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, TextIO

from coper.cli.joint_options import add_joint_options, add_limit_options, read_joint, read_limit
from coper.cli.options import FALLS_SHORT, read, read_choice, read_output, read_size
from coper.cli.telling import tell, write_files
from coper.errors import WordsError
from coper.job.papers import PAPERS

if TYPE_CHECKING:
    from coper.work.saw import SawOrder

HELP = "Choose a hole saw from the kit and say how to set it."
EXAMPLES = """\
examples:
  coper saw "28.6 x 0.9" 36 --angle 62 --offset 3 --process tig
  coper saw "28.6 x 0.9" 36 --angle 62 --pdf card.pdf
  coper saw "28.6 x 0.9" 36 --angle 62 --kit 1-1/4in,1-3/8in,1-1/2in --depth 38 --limit 0.5
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_joint_options(parser)
    add = parser.add_argument
    add("--kit", metavar="D,D,…", help="the saws that are there (5/8in to 2-1/2in by the eighth)")
    add("--depth", metavar="MM", help="cutting depth of the saws (1-7/8in)")
    add_limit_options(parser)
    add("--paper", metavar="SIZE", default="a4", help=", ".join(PAPERS) + " (a4)")
    add("--svg", metavar="FILE", help="write the set-up card and a log as SVG, a file a page")
    add("--pdf", metavar="FILE", help="write the set-up card and a log as PDF")
    add("--force", action="store_true", help="replace files that exist")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Try every saw; 1 where the best one falls short of a limit or a depth that was given."""
    from coper.cli.saw_summary import saw_summary
    from coper.work.saw import saw_files, saw_json, work_saw

    work = work_saw(read_order(arguments))
    files = saw_files(work, *(read_output(arguments, name) for name in ("svg", "pdf")))
    written = write_files(arguments, files)
    tell(arguments, out, lambda: saw_json(work), lambda: saw_summary(work, written))
    asked = work.order.limit is not None or arguments.depth is not None
    return FALLS_SHORT if asked and not work.ok else 0


def read_order(arguments: Namespace) -> SawOrder:
    """Everything that was asked for."""
    from coper.joint.saw.kit import USUAL_KIT_MM
    from coper.joint.saw.setting import USUAL_DEPTH_MM
    from coper.work.saw import SawOrder

    kit, depth = arguments.kit, arguments.depth
    return SawOrder(
        read_joint(arguments),
        USUAL_KIT_MM if kit is None else read("--kit", kit, read_kit),
        USUAL_DEPTH_MM if depth is None else read("--depth", depth, read_size),
        read_limit(arguments),
        read("--paper", arguments.paper, read_choice(PAPERS)),
    )


def read_kit(text: str) -> tuple[float, ...]:
    """``D,D,…``: diameters, mm."""
    words = [word for word in text.split(",") if word.strip()]
    if not words:
        raise WordsError("the kit holds no saw", "give one or more, such as 1in,1-1/4in")
    return tuple(map(read_size, words))
