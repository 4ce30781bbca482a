"""A table of words, for the terminal and the paper alike."""

from __future__ import annotations

from dataclasses import dataclass

Cells = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """A table of words.

    Attributes
    ----------
    head : str
    columns : tuple of str
        What stands over each column; those that end in ``mm`` or ``in`` hold numbers.
    rows : tuple of tuple of str
    note : str
        A sentence to read first.
    """

    head: str
    columns: Cells
    rows: tuple[Cells, ...]
    note: str = ""


def holds_numbers(column: str) -> bool:
    """Whether a column holds lengths, which stand to the right."""
    return column.rsplit(maxsplit=1)[-1] in ("mm", "in")
