"""Where cautions stand: beside what they are about, never alone on a last page that gets lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.drawing.marks import Group, Mark

ENDING = "cautions"
"""How the name of a block of cautions ends."""


def alone(pages: Sequence[Sequence[Mark]]) -> bool:
    """Whether the last of several pages has groups of cautions and nothing else on it."""
    return len(pages) > 1 and bool(pages[-1]) and all(
        isinstance(mark, Group) and mark.name.endswith(ENDING) for mark in pages[-1])


def earlier(names: Sequence[str], continued: Sequence[bool]) -> Iterator[list[int]]:
    """Orders of blocks, by their names, in which cautions come before more and more others.

    They part nothing that goes on (``continued``) from the block before it.
    """
    cautions = [at for at, name in enumerate(names) if name.endswith(ENDING)]
    others = [at for at, name in enumerate(names) if not name.endswith(ENDING)]
    for place in range(len(others) - 1, -1, -1):
        if not continued[others[place]]:
            yield [*others[:place], *cautions, *others[place:]]
