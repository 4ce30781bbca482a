"""The options of a change to a job's bicycle, which several verbs take."""

from __future__ import annotations

import re
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from typing import Any, Final

from coper.bicycle.bicycle import check_lean
from coper.bicycle.change import Change
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.errors import CoperError, WordsError
from coper.units import parse_angle, shown
from coper.verbs.options import length

MEASURED = re.compile(r"\s*radius\s+(.+?)\s+tyre\s+(.+?)\s*", re.IGNORECASE)
"""A wheel that was measured, in the words of a job's keys."""


def add_changes(parser: ArgumentParser) -> None:
    """What becomes different: another fork, other wheels, another rear end."""
    _add(parser, "fork_length", "MM", "another fork: crown race to axle along its axis")
    _add(parser, "rake", "MM", "another fork: its axis to the axle")
    _add(parser, "front_wheel", "SIZE", 'another front wheel: 47-507, "radius 300 tyre 47"')
    _add(parser, "rear_wheel", "SIZE", "another rear wheel")
    _add(parser, "drop", "MM", "another rear end: its drop, at the same chain stay")
    _add(parser, "chain_stay", "MM", "another rear end: bracket to axle, at the same drop")


def add_head_angle(parser: ArgumentParser) -> None:
    """The drop that gives a head angle on the ground."""
    _add(parser, "head_angle", "D", "which drop gives this head angle on the ground")


def _add(parser: ArgumentParser, name: str, value: str, words: str) -> None:
    parser.add_argument(f"--{name.replace('_', '-')}", metavar=value, type=READERS[name],
                        help=words)


def read_change(arguments: Namespace) -> Change:
    """The change that the options ask for."""
    given = vars(arguments)
    return Change(**{name: given.get(name) for name in Change.__dataclass_fields__})


def at_option(error: CoperError, change: Change, file: str) -> CoperError:
    """A fault of the change at its option, any other at the file."""
    if error.where in change.asked:
        return type(error)(error.fault, error.cure, "--" + error.where.replace("_", "-"))
    return error.at(file)


def _above_0(what: str) -> Callable[[str], float]:
    """A reader of a length above 0."""

    def read(text: str) -> float:
        found = length(text)
        if found <= 0:
            raise WordsError(f"{shown(text)} cannot be the length of {what}", "give it above 0")
        return found

    return read


def _wheel(text: str) -> Wheel:
    """A tyre's size, or ``radius R tyre W`` as measured."""
    if found := MEASURED.fullmatch(text):
        return Wheel(length(found[1]), length(found[2]))
    return parse_wheel(text)


def _head_angle(text: str) -> float:
    return check_lean(parse_angle(text))


READERS: Final[dict[str, Callable[[str], Any]]] = {
    "fork_length": _above_0("a fork"), "rake": length, "front_wheel": _wheel,
    "rear_wheel": _wheel, "drop": length, "chain_stay": _above_0("a chain stay"),
    "head_angle": _head_angle}
"""What reads each part of a change, by its name."""
