"""The kinds of tube of the grammar, each with the numbers that a person measures of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from coper.errors import WordsError
from coper.shapes.words import PIPE, WALL, spoken_parts

SCHEDULE: Final = " sch"
"""What stands between the size of a pipe and its schedule."""


@dataclass(frozen=True, slots=True)
class Part:
    """One number of a kind: its keyword, and what it is; ``needed`` unless it may be left out."""

    key: str
    name: str
    needed: bool = True


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of tube.

    Attributes
    ----------
    name : str
    parts : tuple of Part
        In the order of the grammar.
    """

    name: str
    parts: tuple[Part, ...]


_WALL: Final = Part(WALL, "wall, as 0.9mm, 0.035in or 18bwg", needed=False)
_FAR: Final = (Part("to", "diameter at the far end"), Part("over", "length between"))
_SIDES: Final = (Part("oval", "wide"), Part("by", "narrow"))

KINDS: Final = (
    Kind("round", (Part("", "outside diameter"), _WALL)),
    Kind("round, by its girth", (Part("around", "girth"), _WALL)),
    Kind("tapered", (Part("", "diameter at the start"), *_FAR, _WALL)),
    Kind("oval", (*_SIDES, _WALL)),
    Kind("tapered oval", (*_SIDES, *_FAR, _WALL)),
    Kind("box", (Part("box", "one side"), Part("by", "other side"),
                 Part("corner", "outside corner radius", needed=False), _WALL)),
    Kind("pipe", (Part(PIPE, "nominal size, as 1-1/4 or DN32"), Part("sch", "schedule"))),
    Kind("plate", (Part("plate", "thickness"), Part("by", "width", needed=False))),
    Kind("bent", (Part("", "outside diameter"), Part("bent to", "centreline radius"), _WALL)),
)
"""Every kind, the most usual first."""


def kind_named(name: str) -> Kind:
    """The kind of that name; the first where there is none."""
    return next((kind for kind in KINDS if kind.name == name), KINDS[0])


def measured_kind(text: str) -> tuple[Kind, dict[str, str]] | None:
    """The kind of a tube in words, and its numbers as they are written; ``None`` of no kind."""
    numbers = _numbers(text)
    given = set(numbers)
    for kind in KINDS:
        every = {part.key for part in kind.parts}
        if {part.key for part in kind.parts if part.needed} <= given <= every:
            return kind, numbers
    return None


def _numbers(text: str) -> dict[str, str]:
    line = " ".join(text.lower().split())
    if line.startswith(PIPE):
        size, _, schedule = line.removeprefix(PIPE).partition(SCHEDULE)
        return {PIPE: size.strip(), "sch": schedule.strip()}
    try:
        return dict(spoken_parts(text))
    except WordsError:
        return {}


def kind_words(kind: Kind, numbers: Mapping[str, str]) -> str:
    """The words of a tube by the numbers of its kind.

    Raises
    ------
    WordsError
        Where one is missing that it needs.
    """
    given = {key: words.strip() for key, words in numbers.items() if words.strip()}
    missing = [part.name for part in kind.parts if part.needed and part.key not in given]
    if missing:
        raise WordsError(f"{kind.name}: a number is missing", f"give {' and '.join(missing)} too")
    return " ".join(f"{part.key} {given[part.key]}".strip()
                    for part in kind.parts if part.key in given)
