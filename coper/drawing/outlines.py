"""How a PDF file lists its pages and sheets, as the entries of its objects."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

Object = TypeVar("Object")
"""A reference to an object of the file."""


def page_labels(letters: Sequence[str]) -> dict[str, object]:
    """The letters as labels (ISO 32000-1, 12.4.2): its own count goes on from Z with AA, BB."""
    return {"Nums": [part for at, letter in enumerate(letters) for part in (at, {"P": letter})]}


def outlines(
    root: Object, items: Sequence[Object], opening: Sequence[tuple[str, object]]
) -> Iterator[tuple[Object, dict[str, object]]]:
    """The objects of the list of sheets (ISO 32000-1, 12.3.3), each with its entries.

    ``opening`` has a title and a destination for each of ``items``, one at least.
    """
    for at, (item, (title, place)) in enumerate(zip(items, opening, strict=True)):
        beside = {"Prev": items[at - 1]} if at else {}
        if at + 1 < len(items):
            beside["Next"] = items[at + 1]
        yield item, {"Title": title, "Parent": root, "Dest": place, **beside}
    yield root, {"First": items[0], "Last": items[-1], "Count": len(items)}
