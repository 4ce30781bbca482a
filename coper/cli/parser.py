"""The parser of all verbs, and its refusals in one line."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from typing import NoReturn, TextIO

from coper.cli import (
    bicycle,
    clearance,
    fit,
    job,
    joint,
    layout,
    new,
    regrind,
    saw,
    tolerance,
    tracking,
)
from coper.errors import CoperError, nearest_known
from coper.version import __version__

VERBS = (joint, fit, saw, regrind, tolerance, new, job, bicycle, clearance, tracking, layout)
"""Every verb's module: ``NAME``, ``HELP``, ``EXAMPLES``, ``add_options`` and ``run``."""

HELPS = ("-h", "--help", "--version")

SIGNED = re.compile(r"-[\d.]")


class UsageError(CoperError):
    """Words on the command line that are no command."""


class Parser(argparse.ArgumentParser):
    """A parser that raises its complaint as one of ours, instead of printing a page."""

    def error(self, message: str) -> NoReturn:
        """Raise the complaint, with the way to the help."""
        raise UsageError(message, f"see {self.prog} --help")


def make_parser() -> Parser:
    """The parser of ``coper``."""
    parser = Parser(
        prog="coper",
        description="Shape tube ends so that they seat: templates, saw settings, ordinates.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"coper {__version__}")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", parser_class=Parser)
    for module in VERBS:
        verb = verbs.add_parser(
            module.NAME,
            help=module.HELP,
            description=module.HELP,
            epilog=module.EXAMPLES,
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        module.add_options(verb)
        verb.set_defaults(run=module.run, known=_options(verb))
    return parser


def _options(parser: argparse.ArgumentParser) -> tuple[str, ...]:
    return tuple(word for action in parser._actions for word in action.option_strings)


def read_arguments(
    parser: Parser, argv: Sequence[str], out: TextIO
) -> argparse.Namespace | None:
    """The arguments of one verb; ``None`` where only help or the version was asked for."""
    words = _joined_signs(argv)
    _check_verb(words)
    try:
        arguments, rest = parser.parse_known_args(words)
    except SystemExit:
        return None
    if rest:
        word = rest[0].split("=")[0]
        if word.startswith("-"):
            raise UsageError(f"{word} is no option of coper {arguments.verb}",
                             nearest_known(word, arguments.known))
        if "branch" in arguments:
            raise UsageError(f"{word!r} is one tube too many", "put each tube in quotes: "
                             f"coper {arguments.verb} \"28.6 x 0.9\" \"38.1\"")
        raise UsageError(f"{word!r} is one word too many",
                         "give one FILE, in quotes where its name has spaces")
    return arguments


def _check_verb(words: Sequence[str]) -> None:
    verbs = [module.NAME for module in VERBS]
    if not words:
        raise UsageError("no verb", "say what to do: " + ", ".join(verbs) + "; or --help")
    if words[0].startswith("-") and words[0] not in HELPS:
        raise UsageError(f"{words[0]} comes before any verb", "begin with " + " or ".join(verbs))
    if words[0] not in (*verbs, *HELPS):
        raise UsageError(f"{words[0]!r} is no verb", nearest_known(words[0], verbs))


def _joined_signs(argv: Sequence[str]) -> list[str]:
    """``--offset -1/8in`` as ``--offset=-1/8in``: argparse takes such a value for an option."""
    words: list[str] = []
    for word in argv:
        if words and SIGNED.match(word) and re.fullmatch(r"--[a-z-]+", words[-1]):
            words[-1] += "=" + word
        else:
            words.append(word)
    return words
