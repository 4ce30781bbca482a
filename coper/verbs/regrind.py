"""``coper regrind``: where to take metal off next, from the gaps of a dry fit.

Push the end home and measure the gap on the outside with feeler gauges at 3 to 24 clocks (8 are
good), including the place where it touches. The answer says how much to take off at every
clock, along the tube, how much deeper the tube then seats, and what is most likely wrong:
turned on the tube, wrong angle, wrong offset, or too little taken at one spot. Each comes with
its size, the interval that holds it 95 times in 100, and the share of the readings that it
explains. With --cut square the gap that a square cut always leaves is no fault.

The paper is a strip to wrap along the tube's present edge: the thin curve is that edge, the
heavy one the line to grind to, and the metal between them is hatched.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from typing import Any

from coper.drawing.page import Page
from coper.errors import CoperError, WordsError
from coper.joint.cautions import SAFETY
from coper.joint.joint import Joint
from coper.joint.regrind.regrind import Regrind
from coper.joint.regrind.regrind import regrind as find_metal
from coper.joint.template import CUTS, Cut
from coper.telling.lines import Caution, Line
from coper.telling.records.head import json_head
from coper.telling.records.joint import joint_record
from coper.telling.records.regrind import regrind_record
from coper.telling.words.joint import title
from coper.telling.words.regrind import metal_lines, readings_fact
from coper.units import parse_angle, parse_length
from coper.verbs.answer import Answer, Progress
from coper.verbs.options import add_joint, add_output, choice, file_name, needed, read_joint

HELP = "Find where to take metal off next, from the gaps of a dry fit."
EXAMPLES = """\
examples:
  coper regrind "28.6 x 0.9" 38.1 --angle 62 --offset 3 \\
      --gaps 0=1.1,45=0.85,90=0.1,135=0.15,180=0.9,225=1.25,270=0.95,315=0.95 --pdf regrind.pdf
  coper regrind "28.6 x 0.9" 36 --angle 90 --gaps "0=0, 45=0.1, 90=0.3, 135=0.5, 180=0.6"
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_joint(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", type=choice(*CUTS), default=CUTS[0],
        help="bevelled (usual) or square")
    add("--gaps", metavar="CLOCK=MM,…", type=_gaps,
        help="feeler gauge readings on the outside, at 3 to 24 clocks (needed)")
    add("--svg", metavar="FILE", type=file_name, help="write the strip as SVG, one file per page")
    add("--pdf", metavar="FILE", type=file_name, help="write the strip as PDF")
    add_output(parser)


def _gaps(text: str) -> tuple[tuple[float, float], ...]:
    """``CLOCK=MM,CLOCK=MM,…``: pairs of degrees and mm, in the order given."""
    return tuple(_reading(part.strip()) for part in text.split(",") if part.strip())


def _reading(text: str) -> tuple[float, float]:
    clock, sign, gap = text.partition("=")
    if not sign:
        raise WordsError(f"{text!r} is not a reading",
                         "write CLOCK=MM with a decimal point, such as 45=0.3")
    try:
        return parse_angle(clock), parse_length(gap)
    except CoperError as error:
        raise error.at(repr(text)) from error


def ask(arguments: Namespace) -> Answer[Regrind]:
    """The answer to what the options ask."""
    gaps = needed(arguments.gaps, "--gaps", "0=0.2,120=0,240=0.35")
    return regrind(read_joint(arguments), gaps, arguments.cut)


def regrind(
    joint: Joint, gaps: Sequence[tuple[float, float]], cut: Cut = CUTS[0]
) -> Answer[Regrind]:
    """The metal to take off an end next.

    Parameters
    ----------
    joint
        What the end was cut for.
    gaps : (clock, gap), degrees and mm
        What a feeler gauge read on the outside, at 3 to 24 clocks.
    cut
        ``bevelled`` or ``square``.

    Raises
    ------
    CoperError
        Where the readings or a word cannot be used.
    """
    found = find_metal(joint, cut, gaps)

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            "joint": joint_record(joint),
            "cut": cut,
            "regrind": regrind_record(found),
            "cautions": list(SAFETY),
        }

    def lines() -> Iterator[Line]:
        yield title(joint)
        yield readings_fact(found)
        yield from metal_lines(joint, found)
        yield from map(Caution, SAFETY)

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.regrind_sheet import regrind_pages

        return regrind_pages(joint, found)

    return Answer(title(joint), found, record, lines, pages)
