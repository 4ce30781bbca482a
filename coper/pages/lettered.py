"""Lettering that names the page it comes to stand on: which one is known when pages are laid."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from coper.drawing.marks import Group, Mark, Text

OWN_PAGE: Final = "page WW"
"""Stands for the page's letter in a text named ``PAGED``: no letter of 702 pages is wider."""

PAGED: Final = "paged"


def lettered(marks: Iterable[Mark], letter: str) -> tuple[Mark, ...]:
    """The marks on the page of that letter."""
    return tuple(_lettered(mark, letter) for mark in marks)


def _lettered(mark: Mark, letter: str) -> Mark:
    if isinstance(mark, Group):
        return replace(mark, marks=lettered(mark.marks, letter))
    if isinstance(mark, Text) and mark.name == PAGED:
        return replace(mark, words=mark.words.replace(OWN_PAGE, f"page {letter}"))
    return mark
