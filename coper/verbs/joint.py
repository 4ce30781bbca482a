"""``coper joint``: the cope of one branch on one main, and its template.

Where the branch is wider than the main, some lines along it meet nothing: those stretches are
open, the template has a marked gap there, and the answer gives their clocks. A template larger
than a page is tiled; --paper roll puts it on one sheet. --cut square gives the line that clears
the inside edge. Without a printer, work from the ordinates: lengths from a line drawn straight
round the tube, at 8, 12, 16 or 24 clocks. Anything thicker than paper wraps further out: give
--paper-thickness. Tubes that are not round can be turned: --turn turns the branch about its
axis, --main-turn the main, and --main-at says where a tapered main's first diameter is. A bent
main is met on the outside of its bend, with --main-turn 180 from the inside; where its ring would
come round to the branch again, the answer says how far up.

Of an end of a job it is that end's own sheet, on all its mains: clocks are the tube's, lengths
count from its start point, and the job says how it is cut.
With --units in bare numbers are inches and the answer is in inches first, on paper too; JSON stays
in mm, and what the printed bars measured is in mm. A tube under 4 mm in an order that is not in
inches is asked about.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from coper.drawing.page import Page
from coper.job.papers import PAPERS, TRUE_PRINTER
from coper.joint.cautions import cautions
from coper.joint.cope import Cope
from coper.joint.joint import Joint
from coper.joint.ordinates import make_ordinates
from coper.joint.saw.setting import SawSetting, own_saw
from coper.joint.steps import Progress
from coper.joint.template import CUTS, GLUE_MM, PAPER_MM, Cut
from coper.telling.lines import Caution, Line
from coper.telling.words.joint import cope_facts, joint_facts, ordinates_table, own_saw_fact, title
from coper.telling.words.small import joint_question
from coper.units import parse_angle
from coper.verbs.answer import Answer
from coper.verbs.asked import NAMED, add_asked, printer_of, read_asked
from coper.verbs.options import (
    PAPER_NAMES,
    POINTS,
    STEPS,
    add_output,
    add_printer,
    choice,
    file_name,
    length,
    paper_name,
    whole,
)

HELP = "Compute the cope of one branch on one main, and print its template."
EXAMPLES = f"""\
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
  coper joint "1.25 x .095" 1-1/2 --angle 62 --units in --pdf cope.pdf

{NAMED}
  coper joint demo/wagtail.toml chain-stay left start --pdf stay.pdf
  coper joint demo/wagtail.toml down-tube end --table down-tube.csv
"""

def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_asked(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", type=choice(*CUTS),
        help="bevelled (usual) or square; a job's end has its own")
    add("--points", metavar="N", type=whole, default=POINTS,
        help=f"even clocks in the JSON lists ({POINTS})")
    add("--steps", metavar="N", type=whole, default=STEPS,
        help=f"ordinates: 8, 12, 16 or 24 ({STEPS})")
    add("--seam", metavar="CLOCK", type=parse_angle,
        help="where the template's ends meet (the toe)")
    add("--paper", metavar="SIZE", type=paper_name,
        help=f"{PAPER_NAMES} (the job's, or {PAPERS[0]})")
    add("--paper-thickness", metavar="MM", type=length, default=PAPER_MM,
        help=f"of the sheet that wraps ({PAPER_MM:g})")
    add_printer(parser)
    add("--overlap", metavar="MM", type=length, default=GLUE_MM,
        help=f"width of the glue tab ({GLUE_MM:g})")
    add("--svg", metavar="FILE", type=file_name, help="write the pages as SVG, one file per page")
    add("--pdf", metavar="FILE", type=file_name, help="write the pages as PDF")
    add("--table", metavar="FILE", type=file_name, help="write the ordinates as CSV")
    add_output(parser)


def ask(arguments: Namespace) -> Answer[Cope]:
    """The answer to what the options ask."""
    asked, given = read_asked(arguments)
    if not isinstance(asked, Joint):
        from coper.verbs.joint_end import ask_end

        return ask_end(asked, given)
    return joint(
        asked, arguments.cut or CUTS[0], arguments.points, arguments.steps, arguments.seam,
        arguments.paper or PAPERS[0], arguments.paper_thickness, printer_of(given, asked),
        arguments.overlap)


def joint(
    joint: Joint, cut: Cut = CUTS[0], points: int = POINTS, steps: int = STEPS,
    seam: float | None = None, paper: str = PAPERS[0], paper_thickness: float = PAPER_MM,
    printer: tuple[float, float] = TRUE_PRINTER, overlap: float = GLUE_MM,
) -> Answer[Cope]:
    """The cope of one branch on one main; its table is the file ``table``.

    Parameters
    ----------
    joint
        The two tubes and how they stand.
    cut
        ``bevelled`` or ``square``.
    points
        Even clocks of the cope and of the JSON's lists.
    steps
        Ordinates: 8, 12, 16 or 24.
    seam : float or None, degrees
        Clock where the template's ends meet; the toe where ``None``.
    paper
        ``a4``, ``a3``, ``letter``, ``legal`` or ``roll``.
    paper_thickness, overlap : float, mm
        Of the sheet that wraps, and the width of its glue tab.
    printer : (across, along), mm
        What the printed 100 mm bars measured.

    Raises
    ------
    CoperError
        Where the branch misses the main, or a word or a number cannot be used.
    """
    question = joint_question(joint)
    cope = joint.cope(points)
    template = cope.template(cut, paper_thickness)
    ordinates = make_ordinates(cope, cut, steps)

    def saw() -> SawSetting | None:
        return own_saw(joint, cope) if joint.main.kind == "round" else None

    def record() -> dict[str, Any]:
        from coper.telling.records import joint as records
        from coper.telling.records.head import json_head

        own = saw()
        return {
            **json_head(),
            "joint": records.joint_record(joint),
            "cope": records.cope_record(cope),
            "template": records.template_record(template),
            "footprint": records.footprint_record(cope.footprint()),
            "saw": None if own is None else records.saw_record(own),
            "cautions": [*question, *cautions(cope, cut)],
        }

    def lines() -> Iterator[Line]:
        yield title(joint)
        yield from joint_facts(joint)
        yield from cope_facts(joint, cope, template)
        own = saw()
        if own is not None:
            yield own_saw_fact(own)
        yield ordinates_table(joint, ordinates)
        yield from map(Caution, (*question, *cautions(cope, cut)))

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.joint_sheet import Sheet, joint_pages

        return joint_pages(joint, cope, cut, Sheet(
            seam, overlap, paper_thickness, paper, printer))

    def table() -> bytes:
        from coper.telling.records.ordinates_csv import table_csv

        return table_csv(ordinates).encode()

    return Answer(title(joint), cope, record, lines, pages, files={"table": table})
