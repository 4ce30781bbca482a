"""The one family of errors that coper raises for input it cannot use.

Errors about a value are also Python's ``ValueError``.

A message is always one line: where the fault is, what is wrong, what was given, how to mend it.
Each of these has a length, whatever was given.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

_PART_SHOWN: Final = 280
"""The most characters of a message's place, fault or cure: about three lines of a terminal."""

_NAME_SHOWN: Final = 60
"""The most characters of one of several names."""

_LIST_SHOWN: Final = 180
"""A list of names ends with the one that exceeds so many characters."""

_COMPARED: Final = 60
"""The most characters of a word that known words are compared with."""

_LEFT_OUT: Final = "..."


class CoperError(Exception):
    """Input that cannot be used.

    Parameters
    ----------
    fault
        What is wrong, in a few words, with the value that was given.
    cure
        How to mend it, as an instruction.
    where
        The option, key or argument at fault; empty where only the caller knows it and adds it
        with :meth:`at`.
    """

    def __init__(self, fault: str, cure: str, where: str = "") -> None:
        super().__init__(fault, cure, where)
        self.fault = fault
        self.cure = cure
        self.where = where

    def __str__(self) -> str:
        place = f"{bounded(self.where)}: " if self.where else ""
        return " ".join(f"{place}{bounded(self.fault)}; {bounded(self.cure)}".split())

    def at(self, where: str) -> CoperError:
        """The same error with its place named; an outer place comes before an inner one."""
        place = f"{where}: {self.where}" if self.where else where
        return type(self)(self.fault, self.cure, place)


class WordsError(CoperError, ValueError):
    """A length, an angle or a tube that could not be read."""


class ShapeError(CoperError, ValueError):
    """Numbers that describe no tube that can exist."""


class JointError(CoperError, ValueError):
    """A joint that cannot be made: the branch never meets its main, or the angle is no angle."""


class FileError(CoperError, ValueError):
    """A file that cannot be read or written."""


def check_choice(word: str, choices: Iterable[str], where: str) -> None:
    """Refuse a word that is not one of ``choices``; ``where`` is the argument it was given for."""
    known = tuple(choices)
    if word not in known:
        raise WordsError(f"{word!r} is not known", nearest_known(str(word), known), where)


def nearest_known(word: str, known: Iterable[str]) -> str:
    """A cure that names the nearest known word, or the known ones where none is near."""
    import difflib  # only a refusal needs it, and it is slow to load

    choices = sorted(known)
    near = difflib.get_close_matches(word[:_COMPARED], choices, n=1, cutoff=0.6)
    if near:
        return f"did you mean {near[0]}?"
    return "known are " + ", ".join(named_few(choices))


def named_few(names: Sequence[str]) -> list[str]:
    """The first names, as many as a message has room for, and how many more there are."""
    few: list[str] = []
    room = _LIST_SHOWN
    for name in names:
        few.append(bounded(name, _NAME_SHOWN))
        room -= len(few[-1])
        if room < 0:
            break
    more = len(names) - len(few)
    return [*few, f"and {more} more"] if more else few


def bounded(text: str, most: int = _PART_SHOWN) -> str:
    """``text``, its middle left out where it has more than ``most`` characters."""
    if len(text) <= most:
        return text
    half = (most - len(_LEFT_OUT)) // 2
    return text[:half] + _LEFT_OUT + text[-half:]
