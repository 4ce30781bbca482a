"""What the terminal says, its lines set together as a page shows them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line

Kind = Literal["words", "facts", "grid", "caution"]


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of a kind that stand together."""

    kind: Kind
    items: tuple[Line, ...]


def blocks(lines: Iterable[Line]) -> tuple[Block, ...]:
    """Lines set together: facts that follow each other are one list."""
    found: list[Block] = []
    for line in lines:
        kind: Kind = ("facts" if isinstance(line, Fact) else "grid" if isinstance(line, Grid)
                      else "caution" if isinstance(line, Caution) else "words")
        if line == "":
            continue
        if kind == "facts" and found and found[-1].kind == kind:
            found[-1] = Block(kind, (*found[-1].items, line))
        else:
            found.append(Block(kind, (line,)))
    return tuple(found)
