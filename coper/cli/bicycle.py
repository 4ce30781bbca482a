"""``coper bicycle``: a bicycle's points and measures, and what a change would do to them."""

from __future__ import annotations

import re
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, TextIO

from coper.cli.options import read
from coper.cli.telling import tell
from coper.errors import CoperError, WordsError
from coper.units import parse_angle, parse_length, shown

if TYPE_CHECKING:
    from coper.bicycle.change import Change
    from coper.bicycle.wheel import Wheel

HELP = "Work out a bicycle's points from what was measured, and what a change would do."
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


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file, with a [bicycle]")
    add("--fork-length", metavar="MM", help="another fork: crown race to axle along its axis")
    add("--rake", metavar="MM", help="another fork: its axis to the axle")
    add("--front-wheel", metavar="SIZE", help='another front wheel: 47-507, "radius 300 tyre 47"')
    add("--rear-wheel", metavar="SIZE", help="another rear wheel")
    add("--drop", metavar="MM", help="another rear end: its drop, at the same chain stay")
    add("--head-angle", metavar="D", help="which drop gives this head angle on the ground")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Measure the bicycle of the job, and with the change if there is one."""
    from coper.cli.bicycle_summary import bicycle_summary
    from coper.job.read import read_job
    from coper.work.bicycle import BicycleOrder, bicycle_json, work_bicycle

    change = read_change(arguments)
    job = read_job(arguments.file)
    try:
        work = work_bicycle(BicycleOrder(job, change))
    except CoperError as error:
        raise _placed(error, arguments.file, change) from error
    tell(arguments, out, lambda: bicycle_json(work), lambda: bicycle_summary(work))
    return 0


def _placed(error: CoperError, file: str, change: Change | None) -> CoperError:
    """A fault of the change at its option, any other at the file."""
    if change is not None and error.where in change.asked:
        return type(error)(error.fault, error.cure, "--" + error.where.replace("_", "-"))
    return error.at(file)


def read_change(arguments: Namespace) -> Change | None:
    """What becomes different, ``None`` where nothing does."""
    from coper.bicycle.bicycle import check_lean
    from coper.bicycle.change import Change

    def told(name: str) -> tuple[str, str | None]:
        return "--" + name.replace("_", "-"), getattr(arguments, name)

    def length(name: str) -> float | None:
        option, text = told(name)
        return None if text is None else read(option, text, parse_length)

    def wheel(name: str) -> Wheel | None:
        option, text = told(name)
        return None if text is None else read(option, text, read_wheel)

    option, text = told("head_angle")
    angle = None if text is None else read(option, text, lambda word: check_lean(parse_angle(word)))
    if (fork := length("fork_length")) is not None and fork <= 0:
        raise WordsError(f"{shown(arguments.fork_length)} is no length of a fork",
                         "give it above 0", "--fork-length")
    change = Change(fork, length("rake"), wheel("front_wheel"), wheel("rear_wheel"),
                    length("drop"), angle)
    return change if change.asked else None


MEASURED = re.compile(r"\s*radius\s+(.+?)\s+tyre\s+(.+?)\s*", re.IGNORECASE)
"""A wheel that was measured, in the words of a job's keys."""


def read_wheel(text: str) -> Wheel:
    """A tyre's size, or ``radius R tyre W`` as measured."""
    from coper.bicycle.wheel import Wheel, parse_wheel

    if found := MEASURED.fullmatch(text):
        return Wheel(parse_length(found[1]), parse_length(found[2]))
    return parse_wheel(text)
