"""What an answer says, as values: a terminal or a page sets them in its own way."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from coper.telling.grid import Grid


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and its words; ``more`` are further lines under them."""

    name: str
    words: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Caution:
    """What to take care of."""

    words: str


Line: TypeAlias = str | Fact | Grid | Caution
"""A plain text is a heading or a sentence of its own; an empty one sets what follows apart."""


def sentence(words: str) -> str:
    """A phrase as a sentence: a capital first, a full stop last."""
    return f"{words[:1].upper()}{words[1:]}."
