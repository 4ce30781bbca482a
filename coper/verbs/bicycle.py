"""``coper bicycle``: points from what was measured on a bicycle, how it stands, what a change
does.

The table [bicycle] of a job file holds what was measured in side view, from the centre of the
bottom bracket; "coper help keys" explains each key. The answer has the points and axes that
tubes use by name, and how the bicycle stands on its two wheels: head and seat angle on the
ground, bottom bracket height, trail, wheelbase, and the standover where a tube runs from the
seat tube to the head tube. Part of the numbers is enough for the points of that part. If a
number is missing, coper names the key that would do; a spare number is compared with the
others, and may differ by 2 mm.

Points: bottom-bracket, shell-left, shell-right, axle, axle-left, axle-right (the dropouts'
inner faces), rear-wheel-left, rear-wheel-right (with rear_track), head-top, head-bottom, crown,
front-axle, front-axle-left, front-axle-right. Axes: seat-axis from the bracket, head-axis from
the head tube's lower edge.

rear_track gives it two rear wheels, left and right of the middle plane: the distance between the
middles of their tyres. In side view, and on the ground, they are one.

The changes show what another fork and other wheels do, and which rear end makes up for it. The
bracket and the head tube stay where they are in the frame, and the frame is put back on the
ground. --drop moves the rear axle to that drop at the same chain stay length; --head-angle
finds the drop that gives this angle on the ground.
"""

from __future__ import annotations

import re
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from coper.bicycle.before_after import BeforeAfter, Measured, before_after, measured
from coper.bicycle.bicycle import check_lean
from coper.bicycle.change import Change
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.errors import CoperError, WordsError
from coper.job.frame import placed_tubes
from coper.job.job import Job
from coper.job.read import read_job
from coper.telling.lines import Line
from coper.telling.records.bicycle import bicycle_record, change_record
from coper.telling.records.head import json_head
from coper.telling.words.bicycle import bicycle_lines, change_lines
from coper.units import parse_angle, shown
from coper.verbs.answer import Answer, in_job_unit, placed
from coper.verbs.options import add_json, length, read_in

HELP = "Work out a bicycle's points from measurements, and what a change would do."
EXAMPLES = """\
a job file needs a [bicycle]; part of it is enough for the points of that part:
  [bicycle]
  drop = 58                   # rear axle above the bottom bracket's centre
  chain_stay = 419
  rear_hub = 130

examples:
  coper bicycle demo/wagtail.toml
  coper bicycle demo/wagtail.toml --json
  coper bicycle demo/wagtail.toml --rear-wheel 57-406
  coper bicycle FILE --fork-length 395 --rake 43 --front-wheel 50-559
  coper bicycle FILE --fork-length 395 --head-angle 70
"""

MEASURED = re.compile(r"\s*radius\s+(.+?)\s+tyre\s+(.+?)\s*", re.IGNORECASE)
"""A wheel that was measured, in the words of a job's keys."""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file, with a [bicycle]")
    add("--fork-length", metavar="MM", type=_fork_length,
        help="another fork: crown race to axle along its axis")
    add("--rake", metavar="MM", type=length, help="another fork: its axis to the axle")
    add("--front-wheel", metavar="SIZE", type=_wheel,
        help='another front wheel: 47-507, "radius 300 tyre 47"')
    add("--rear-wheel", metavar="SIZE", type=_wheel, help="another rear wheel")
    add("--drop", metavar="MM", type=length,
        help="another rear end: its drop, at the same chain stay")
    add("--head-angle", metavar="D", type=_head_angle,
        help="which drop gives this head angle on the ground")
    add_json(parser)


def _fork_length(text: str) -> float:
    found = length(text)
    if found <= 0:
        raise WordsError(f"{shown(text)} cannot be the length of a fork", "give it above 0")
    return found


def _wheel(text: str) -> Wheel:
    """A tyre's size, or ``radius R tyre W`` as measured."""
    if found := MEASURED.fullmatch(text):
        return Wheel(length(found[1]), length(found[2]))
    return parse_wheel(text)


def _head_angle(text: str) -> float:
    return check_lean(parse_angle(text))


def ask(arguments: Namespace) -> Answer[Measured | BeforeAfter]:
    """The answer to what the options ask."""
    job = read_job(arguments.file)
    given = read_in(arguments, job.units)
    change = Change(given.fork_length, given.rake, given.front_wheel, given.rear_wheel,
                    given.drop, given.head_angle)

    def place(error: CoperError) -> CoperError:
        """A fault of the change at its option, any other at the file."""
        if error.where in change.asked:
            return type(error)(error.fault, error.cure, "--" + error.where.replace("_", "-"))
        return error.at(arguments.file)

    return placed(lambda: bicycle(job, change), place)


@in_job_unit
def bicycle(job: Job, change: Change | None = None) -> Answer[Measured | BeforeAfter]:
    """A job's bicycle measured, and measured again with a change.

    Parameters
    ----------
    job
        With a bicycle.
    change
        The change, if there is one.

    Raises
    ------
    CoperError
        Where the job has no bicycle, a tube of it cannot be, or the change cannot be made; then
        ``where`` is its name.
    """
    if job.bicycle is None:
        raise CoperError("missing", "add it, such as [bicycle] with drop and chain_stay",
                         "bicycle")
    tubes = [tube for sides in placed_tubes(job).values() for tube in sides.values()]
    before = measured(job.bicycle, tubes)
    both = before_after(before, change, tubes) if change is not None and change.asked else None

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            "title": job.title,
            "bicycle": bicycle_record(before),
            "change": None if both is None else change_record(both),
        }

    def lines() -> Iterator[Line]:
        yield job.title or "a bicycle"
        yield from bicycle_lines(before) if both is None else change_lines(both)

    return Answer(job.title, both or before, record, lines)
