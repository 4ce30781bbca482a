"""The options of every verb that is about one branch on one main."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from coper.cli.options import needed, read
from coper.errors import WordsError
from coper.joint.joint import Joint
from coper.shapes.read import parse_tube
from coper.shapes.shape import as_branch, as_main
from coper.units import parse_angle, parse_length

if TYPE_CHECKING:
    from coper.joint.fit.limits import Limit


def add_joint_options(parser: ArgumentParser) -> None:
    """The two tubes and how they stand, all read as text so that a fault can name its option."""
    parser.add_argument("branch", metavar="BRANCH", help="the tube whose end is shaped")
    parser.add_argument("main", metavar="MAIN", help="the tube or plate that it seats on")
    add = parser.add_argument
    add("--angle", metavar="A", help="from the main's + end to the branch, degrees (needed)")
    add("--offset", metavar="E", default="0", help="between the two axes, signed (0)")
    add("--turn", metavar="T", default="0", help="turns the branch about its axis (0)")
    add("--main-turn", metavar="T", default="0", help="turns the main about its axis (0)")
    add("--main-at", metavar="X", default="0", help="where the main's start stands (0)")


def read_joint(arguments: Namespace) -> Joint:
    """The joint that the words describe."""
    angle = needed("--angle", arguments.angle, "62")
    return Joint(
        read("branch", arguments.branch, lambda text: as_branch(parse_tube(text))),
        read("main", arguments.main, lambda text: as_main(parse_tube(text))),
        read("--angle", angle, parse_angle),
        read("--offset", arguments.offset, parse_length),
        read("--turn", arguments.turn, parse_angle),
        read("--main-turn", arguments.main_turn, parse_angle),
        read("--main-at", arguments.main_at, parse_length),
    )


def add_limit_options(parser: ArgumentParser) -> None:
    """The gap that is still good."""
    parser.add_argument("--limit", metavar="MM", help="largest gap that is still good")
    parser.add_argument("--process", metavar="NAME", help="or the process that has to bridge it: "
                        "tig, mig, stick, fillet-braze, silver-braze, structural-fillet")


def read_limit(arguments: Namespace) -> Limit | None:
    """The limit that was asked for; ``None`` where none was."""
    from coper.joint.fit.limits import own_limit, process_limit

    if arguments.limit is not None and arguments.process is not None:
        raise WordsError("a limit and a process at once", "give one of the two", "--limit")
    if arguments.process is not None:
        return read("--process", arguments.process, process_limit)
    if arguments.limit is not None:
        return read("--limit", arguments.limit, lambda text: own_limit(parse_length(text)))
    return None
