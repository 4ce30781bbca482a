"""``coper fit``: the gap to expect when the end is pushed home.

coper pushes the shaped end along its own axis until it first touches, and measures what is left
open: at each clock the gap outside, which a feeler gauge measures, and the clearance at the
root, along the tube through the wall. The answer says where the end touches first and how far
from its place the branch then sits, positive away from the main. The three errors say how the
real mounting differs from what the end was cut for; a clock error is a template that slipped
round. The exit status is 1 if the gap is above the limit, or above that of the process; "coper
help limits" lists the processes.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from coper.drawing.page import Page
from coper.errors import JointError
from coper.joint.cautions import SAFETY
from coper.joint.fit.face import cut_face
from coper.joint.fit.fit import Fit, seat
from coper.joint.fit.limits import Limit
from coper.joint.fit.mount import Mounting
from coper.joint.joint import Joint
from coper.joint.template import CUTS
from coper.telling.lines import Caution, Fact, Line
from coper.telling.records.fit import gap_record
from coper.telling.records.head import json_head
from coper.telling.records.joint import joint_record
from coper.telling.words.fit import (
    contact_facts,
    cure_words,
    cut_words,
    gap_table,
    mounting_facts,
    verdict_facts,
)
from coper.telling.words.joint import title
from coper.units import parse_angle, parse_length
from coper.verbs.answer import Answer, Progress
from coper.verbs.options import (
    POINTS,
    add_joint,
    add_limit,
    add_output,
    choice,
    file_name,
    read_joint,
    read_limit,
    size,
    whole,
)

HELP = "Push a shaped end home and show the gap that is left."
EXAMPLES = """\
examples:
  coper fit "28.6 x 0.9" 36 --angle 90 --cut square --process tig
  coper fit "28.6 x 0.9" 36 --angle 62 --offset 3 --cut saw=1-1/2in --limit 0.5
  coper fit "28.6 x 0.9" 36 --angle 62 --angle-error 1 --clock-error -2 --picture gap.svg
"""
SAW = "saw="


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_joint(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", type=_cut, default=("bevelled", None),
        help="bevelled (usual), square, or saw=DIAMETER")
    add("--angle-error", metavar="D", type=parse_angle, default=0.0,
        help="mounted angle less the designed one (0)")
    add("--clock-error", metavar="D", type=parse_angle, default=0.0,
        help="how far the cope is turned on its tube (0)")
    add("--offset-error", metavar="MM", type=parse_length, default=0.0,
        help="mounted offset less the designed one (0)")
    add_limit(parser)
    add("--picture", metavar="FILE", type=file_name,
        help="draw the gap: FILE.svg, FILE.pdf or FILE.png")
    add("--points", metavar="N", type=whole, default=POINTS,
        help=f"even clocks in the JSON lists ({POINTS})")
    add_output(parser)


def _cut(text: str) -> tuple[str, float | None]:
    """``bevelled``, ``square`` or ``saw=DIAMETER``: the cut, and the saw in mm if it is one."""
    if "".join(text.lower().split()).startswith(SAW):
        return "saw", size(text.split("=", 1)[1])
    return choice(*CUTS, "saw=DIAMETER")(text), None


def ask(arguments: Namespace) -> Answer[Fit]:
    """The answer to what the options ask."""
    cut, saw = arguments.cut
    errors = Mounting(arguments.angle_error, arguments.clock_error, arguments.offset_error)
    return fit(read_joint(arguments), cut, saw, errors, read_limit(arguments), arguments.points)


def fit(
    joint: Joint, cut: str = "bevelled", saw: float | None = None,
    errors: Mounting | None = None, limit: Limit | None = None, points: int = POINTS,
) -> Answer[Fit]:
    """The gap that a cut leaves when the joint is put together.

    Parameters
    ----------
    joint
        What the end was cut for.
    cut
        ``bevelled``, ``square`` or ``saw``.
    saw : float, mm
        Its diameter, where one cuts.
    errors
        How the mounting differs from the design; nothing unless given.
    limit
        The largest gap that is still good.
    points
        Even clocks of the JSON's lists.

    Raises
    ------
    JointError
        Where the cut cannot be made, or the end as mounted meets no main.
    """
    wrong = errors or Mounting()
    face = cut_face(joint, cut, saw)
    try:
        mounted = wrong.of(joint)
        found = seat(face, mounted.cluster(), wrong.clock, points)
    except JointError as error:
        if wrong == Mounting():
            raise
        raise JointError(f"as mounted, {error.fault}", "make the error smaller",
                         f"{error.where} error") from error

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            "joint": joint_record(joint),
            "cut": cut,
            "saw_diameter": saw,
            "errors": {"angle": wrong.angle, "clock": wrong.clock, "offset": wrong.offset},
            "gap": gap_record(found, limit),
            "cautions": list(SAFETY),
        }

    def lines() -> Iterator[Line]:
        yield title(joint)
        yield Fact("cut", cut_words(cut, saw))
        yield from mounting_facts(wrong)
        yield from verdict_facts(mounted, found, limit, cure_words(mounted, found, cut))
        yield from contact_facts(mounted, found)
        yield gap_table(mounted, found)
        yield from map(Caution, SAFETY)

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.gap_picture import gap_page

        return (gap_page(mounted, found, limit, f"{title(joint)}, {cut} cut"),)

    return Answer(title(joint), found, record, lines, pages,
                  ok=limit is None or found.within(limit.mm))
