"""The parser of all verbs, and its refusals in one line."""

from __future__ import annotations

import argparse
import itertools
import re
from collections import Counter
from collections.abc import Callable, Sequence
from importlib import import_module
from inspect import cleandoc
from types import ModuleType
from typing import Any, NoReturn

from coper.errors import CoperError, nearest_known
from coper.units import UNITS
from coper.version import __version__

VERBS = ("joint", "fit", "saw", "regrind", "tolerance", "new", "job", "bicycle", "clearance",
         "tracking", "layout", "bends", "made", "book", "help")
"""Every verb; each is a module of ``coper.verbs``, which has ``HELP``, ``EXAMPLES``,
``add_options`` and ``ask``."""

HELPS = ("-h", "--help", "--version")

SIGNED = re.compile(r"-[\d.¼½¾⅓⅔⅛⅜⅝⅞]")

OPTION = re.compile(r"--[a-z]")


class UsageError(CoperError):
    """Words on the command line that are no command."""


class OptionError(CoperError):
    """What was given for an option cannot be used."""


class Parser(argparse.ArgumentParser):
    """A parser that raises its complaint as one of ours, and prints nothing itself."""

    def __init__(self, *given: Any, **how: Any) -> None:
        super().__init__(*given, **how)
        self.color = False  # from Python 3.14 on help has colours, which are control characters

    def add_argument(self, *names: str, **how: Any) -> argparse.Action:
        """As the library's; a fault of the option's reader names the option."""
        if "type" in how:
            how["type"] = _at_option(names[0], how["type"])
        return super().add_argument(*names, **how)

    def error(self, message: str) -> NoReturn:
        """Raise the complaint, with the way to the help."""
        raise UsageError(message, f"see {self.prog} --help")

    def _print_message(self, message: str, file: object = None) -> NoReturn:
        """Stop with the help or the version, for the library prints it whoever listens."""
        raise SystemExit(message)


def _at_option(name: str, read: Callable[[str], object]) -> Callable[[str], object]:
    """The same reader, its faults at the option ``name``; the library lets no other through."""

    def named(text: str) -> object:
        try:
            return read(text)
        except CoperError as error:
            fault = error.at(name)
            raise OptionError(fault.fault, fault.cure, fault.where) from error

    return named


def verb_module(name: str) -> ModuleType:
    """The module of a verb: only one that is asked for is loaded, so that a command starts fast."""
    return import_module(f"coper.verbs.{name}")


def make_parser(names: Sequence[str] = VERBS) -> Parser:
    """The parser of ``coper`` with these verbs."""
    parser = Parser(
        prog="coper",
        description="Shape tube ends so that they seat, lay the frame out, and check it.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"coper {__version__}")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", parser_class=Parser)
    for name in names:
        module = verb_module(name)
        verb = verbs.add_parser(
            name,
            help=module.HELP,
            description=cleandoc(module.__doc__ or "").replace("``", ""),
            epilog=module.EXAMPLES,
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )
        module.add_options(verb)
        verb.set_defaults(ask=module.ask, known=_options(verb))
    return parser


def _options(parser: argparse.ArgumentParser) -> tuple[str, ...]:
    return tuple(word for action in parser._actions for word in action.option_strings)


def read_arguments(argv: Sequence[str]) -> argparse.Namespace | str:
    """The arguments of one verb; a text where only help or the version was asked for."""
    words = _joined_signs(argv)
    _check_verb(words)
    _check_pairs(words)
    _check_twice(words)
    parser = make_parser(VERBS if words[0] in HELPS else words[:1])
    try:
        arguments, rest = parser.parse_known_args(words)
    except SystemExit as asked:
        return str(asked.code)
    arguments.again = lambda: parser.parse_known_args(words)[0]
    if rest:
        word = rest[0].split("=")[0]
        if word.startswith("-"):
            raise UsageError(f"{word} is not an option of coper {arguments.verb}",
                             nearest_known(word, arguments.known))
        if "more" in arguments:  # words that come after an option: the library leaves them
            arguments.more += rest
            return arguments
        raise UsageError(f"{word!r} is one word too many",
                         "give one FILE, in quotes where its name has spaces")
    return arguments


def asked_unit(argv: Sequence[str]) -> str:
    """The unit that ``--units`` gives an order, mm where none: options are read in it.

    What is no unit is left to the parser, which says so at the option.
    """
    words = [part for word in argv for part in word.split("=", 1)]
    given = dict(itertools.pairwise(words)).get("--units", "").strip().lower()
    return given if given in UNITS else "mm"


def _check_verb(words: Sequence[str]) -> None:
    if not words:
        raise UsageError("no verb", "say what to do: " + ", ".join(VERBS) + "; or --help")
    if words[0].startswith("-") and words[0] not in HELPS:
        raise UsageError(f"{words[0]} comes before any verb", "begin with " + " or ".join(VERBS))
    if words[0] not in (*VERBS, *HELPS):
        raise UsageError(f"{words[0]!r} is not a verb", nearest_known(words[0], VERBS))


def _check_pairs(words: Sequence[str]) -> None:
    """Refuse numbers with a comma and a space between them: the shell makes two words of them."""
    for before, word, after in zip(words, words[1:], words[2:], strict=False):
        if before.startswith("--") and word.endswith(",") and after[:1].isdigit():
            raise UsageError(f"{before}: a space after {word}", f"write it without: {word}{after}")


def _check_twice(words: Sequence[str]) -> None:
    """Refuse an option that stands twice: which of its two values was meant nobody knows."""
    options = Counter(word.split("=")[0] for word in words if OPTION.match(word))
    for name, count in options.items():
        if count > 1:
            raise UsageError(f"{name} stands twice", "give it once")


def _joined_signs(argv: Sequence[str]) -> list[str]:
    """``--offset -1/8in`` as ``--offset=-1/8in``: argparse takes such a value for an option."""
    words: list[str] = []
    for word in argv:
        if words and SIGNED.match(word) and re.fullmatch(r"--[a-z-]+", words[-1]):
            words[-1] += "=" + word
        else:
            words.append(word)
    return words
