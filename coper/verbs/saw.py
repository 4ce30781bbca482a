"""``coper saw``: which saw of the kit to use, and how to set it.

For every saw of the kit coper works out the gap that its cut leaves, whether it cuts the whole
tube, and whether it is deep enough. A saw larger than the main leaves a gap at the ears, a
smaller one in the throat. The best saw comes first, then the runner-up. The cut is placed so
that the seated tube ends up as designed.

If no saw keeps the gap within the limit, or no limit is given, coper also tries what is harder to
set: each saw moved sideways off the main's axis; two passes of one saw, moved between them; and a
saw a little too narrow for the tube, which leaves a sliver to file through. Each is offered where
it closes 0.1 mm or more, or brings the gap under the limit. For two passes clamp the tube in a
fixture that holds the saw as well: in the second one a pilot drill has no metal to bite.

Where the whole cut is flat, as on a plate or the side of a box, a chop saw or a band saw makes it
exactly: the answer says how the tube lies against the fence and what the blade is set to.

A cut that is deeper than the saw is made from both sides. One that not even both sides reach is
no choice: the answer says so, and what would do instead.

Of an end of a job the answer is its card: the set-up of every main in turn, with the job's saws
unless others are given, and the gap that all the cuts together leave.

A bi-metal saw cuts 0.2 to 0.8 mm over its size (common practice): measure a test cut and give
that. The exit status is 1 if even the best saw misses the limit or the depth that you gave.
--pdf or --svg writes a set-up card for the drill press and a log of the dry fits. Left and
right are seen looking at the end that is cut.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from coper.bench.chop import chop_cut
from coper.bench.setup import EndSetup
from coper.drawing.page import Page
from coper.errors import WordsError
from coper.job.papers import PAPERS, TRUE_PRINTER
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.joint.saw.kit import USUAL_KIT_MM, SawKit, choose_saws
from coper.joint.saw.setting import USUAL_DEPTH_MM
from coper.joint.steps import Progress, silent
from coper.telling.lines import Caution, Line
from coper.telling.records.fit import kit_records
from coper.telling.records.head import json_head
from coper.telling.records.joint import joint_record
from coper.telling.words.chop import chop_fact
from coper.telling.words.joint import title
from coper.telling.words.saw import choice_facts, kit_table
from coper.telling.words.small import joint_question
from coper.units import format_inches, shown
from coper.verbs.answer import Answer
from coper.verbs.asked import NAMED, add_asked, printer_of, read_asked
from coper.verbs.options import (
    PAPER_NAMES,
    add_limit,
    add_output,
    add_printer,
    file_name,
    paper_name,
    read_limit,
    size,
)

HELP = "Choose a hole saw from the kit and show how to set it."
EXAMPLES = f"""\
examples:
  coper saw "28.6 x 0.9" 36 --angle 62 --offset 3 --process tig
  coper saw "28.6 x 0.9" 36 --angle 62 --pdf card.pdf
  coper saw "28.6 x 0.9" 36 --angle 62 --kit 1-1/4in,1-3/8in,1-1/2in --depth 38 --limit 0.5

{NAMED}
  coper saw demo/wagtail.toml chain-stay left start --pdf card.pdf
  coper saw demo/wagtail.toml down-tube start --kit 1-1/4in,1-5/8in
"""

OTHER_MARKS = (";", "+", "&", " and ", "in ", '" ', "mm ")
"""What people write between saws instead of a comma."""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    least, most = (_inches(saw) for saw in (USUAL_KIT_MM[0], USUAL_KIT_MM[-1]))
    add_asked(parser)
    add = parser.add_argument
    add("--kit", metavar="D,D,…", type=_kit,
        help=f"the saws that you have (the job's, or {least} to {most} by the eighth)")
    add("--depth", metavar="MM", type=size,
        help=f"cutting depth of the saws ({_inches(USUAL_DEPTH_MM)})")
    add_limit(parser)
    add("--paper", metavar="SIZE", type=paper_name,
        help=f"{PAPER_NAMES} (the job's, or {PAPERS[0]})")
    add_printer(parser)
    add("--svg", metavar="FILE", type=file_name,
        help="write the set-up card and a log as SVG, one file per page")
    add("--pdf", metavar="FILE", type=file_name, help="write the set-up card and a log as PDF")
    add_output(parser)


def _inches(length: float) -> str:
    """A length as it is typed: ``1-7/8in``."""
    return format_inches(length).replace(" ", "")


def _kit(text: str) -> tuple[float, ...]:
    """``D,D,…``: diameters, mm."""
    words = [word for word in text.split(",") if word.strip()]
    if not words:
        raise WordsError("the kit holds no saw", "give one or more, such as 1in,1-1/4in")
    try:
        return tuple(map(size, words))
    except WordsError as error:
        if not any(mark in text for mark in OTHER_MARKS):
            raise
        raise WordsError(f"{shown(text)} is no list of saws",
                         "saws are separated by commas, such as 1in,1-1/4in") from error


def ask(arguments: Namespace) -> Answer[SawKit] | Answer[EndSetup]:
    """The answer to what the options ask."""
    asked, given = read_asked(arguments)
    if not isinstance(asked, Joint):
        from coper.verbs.saw_end import ask_end

        return ask_end(asked, given)
    return saw(asked, arguments.kit or USUAL_KIT_MM, arguments.depth, read_limit(arguments),
               arguments.paper or PAPERS[0], arguments.progress.live,
               printer_of(given, asked))


def saw(
    joint: Joint, kit: Sequence[float] = USUAL_KIT_MM, depth: float | None = None,
    limit: Limit | None = None, paper: str = PAPERS[0], progress: Progress = silent,
    printer: tuple[float, float] = TRUE_PRINTER,
) -> Answer[SawKit]:
    """The saws of a kit for one end, best first; two passes of one where one pass is too open.

    Parameters
    ----------
    joint
        The joint that the end is cut for.
    kit : sequence of float, mm
        The saws' diameters.
    depth : float or None, mm
        How deep every one of them cuts; the usual depth where ``None``, which fails no check.
    limit
        The largest gap that is still good.
    paper
        The paper for the card: ``a4``, ``a3``, ``letter``, ``legal`` or ``roll``.
    progress
        Hears of each step: on tapers the harder ways take seconds.
    printer : (across, along), mm
        What the check bars of an earlier print measured.

    Raises
    ------
    CoperError
        Where no saw of the kit cuts the whole tube, or a number cannot be used.
    """
    enough = None if limit is None else limit.mm
    found = choose_saws(joint, kit, USUAL_DEPTH_MM if depth is None else depth, enough or 0.0,
                        progress)
    best, chop = found.choices[0], chop_cut(joint.cope())
    question = joint_question(joint)

    def record() -> dict[str, Any]:
        rows = kit_records(found, enough)
        return {
            **json_head(),
            "joint": joint_record(joint),
            "limit": enough,
            "covering_diameter": found.needed,
            "saw": rows[0],
            "choices": rows,
            "chop": None if chop is None else asdict(chop),
            "cautions": [*question, *SAFETY],
        }

    def lines() -> Iterator[Line]:
        yield title(joint)
        if chop is not None:
            yield chop_fact(joint, chop)
        yield from choice_facts(joint, found, limit)
        yield kit_table(found, limit)
        yield from map(Caution, (*question, *SAFETY))

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.saw_sheet import saw_pages

        return saw_pages(joint, best, limit, paper, printer)

    checked = limit is not None or depth is not None
    return Answer(title(joint), found, record, lines, pages, ok=not checked or best.ok(enough))
