"""``coper regrind``: where to take metal off next, from the gaps of a dry fit.

Push the end home and measure the gap on the outside with feeler gauges at 3 to 24 clocks (8 are
good), the place where it touches among them. Where a gap may go unseen between readings that are
far apart, or at the tip of an end that overhangs, the answer names the clocks to read too: give
all readings again before any metal goes. The answer says what to take off at every clock,
along the tube, how much deeper the tube then seats, and what is most likely wrong: turned on the
tube, wrong angle, wrong offset, or too little taken at one spot; each with its size, the
interval that holds it 95 times in 100, and the share of the readings that it explains. Where no
such cause explains the readings the metal follows the readings themselves, and the answer says
so.

The gap that a cut always leaves is no fault: --cut square for a square cut, and for an end that
was sawn --cut saw=DIAMETER. A saw whose axis passes the tube's elsewhere than the main's, or one
in two passes, is written with each pass's offset and how far its axis is beyond the long point,
as "coper saw" says them in its JSON: saw=1-1/4in@3.46,2.5@1.24,3.29. The numbers of that JSON are
mm: with --units in, write them so, such as 3.46mm. A reading may have its own unit: 0=.012in.

With a limit, or a process that has to bridge the gap, no more is taken off than brings the
largest gap down to half of it; where no reading is above the limit the end fits and is left as it
is, else the command ends with 1. Where the cut by itself leaves more than the limit, the answer
says so. Without one the end is closed as far as the readings show.

Of an end of a job the clocks are the tube's own, as on its template and its log, the gap is to
whichever of its mains is nearest, and the limit is that of the job's shop. It is taken as cut by
its template; --cut saw is one that was sawn as its card says, on several mains too. Of several
mains, angle and offset are those to the one that takes most; a lean round that one and a place
along it are looked for too, and the wall is ground to the bevel that the table gives: take little
by its kinks, and read again.

Every round of a job's end is kept, with what was answered, in the shop book beside the job file
("coper book FILE"), and the next one says what the one before promised: --no-book keeps nothing.
The same readings given again are the same round.

The paper is a strip to wrap along the tube's present edge: the thin curve is that edge, the
heavy one the line to grind to, and the metal between them is hatched.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from coper.drawing.page import Page
from coper.job.papers import TRUE_PRINTER
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import Limit
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.regrind.readings import make_readings
from coper.joint.regrind.regrind import Regrind
from coper.joint.regrind.regrind import regrind_face as find_metal
from coper.joint.steps import Progress
from coper.telling.lines import Caution, Line
from coper.telling.records.head import json_head
from coper.telling.records.regrind import regrind_record
from coper.telling.words.regrind import limit_facts, metal_lines, readings_fact
from coper.verbs.about import Asked, about, in_asked_unit
from coper.verbs.answer import Answer
from coper.verbs.asked import NAMED, add_asked, limit_of, printer_of, read_seated
from coper.verbs.cut_way import CUT_HELP, cut_way, cut_words, read_cut
from coper.verbs.gaps import typed_gaps
from coper.verbs.kept import add_no_book
from coper.verbs.options import add_limit, add_output, add_printer, file_name, needed

HELP = "Find where to take metal off next, from the gaps of a dry fit."
EXAMPLES = f"""\
examples:
  coper regrind "28.6 x 0.9" 38.1 --angle 62 --offset 3 \\
      --gaps 0=1.1,45=0.85,90=0.1,135=0.15,180=0.9,225=1.25,270=0.95,315=0.95 --pdf regrind.pdf
  coper regrind "28.6 x 0.9" 36 --angle 90 --gaps "0=0, 45=0.1, 90=0.3, 135=0.5, 180=0.6"
  coper regrind "28.6 x 0.9" 36 --angle 62 --cut saw=1-1/2in --process tig \\
      --gaps 0=0.55,45=0.2,90=0.05,135=0,180=0.25,225=0.35,270=0.4,315=0.55

{NAMED}
  coper regrind demo/wagtail.toml chain-stay left start --gaps 0=0.5,90=0.1,180=0.6,270=0
  coper regrind demo/wagtail.toml down-tube end --cut saw --gaps 0=0.5,90=0.1,180=0.6,270=0
"""

def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_asked(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", type=cut_way, help=CUT_HELP)
    add("--gaps", metavar="CLOCK=MM,…", type=typed_gaps,
        help="feeler gauge readings on the outside, at 3 to 24 clocks (needed)")
    add_limit(parser)
    add_printer(parser)
    add("--svg", metavar="FILE", type=file_name, help="write the strip as SVG, one file per page")
    add("--pdf", metavar="FILE", type=file_name, help="write the strip as PDF")
    add_no_book(parser)
    add_output(parser)


def ask(arguments: Namespace) -> Answer[Regrind]:
    """The answer to what the options ask."""
    needed(arguments.gaps, "--gaps", "0=0.2,120=0,240=0.35")
    asked, given = read_seated(arguments)
    cut, passes = read_cut(given.cut, asked)
    limit = limit_of(given, asked)
    answer = regrind(asked, given.gaps.pairs, cut, passes, limit, printer_of(given, asked))
    if isinstance(asked, Joint) or given.no_book:
        return answer
    from coper.verbs.kept_round import keeping_round

    said = cut_words(cut or about(asked).cut, passes)
    return keeping_round(answer, asked, given.branch, given.gaps, said, limit)


@in_asked_unit
def regrind(
    asked: Asked, gaps: Sequence[tuple[float, float]], cut: str | None = None,
    passes: Sequence[Pass] = (), limit: Limit | None = None,
    printer: tuple[float, float] = TRUE_PRINTER,
) -> Answer[Regrind]:
    """The metal to take off an end next.

    Parameters
    ----------
    asked
        What the end was cut for: two tubes, or an end of a job.
    gaps : (clock, gap), degrees and mm
        What a feeler gauge read on the outside, at 3 to 24 clocks; of a job's end the tube's own.
    cut
        ``bevelled``, ``square`` or ``saw``; its own where ``None``.
    passes
        Of the saw, where one cut it; without, a job's end was sawn as its card says.
    limit
        The largest gap that is still good.
    printer : (across, along), mm
        What the check bars of an earlier print measured.

    Raises
    ------
    CoperError
        Where the readings or a word cannot be used.
    """
    good, end, read = None if limit is None else limit.mm, about(asked), make_readings(gaps)
    how, joint, title = cut or end.cut, end.joint, end.title
    found = find_metal(joint, end.face(how, passes), how, tuple(zip(
        joint.counted(read.clock).tolist(), read.gap.tolist(), strict=True)), good)

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            **end.record(),
            "cut": how,
            "passes": [asdict(one) for one in passes],
            "regrind": regrind_record(joint, found, good),
            "cautions": [*end.question, *SAFETY],
        }

    def lines() -> Iterator[Line]:
        yield title
        yield from end.notes()
        yield readings_fact(found)
        yield from limit_facts(found, limit)
        yield from metal_lines(joint, found, limit)
        yield from map(Caution, (*end.question, *SAFETY))

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.regrind_sheet import regrind_pages

        return regrind_pages(joint, found, title, printer)

    return Answer(title, found, record, lines, pages,
                  ok=good is None or found.within(good))
