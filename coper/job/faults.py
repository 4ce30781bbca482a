"""All faults of a job at once, each with its dotted path."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

from coper.errors import CoperError, nearest_known
from coper.units import shown

Parsed = TypeVar("Parsed")

_BARE = re.compile(r"[A-Za-z0-9_-]+")


class JobError(CoperError, ValueError):
    """A job that cannot be used: every fault found, one line each.

    Attributes
    ----------
    faults : tuple of CoperError
    """

    def __init__(self, faults: Sequence[CoperError]) -> None:
        first = faults[0]
        super().__init__(first.fault, first.cure, first.where)
        self.faults = tuple(faults)

    def __str__(self) -> str:
        return "\n".join(str(fault) for fault in self.faults)

    def at(self, where: str) -> CoperError:
        """The same faults, each in an outer place."""
        return JobError([fault.at(where) for fault in self.faults])


MOST_COMPARED = 20_000
"""Known words that all unknown ones of a job together are compared with: a quarter of a second."""


class Faults:
    """The faults found so far, in time that grows as they do.

    Attributes
    ----------
    found : list of CoperError
    cause : CoperError or None
        What all of them probably come from; it is said first.
    """

    def __init__(self, cause: CoperError | None = None) -> None:
        self.found: list[CoperError] = []
        self.cause = cause
        self._lines: set[str] = set()
        self._compared = 0

    def add(self, path: str, fault: str, cure: str) -> None:
        """One more."""
        self.note(CoperError(fault, cure, path))

    def unknown(self, path: str, word: str, known: Iterable[str], none: str) -> None:
        """A name that is none of ``known``; ``none`` is the cure where there are none at all."""
        self.add(path, f"{shown(word)!r} is not known", self.nearest(word, known, none))

    def nearest(self, word: str, known: Iterable[str], none: str = "") -> str:
        """The cure for a word that is none of ``known``; ``none`` where there are none at all.

        The nearest is looked for as long as few have been; a file that is all slips gets no more.
        """
        if self._compared >= MOST_COMPARED:
            return "give a known one, as above"
        choices = set(known)
        self._compared += len(choices)
        return nearest_known(word, choices) if choices else none

    def caught(self, path: str, make: Callable[[], Parsed]) -> Parsed | None:
        """What ``make`` returns, or ``None`` with its fault noted at ``path``."""
        try:
            return make()
        except CoperError as error:
            self.note(CoperError(error.fault, error.cure, path))
            return None

    def caught_within(self, path: str, make: Callable[[], Parsed]) -> Parsed | None:
        """The same; the fault names the key below ``path`` that it is about."""
        try:
            return make()
        except CoperError as error:
            self.note(CoperError(error.fault, error.cure, f"{path}.{error.where}"))
            return None

    def note(self, error: CoperError) -> None:
        """Keep a fault, unless it is there already: a tube's twin has the same."""
        line = str(error)
        if line not in self._lines:
            self._lines.add(line)
            self.found.append(error)

    def raise_any(self) -> None:
        """Raise all that were found, if any were."""
        if self.found:
            raise JobError(self.found if self.cause is None else [self.cause, *self.found])


def dotted(*keys: str) -> str:
    """The dotted path of nested keys; one that is not a bare key is quoted."""
    return ".".join(key if _BARE.fullmatch(key) else json.dumps(shown(key)) for key in keys)
