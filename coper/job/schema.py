"""Values of a job file, each checked for its kind; a fault is noted and ``None`` comes back."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import TypeVar

from coper.arrays import Point
from coper.errors import CoperError
from coper.job.faults import Faults, dotted
from coper.units import parse_angle, parse_length, shown

Parsed = TypeVar("Parsed")
TomlTable = dict[str, object]

MOST_TEXT = 200
"""Characters of a title or any other text: two lines across a page."""

MOST_NAME = 80
"""Characters of a name: a line across a page."""

MOST_ITEMS = 1000
"""Saws, blocks, lengths of stock or mains in one list: no shop has more, and each is tried."""


class Checker:
    """Reads values; bare lengths are in ``unit``.

    Attributes
    ----------
    faults : Faults
    unit : str
    """

    def __init__(self, faults: Faults, unit: str = "mm") -> None:
        self.faults = faults
        self.unit = unit

    def table(
        self, path: str, value: object, known: Iterable[str] | None = None,
        example: str = "keys and values in it",
    ) -> TomlTable:
        """A table, empty where it is none; unknown keys are noted unless any key will do."""
        if not isinstance(value, dict):
            self.faults.add(path, f"{as_written(value)} is not a table", f"write {example}")
            return {}
        choices = () if known is None else tuple(known)
        for key in () if known is None else value:
            if key not in choices:
                self.faults.add(f"{path}.{dotted(key)}" if path else dotted(key),
                                "no such key", self.faults.nearest(key, choices))
        return value

    def needed(self, path: str, table: TomlTable, key: str, example: str) -> object | None:
        """The value at ``key``, noted where it is missing."""
        if key not in table:
            self.faults.add(f"{path}.{key}", "missing", f"add it, such as {key} = {example}")
        return table.get(key)

    def text(self, path: str, value: object, example: str) -> str | None:
        """A text in quotes with something in it."""
        if not isinstance(value, str) or not value.strip():
            self.faults.add(path, f"{as_written(value)} is not text",
                            f"write it in quotes, such as {example}")
        elif len(value) > MOST_TEXT:
            self.faults.add(path, f"{as_written(value)} has {len(value)} characters",
                            f"write {MOST_TEXT} at most")
        else:
            return value
        return None

    def name(self, path: str, value: str, most: int = MOST_NAME) -> None:
        """Refuse a name that does not fit a line of paper or screen: over ``most`` characters."""
        if not value.strip() or not value.isprintable():
            self.faults.add(path, f"{as_written(value)} is not a name",
                            "write one on one line, with a letter or a digit in it")
        elif len(value) > most:
            self.faults.add(path, f"a name of {len(value)} characters",
                            f"write one of {most} at most")

    def choice(self, path: str, value: object, choices: tuple[str, ...]) -> str | None:
        """One of ``choices``."""
        word = self.text(path, value, f'"{choices[0]}"')
        if word is None or word in choices:
            return word
        self.faults.unknown(path, word, choices, "")
        return None

    def flag(self, path: str, value: object) -> bool:
        """A true or a false."""
        if not isinstance(value, bool):
            self.faults.add(path, f"{as_written(value)} is neither true nor false",
                            "write true or false, without quotes")
        return value is True

    def length(self, path: str, value: object) -> float | None:
        """A length in mm: a number in the job's unit, or a text with its own unit."""
        return self._read(path, value, lambda text: parse_length(text, self.unit),
                          'a number, or a text such as "1-1/8in"')

    def mm(self, path: str, value: object) -> float | None:
        """A length in mm whatever the job's unit, or a text with its own unit."""
        return self._read(path, value, parse_length, "a number of mm")

    def size(self, path: str, value: object) -> float | None:
        """A length above 0, mm."""
        length = self.length(path, value)
        if length is None or length > 0:
            return length
        self.faults.add(path, f"{as_written(value)} is not a size", "give a length above 0")
        return None

    def angle(self, path: str, value: object) -> float | None:
        """An angle in degrees: a number, or a text."""
        return self._read(path, value, parse_angle, "a number of degrees")

    def _read(
        self, path: str, value: object, parse: Callable[[str], float], cure: str
    ) -> float | None:
        try:
            return parse(_text_of(value, cure))
        except CoperError as error:
            self.faults.note(CoperError(error.fault, error.cure, path))
            return None

    def list_of(
        self, path: str, value: object, read: Callable[[str, object], Parsed | None], example: str
    ) -> tuple[Parsed, ...]:
        """A list, each item read with its own path."""
        if not isinstance(value, list):
            self.faults.add(path, f"{as_written(value)} is not a list", f"write {example}")
            return ()
        if len(value) > MOST_ITEMS:
            self.faults.add(path, f"a list of {len(value)}", f"list {MOST_ITEMS} at most")
            return ()
        items = [read(f"{path}[{index}]", item) for index, item in enumerate(value)]
        return tuple(item for item in items if item is not None)

    def vector(self, path: str, value: object) -> Point | None:
        """Three lengths: x, y and z."""
        if not isinstance(value, list) or len(value) != 3:
            self.faults.add(path, f"{as_written(value)} is not a point", "write [x, y, z]")
            return None
        parts = [self.length(f"{path}[{index}]", part) for index, part in enumerate(value)]
        match parts:
            case [float(x), float(y), float(z)]:
                return x, y, z
        return None


def _text_of(value: object, cure: str) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise CoperError(f"{as_written(value)} is not a number", f"write {cure}")
    if (isinstance(value, int) and abs(value) > MOST_WHOLE) or not math.isfinite(value):
        raise CoperError(f"{as_written(value)} is beyond any tube", "write a finite number")
    return number_text(value)


def number_text(value: float) -> str:
    """A number with twelve decimals at most, which is as it is read."""
    text = f"{value:.12f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


MOST_WHOLE = 10**12
"""A whole number beyond this is no length in any unit, and may be too long for a float."""


def as_written(value: object) -> str:
    """A value as a message quotes it."""
    match value:
        case bool():
            return "true" if value else "false"
        case int() if abs(value) > MOST_WHOLE:
            return "a number of that many digits"
        case dict():
            return "a table"
        case None:
            return "nothing"
        case str():
            return repr(shown(value))
    return shown(str(value))
