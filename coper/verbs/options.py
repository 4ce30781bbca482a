"""Options that several verbs have, and what reads them.

A reader is an option's own ``type=``: text in, value out, a fault raised as one of ours; the
parser says at which option.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from coper.errors import FileError, WordsError, nearest_known
from coper.job.papers import PAPERS, ROLL, check_printer, roll_paper
from coper.joint.fit.limits import Limit, own_limit, process_limit
from coper.units import UNITS, lengths_in, order_unit, parse_length, shown

Given = TypeVar("Given")

PAPER_NAMES = f"{', '.join(PAPERS)} or roll=WIDTH, such as roll=36in"
"""What help says of ``--paper``."""

POINTS = 720
"""Even clocks of the lists in the JSON, unless another number is asked for."""

STEPS = 16
"""Ordinates, unless another number is asked for."""


def add_units(parser: ArgumentParser) -> None:
    """The unit of an order that has no job file to say it."""
    parser.add_argument("--units", metavar="U", type=choice(*UNITS),
                        help=f"unit of bare numbers, {', '.join(UNITS)} (mm); in and ft are "
                        "answered in inches first")


def length(text: str) -> float:
    """A length, mm; a bare number is in the unit of the order."""
    return parse_length(text, order_unit())


def read_in(arguments: Namespace, unit: str) -> Namespace:
    """The arguments as they are where bare numbers are in ``unit``, that of a job.

    Options are read before the job's file is, so they are read again.
    """
    if unit == order_unit():
        return arguments
    with lengths_in(unit):
        return Namespace(**{**vars(arguments), **vars(arguments.again())})


def needed(given: Given | None, option: str, example: str) -> Given:
    """The value given; refused where there is none."""
    if given is None:
        raise WordsError("missing", f"add it, such as {option} {example}", option)
    return given


def add_limit(parser: ArgumentParser) -> None:
    """The largest gap that is still good."""
    parser.add_argument("--limit", metavar="MM", type=_own_limit,
                        help="largest gap that is still good")
    parser.add_argument("--process", metavar="NAME", type=process_limit,
                        help="or the process that has to bridge it: "
                        "tig, mig, stick, fillet-braze, silver-braze, structural-fillet")


def _own_limit(text: str) -> Limit:
    return own_limit(length(text))


def read_limit(arguments: Namespace) -> Limit | None:
    """The limit that :func:`add_limit` describes; ``None`` where none was asked for."""
    limit: Limit | None = arguments.limit
    process: Limit | None = arguments.process
    if limit and process:
        raise WordsError("a limit and a process together", "give one of the two", "--limit")
    return limit or process


def add_output(parser: ArgumentParser) -> None:
    """How an answer is printed and written."""
    parser.add_argument("--force", action="store_true", help="replace files that exist")
    add_json(parser)


def add_json(parser: ArgumentParser) -> None:
    """How an answer is printed, where no file is written."""
    parser.add_argument("--json", action="store_true",
                        help="print one JSON object and nothing else")


def size(text: str) -> float:
    """A length above 0, mm."""
    found = length(text)
    if found <= 0:
        raise WordsError(f"{shown(text)} is not a size", "give a length above 0")
    return found


def whole(text: str) -> int:
    """A whole number."""
    try:
        return int(text)
    except ValueError:
        raise WordsError(f"{text!r} is not a whole number", "write one such as 720") from None


def choice(*choices: str) -> Callable[[str], str]:
    """A reader of one of ``choices``, in any case."""

    def read(text: str) -> str:
        word = text.strip().lower()
        if word in choices:
            return word
        raise WordsError(f"{text!r} is not known", nearest_known(word, choices))

    return read


def paper_name(text: str) -> str:
    """A paper's name, of a roll with its width if it has one: ``roll=914``, ``roll=36in``."""
    name, given, width = text.strip().lower().partition("=")
    if given and name.strip() == ROLL:
        return roll_paper(parse_length(width))
    return choice(*PAPERS)(text)


def printer(text: str) -> tuple[float, float]:
    """``ACROSS,ALONG``: what the two printed 100 mm bars measured, mm whatever the order."""
    parts = text.split(",")
    if len(parts) != 2:
        raise WordsError(f"{text!r} is not a pair",
                         "write what the bars across and along measured, such as 99.4,100.2")
    across, along = (parse_length(part) for part in parts)
    check_printer((across, along))
    return across, along


def add_printer(parser: ArgumentParser) -> None:
    """What the printer does to a length."""
    parser.add_argument("--printer", metavar="ACROSS,ALONG", type=printer,
                        help="what both bars of 100 mm of an uncorrected print measured, in mm "
                        "(the job's, or 100,100)")


def file_name(text: str) -> Path:
    """The path of a file to write."""
    if not text.strip():
        raise WordsError("no name", "give one, such as cope.pdf")
    path = Path(text)
    if path.name in ("", ".."):
        raise FileError("this is a folder", "name a file in it", text)
    return path


def folder_name(text: str) -> Path:
    """The path of a folder to fill, refused before the work where nothing could be written there.

    Raises
    ------
    CoperError
        A file has its name, or it is not there and its own folder is not either.
    """
    if not text.strip():
        raise WordsError("no name", "give one, such as out")
    folder = Path(text)
    try:
        if folder.is_dir():
            return folder
        if folder.exists():
            raise FileError("this is a file, not a folder", "name another", text)
        if not folder.parent.is_dir():
            raise FileError(f"there is no folder {str(folder.parent)!r} to make it in",
                            "make that first, or name another", text)
    except OSError as fault:  # a name that is too long, or links that form a ring
        raise FileError("no folder can have this name", "choose another name",
                        shown(text)) from fault
    return folder
