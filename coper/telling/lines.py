"""What an answer says, as values: whoever shows it sets them in its own way."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from coper.telling.grid import Grid


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and what is so named; ``more`` are further lines under it."""

    name: str
    words: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Caution:
    """What to take care of."""

    words: str


Line: TypeAlias = str | Fact | Grid | Caution
"""A plain text is a heading or a sentence of its own; an empty one sets what follows apart."""
