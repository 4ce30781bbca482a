"""``coper fit``: the gap to expect when the end is pushed home.

coper pushes the shaped end along its own axis until it first touches, and measures what is left
open: at each clock the gap outside, which a feeler gauge measures, and the clearance at the
root, along the tube through the wall. The answer says where the end touches first and how far
from its place the branch then sits, positive away from the main. The three errors say how the
real mounting differs from what the end was cut for; a clock error is a template that slipped
round. Of a saw that is moved sideways, or cuts twice, give the offset of each pass and how far its
axis is beyond the long point, as "coper saw" says them in its JSON:
saw=1-1/4in@3.46,2.5@1.24,3.29. The exit status is 1 if the gap is above the limit, or above that
of the process; "coper help limits" lists the processes.

An end of a job is fitted on all its mains together, in its own clock; its limit is that of the
job's shop. It is taken as cut by its template; --cut saw is one that was sawn as its card says.
The numbers of that JSON are mm: with --units in, write them so, such as 3.46mm.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from coper.drawing.page import Page
from coper.errors import JointError
from coper.joint.cautions import SAFETY
from coper.joint.fit.fit import Fit, seat
from coper.joint.fit.limits import Limit
from coper.joint.fit.mount import Mounting
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.sides import counted_turn
from coper.joint.steps import Progress
from coper.telling.lines import Caution, Fact, Line
from coper.telling.records.fit import end_gap_record
from coper.telling.records.head import json_head
from coper.telling.words.fit import (
    contact_facts,
    cure_words,
    cut_words,
    gap_table,
    mounting_facts,
    verdict_facts,
)
from coper.units import parse_angle
from coper.verbs.about import Asked, about, in_asked_unit
from coper.verbs.answer import Answer
from coper.verbs.asked import NAMED, add_asked, limit_of, read_seated
from coper.verbs.cut_way import CUT_HELP, cut_way, read_cut
from coper.verbs.options import POINTS, add_limit, add_output, file_name, length, whole

HELP = "Push a shaped end home and show the gap that is left."
EXAMPLES = f"""\
examples:
  coper fit "28.6 x 0.9" 36 --angle 90 --cut square --process tig
  coper fit "28.6 x 0.9" 36 --angle 62 --offset 3 --cut saw=1-1/2in --limit 0.5
  coper fit "28.6 x 0.9" "oval 40 by 32" --angle 62 --main-turn 20 --cut saw=1-3/4in@-2.14
  coper fit "28.6 x 0.9" 36 --angle 62 --angle-error 1 --clock-error -2 --picture gap.svg

{NAMED}
  coper fit demo/wagtail.toml chain-stay left start
  coper fit demo/wagtail.toml down-tube start --cut saw --angle-error 0.5
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_asked(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", type=cut_way, help=CUT_HELP)
    add("--angle-error", metavar="D", type=parse_angle, default=0.0,
        help="mounted angle less the designed one (0)")
    add("--clock-error", metavar="D", type=parse_angle, default=0.0,
        help="how far the cope is turned on its tube (0)")
    add("--offset-error", metavar="MM", type=length, default=0.0,
        help="mounted offset less the designed one (0)")
    add_limit(parser)
    add("--picture", metavar="FILE", type=file_name,
        help="draw the gap: FILE.svg, FILE.pdf or FILE.png")
    add("--points", metavar="N", type=whole, default=POINTS,
        help=f"even clocks in the JSON lists ({POINTS})")
    add_output(parser)


def ask(arguments: Namespace) -> Answer[Fit]:
    """The answer to what the options ask."""
    asked, given = read_seated(arguments)
    cut, passes = read_cut(given.cut, asked)
    saw = passes[0].diameter if passes else None
    if isinstance(asked, Joint) and passes and given.cut[0].offset is None:
        passes = ()
    errors = Mounting(given.angle_error, given.clock_error, given.offset_error)
    return fit(asked, cut, saw, errors, limit_of(given, asked), given.points, passes)


@in_asked_unit
def fit(
    asked: Asked, cut: str | None = None, saw: float | None = None,
    errors: Mounting | None = None, limit: Limit | None = None, points: int = POINTS,
    passes: Sequence[Pass] = (),
) -> Answer[Fit]:
    """The gap that a cut leaves when the joint is put together.

    Parameters
    ----------
    asked
        What the end was cut for: two tubes, or an end of a job.
    cut
        ``bevelled``, ``square`` or ``saw``; its own where ``None``.
    saw : float, mm
        Its diameter, where one cuts; without, a job's end is sawn as its card says.
    errors
        How the mounting differs from the design; nothing unless given. A job's end has its clock
        counted as the tube's, its angle and offset to the main that takes most.
    limit
        The largest gap that is still good.
    points
        Even clocks of the JSON's lists.
    passes
        Of the saw, where its axis passes the tube's elsewhere than the main's, or it cuts twice;
        together they are set so that the seated branch is where the design puts it.

    Raises
    ------
    JointError
        Where the cut cannot be made, or the end as mounted meets no main.
    """
    wrong, end = errors or Mounting(), about(asked)
    how, joint, title = cut or end.cut, end.joint, end.title
    face = end.face(how, passes, saw)
    try:
        mounted = wrong.of(joint)
        found = seat(face, mounted.cluster(), counted_turn(joint, wrong.clock), points)
    except JointError as error:
        if wrong == Mounting():
            raise
        raise JointError(f"as mounted, {error.fault}", "make the error smaller",
                         f"{error.where} error") from error

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            **end.record(),
            "cut": how,
            "saw_diameter": saw,
            "passes": [asdict(one) for one in passes],
            "errors": {"angle": wrong.angle, "clock": wrong.clock, "offset": wrong.offset},
            "gap": end_gap_record(found, limit, joint.counted),
            "cautions": [*end.question, *SAFETY],
        }

    def lines() -> Iterator[Line]:
        yield title
        yield from end.notes()
        yield Fact("cut", cut_words(how, saw, passes))
        yield from mounting_facts(wrong)
        yield from verdict_facts(mounted, found, limit, cure_words(mounted, found, how))
        yield from contact_facts(mounted, found)
        yield gap_table(mounted, found)
        yield from map(Caution, (*end.question, *SAFETY))

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.gap_picture import gap_page

        return (gap_page(mounted, found, limit, f"{title}, {how} cut"),)

    return Answer(title, found, record, lines, pages, ok=limit is None or found.within(limit.mm))

