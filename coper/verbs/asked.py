"""What a verb of one end is asked about: a branch on a main, or an end of a job by its name.

::

    coper fit "28.6 x 0.9" 38.1 --angle 62          two tubes, and how they stand
    coper fit wagtail.toml chain-stay left start    the job says how they stand

The first word is a job file where it ends in .toml or is a file that is there. Only then is what
reads jobs loaded: a command about two tubes starts fast.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from coper.errors import CoperError, WordsError, named_few
from coper.job.papers import TRUE_PRINTER
from coper.joint.bend_inside import check_room
from coper.joint.fit.limits import Limit
from coper.joint.joint import Joint
from coper.shapes.read import Shape, parse_tube
from coper.shapes.shape import as_branch, as_main
from coper.units import lengths_in, order_unit, parse_angle, shown
from coper.verbs.about import Asked, about
from coper.verbs.options import add_units, length, needed, read_in, read_limit

if TYPE_CHECKING:
    from coper.frame.tube import Which
    from coper.job.job import Job

JOINT_OPTIONS = ("angle", "offset", "turn", "main_turn", "main_at")
"""How a joint's tubes stand."""

NAMED = """\
or an end of a job file by its name, in place of BRANCH, MAIN and how they stand (FILE is a file
that is there, or ends in .toml; its [shop] has the limit and the saws; clocks are the tube's own;
of several mains, angle and offset are those to the one that takes most of the end):
"""
"""Comes before the examples of named ends."""


def add_asked(parser: ArgumentParser) -> None:
    """The two tubes and how they stand, or the name of an end of a job."""
    add = parser.add_argument
    add("branch", metavar="BRANCH|FILE", help="the tube whose end is shaped, or a job file")
    add("main", metavar="MAIN|TUBE", nargs="?",
        help="the tube or plate that it seats on, or the name of a tube of the job")
    add("more", metavar="[left|right] start|end", nargs="*",
        help="of the job's tube: which of two twins, and which end")
    add("--angle", metavar="A", type=parse_angle,
        help="from the main's + end to the branch, degrees (needed, but of a job)")
    add("--offset", metavar="E", type=length, help="between the two axes, signed (0)")
    add("--turn", metavar="T", type=parse_angle, help="turn of the branch about its axis (0)")
    add("--main-turn", metavar="T", type=parse_angle, help="turn of the main about its axis (0)")
    add("--main-at", metavar="X", type=length, help="where the main's start is (0)")
    add_units(parser)


def read_asked(arguments: Namespace) -> tuple[Asked, Namespace]:
    """The joint or the job's end that :func:`add_asked` describes.

    With it come the arguments, their bare numbers in the job's unit where there is a job.
    """
    if not _is_file(arguments.branch):
        return read_joint(arguments), arguments
    for name in (*JOINT_OPTIONS, "units"):
        if getattr(arguments, name) is not None:
            what = "what its numbers are" if name == "units" else "how the end stands"
            raise WordsError(f"the job says {what}", "take it out, or change the file",
                             f"--{name.replace('_', '-')}")
    from coper.job.named_end import find_end
    from coper.job.read import read_job
    from coper.telling.words.typed import typed_word

    job = read_job(arguments.branch)
    begin = f"coper {arguments.verb} {typed_word(arguments.branch)}"
    try:
        with lengths_in(job.units):
            found = find_end(job, *read_name(_words(arguments), begin, job))
        return found, read_in(arguments, job.units)
    except CoperError as error:
        raise error.at(arguments.branch) from error


def read_seated(arguments: Namespace) -> tuple[Asked, Namespace]:
    """The same; refused where the end seats on no main."""
    asked, given = read_asked(arguments)
    if not isinstance(asked, Joint):
        from coper.job.named_end import check_seats

        try:
            check_seats(asked.end, asked.name)
        except CoperError as error:
            raise error.at(arguments.branch) from error
    return asked, given


def read_joint(arguments: Namespace) -> Joint:
    """The joint of two tubes."""
    words = _words(arguments)
    if not words:
        raise WordsError("missing", "give the tube that it seats on, such as \"38.1\"; see coper "
                         f"{arguments.verb} --help", "MAIN")
    if len(words) > 1:
        raise WordsError(f"{shown(words[1])!r} is one tube too many", "put each tube in "
                         f"quotes: coper {arguments.verb} \"28.6 x 0.9\" \"38.1\"")
    branch, main = as_branch(_tube("branch", arguments.branch)), as_main(_tube("main", words[0]))
    angle, *others = (getattr(arguments, name) for name in JOINT_OPTIONS)
    joint = Joint(branch, main, needed(angle, "--angle", "62"), *(one or 0.0 for one in others))
    check_room(joint.cluster())
    return joint


def limit_of(arguments: Namespace, asked: Asked) -> Limit | None:
    """The limit that was given, or that of the job's shop."""
    given = read_limit(arguments)
    return about(asked).limit if given is None else given


def printer_of(arguments: Namespace, asked: Asked) -> tuple[float, float]:
    """What the check bars measured: as given, else as the job's shop says; mm."""
    given: tuple[float, float] | None = arguments.printer
    if isinstance(asked, Joint):
        return given or TRUE_PRINTER
    return asked.job.shop.printing(given).printer


def read_name(words: Sequence[str], begin: str, job: Job) -> tuple[str, str | None, Which]:
    """Tube, side and end of the job from what came after ``begin``.

    Raises
    ------
    CoperError
        Where they are no end.
    """
    from coper.frame.tube import ENDS
    from coper.job.named_end import SIDES
    from coper.telling.words.typed import typed_word

    if not words:
        names = ", ".join(named_few([plan.name for plan in job.tubes]))
        raise WordsError("no tube and no end of it", f"name one of {names}, left or right where it "
                         f"has a twin, and start or end: {begin} TUBE start")
    tube, *after = words
    *side, which = (word.strip().lower() for word in after or [""])
    if which in ENDS and (not side or (len(side) == 1 and side[0] in SIDES)):
        return tube, side[0] if side else None, which
    twin = " left" if any(plan.name == tube and plan.mirror for plan in job.tubes) else ""
    given = shown(" ".join(after))
    raise WordsError(f"{given!r} is no end of it" if given else "no end of it",
                     f"write such as {begin} {typed_word(tube)}{twin} start", tube)


def _words(arguments: Namespace) -> list[str]:
    """What came after the first word, whether before the options or behind them."""
    return [word for word in (arguments.main, *arguments.more) if word is not None]


def _tube(where: str, text: str) -> Shape:
    try:
        return parse_tube(text, order_unit())
    except CoperError as error:
        raise error.at(where) from error


def _is_file(text: str) -> bool:
    if not text.strip() or text.strip().lower().endswith(".toml"):
        return bool(text.strip())
    try:
        return Path(text).exists()
    except (OSError, ValueError):  # no file can have this name
        return False
