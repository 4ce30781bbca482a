"""The one family of errors that coper raises for input it cannot use.

Errors about a value are also Python's ``ValueError``.

A message is always one line: where the fault is, what is wrong, what was given, how to mend it.
"""

from __future__ import annotations

from collections.abc import Iterable


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
        place = f"{self.where}: " if self.where else ""
        return " ".join(f"{place}{self.fault}; {self.cure}".split())

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
    """A cure that names the nearest known word, or all of them where none is near."""
    import difflib  # only a refusal needs it, and it is slow to load

    choices = sorted(known)
    near = difflib.get_close_matches(word, choices, n=1, cutoff=0.6)
    if near:
        return f"did you mean {near[0]}?"
    return "known are " + ", ".join(choices)
