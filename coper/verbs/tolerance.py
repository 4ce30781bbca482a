"""``coper tolerance``: how careful to be with an end.

Five things can be wrong. angle, offset: the branch is mounted at another angle, or beside its
place. turn: the cope is turned on its tube, a template that slipped round. diameter: the main's
real size, measured anywhere with a caliper, is not the one that the end was cut for; a plate's
does not matter. length: a tube held between two ends cannot be pushed home. One too short
stands off by that much at this end, one too long at its other end.

For each error alone: the gap that a degree or a mm of it opens, for + and for -, and the
largest error that stays under the limit. Then coper puts 10,000 joints together with all errors
at once, each drawn from a normal distribution whose standard deviation is its scatter. It gives
the gap that 50, 90, 95 and 99 of 100 joints stay under, and how much the gap of 95 in 100 would
shrink if one thing were always right: mend that one first. The same --seed draws the same
joints. Last comes the gap that an ideal square cut leaves, which dressing the bevel saves.
Without a limit coper uses that of tig. The exit status is 1 if the cut is above a limit that
you gave even with nothing wrong.

Of an end of a job on several mains, angle, offset and diameter are those of the main that takes
most of it; the others stay where they are to that one.

The gaps agree with those of "coper fit" within 0.01 mm. Round tubes take about a second; tapers,
ovals, boxes and bends up to half a minute, because each of the joints is pushed home by search: on
a terminal coper shows how far it is.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from coper.arrays import OneLine
from coper.drawing.page import Page
from coper.errors import JointError, check_choice
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import Limit, process_limit
from coper.joint.steps import Progress, silent
from coper.joint.template import CUTS, Cut
from coper.joint.tolerance.spread import JOINTS, SEED, Scatter, Spread, spread
from coper.joint.tolerance.tolerance import UNITS, ErrorKind, Tolerance
from coper.joint.tolerance.tolerance import tolerance as each_alone
from coper.telling.lines import Caution, Fact, Line
from coper.telling.records.head import json_head
from coper.telling.records.tolerance import tolerance_record
from coper.telling.words.tolerance import (
    alone_table,
    ideal_facts,
    limit_fact,
    spread_lines,
    wall_fact,
)
from coper.units import parse_angle
from coper.verbs.about import Asked, about, in_asked_unit
from coper.verbs.answer import Answer
from coper.verbs.asked import NAMED, add_asked, limit_of, read_seated
from coper.verbs.options import add_limit, add_output, choice, file_name, length, whole

HELP = "Show how careful to be: the gap that each error leaves, and the gaps to expect."
EXAMPLES = f"""\
examples:
  coper tolerance "28.6 x 0.9" 38.1 --angle 62 --offset 3 --process tig
  coper tolerance "28.6 x 0.9" 36 --angle 90 --angle-scatter 0.25 --length-scatter 0.5
  coper tolerance "28.6 x 0.9" 36 --angle 90 --cut square --limit 1 --picture care.svg

{NAMED}
  coper tolerance demo/wagtail.toml chain-stay left start
"""
USUAL_PROCESS = "tig"
"""Whose limit is used where none was given: the tightest of those that melt the edges."""

USUAL_SCATTER = Scatter()

SCATTER_OF: dict[ErrorKind, str] = {
    "angle": "the angle",
    "turn": "how the cope is turned on its tube",
    "offset": "the offset",
    "diameter": "the main's real size",
    "length": "the length of a tube held between two ends",
}


@dataclass(frozen=True, slots=True, repr=False)
class Care(OneLine):
    """How careful to be about one end.

    Attributes
    ----------
    alone : Tolerance
        What each error does by itself.
    together : Spread
        What they do all at once.
    """

    alone: Tolerance
    together: Spread


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add_asked(parser)
    add = parser.add_argument
    add("--cut", metavar="CUT", type=choice(*CUTS),
        help="bevelled (usual) or square; of a job the end's own")
    add_limit(parser)
    for thing, unit in UNITS.items():
        usual = getattr(USUAL_SCATTER, thing)
        metavar, read = ("D", parse_angle) if unit == "deg" else ("MM", length)
        add(f"--{thing}-scatter", metavar=metavar, type=read, default=usual,
            help=f"standard deviation of {SCATTER_OF[thing]} ({usual:g})")
    add("--seed", metavar="N", type=whole, default=SEED, help=f"a number for other joints ({SEED})")
    add("--picture", metavar="FILE", type=file_name,
        help="draw it: FILE.svg, FILE.pdf or FILE.png")
    add_output(parser)


def ask(arguments: Namespace) -> Answer[Care]:
    """The answer to what the options ask."""
    asked, given = read_seated(arguments)
    return tolerance(asked, given.cut, limit_of(given, asked), _read_scatter(given), given.seed,
                     arguments.progress.live)


def _read_scatter(arguments: Namespace) -> Scatter:
    try:
        return Scatter(**{thing: getattr(arguments, f"{thing}_scatter") for thing in UNITS})
    except JointError as error:
        option = f"--{error.where.replace(' ', '-')}"
        raise JointError(error.fault, error.cure, option) from error


@in_asked_unit
def tolerance(
    asked: Asked, cut: Cut | None = None, limit: Limit | None = None,
    scatter: Scatter = USUAL_SCATTER, seed: int = SEED, progress: Progress = silent,
) -> Answer[Care]:
    """Each error alone, then all of them together.

    Parameters
    ----------
    asked
        What the end is cut for: two tubes, or an end of a job. That one's angle, offset and
        diameter are of the main that takes most.
    cut
        ``bevelled`` or ``square``; its own where ``None``.
    limit
        The largest gap that is still good; that of ``USUAL_PROCESS`` where none is given, which
        fails no check.
    scatter
        Standard deviations of the errors.
    seed
        A whole number from 0 up; the same draws the same joints.
    progress
        Hears of each step: many joints take seconds.

    Raises
    ------
    CoperError
        Where a word or a number cannot be used, or joints that scatter so cannot be made.
    """
    end = about(asked)
    how, joint, title = cut or end.cut, end.joint, end.title
    check_choice(how, CUTS, "cut")
    taken = limit or process_limit(USUAL_PROCESS)
    alone = each_alone(joint, how, taken.mm, progress)
    together = spread(joint, how, taken.mm, scatter, seed, JOINTS, progress)

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            **end.record(),
            "cut": how,
            "tolerance": tolerance_record(joint, alone, together, taken),
            "cautions": [*end.question, *SAFETY],
        }

    def lines() -> Iterator[Line]:
        yield title
        yield from end.notes()
        yield Fact("cut", how)
        yield limit_fact(taken, None if limit else USUAL_PROCESS)
        yield from ideal_facts(alone)
        yield alone_table(alone)
        yield from spread_lines(together, taken.mm)
        yield wall_fact(joint, alone.square)
        yield from map(Caution, (*end.question, *SAFETY))

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.sheets.tolerance_picture import tolerance_page

        return (tolerance_page(alone, together, taken, title, how),)

    return Answer(title, Care(alone, together), record, lines, pages,
                  ok=limit is None or alone.possible)
