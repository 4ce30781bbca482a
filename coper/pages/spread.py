"""Lettering beside a line that bounds a drawing, spread so that it stands clear."""

from __future__ import annotations

from collections.abc import Sequence

from coper.arrays import Floats
from coper.drawing.marks import NOTE_HEIGHT, Anchor, Text


def spread(places: Sequence[float], gap: float) -> list[float]:
    """Places as near as can be to ``places``, in their order, each at least ``gap`` from the next.

    The sum of the squares of the moves is the least: with ``gap`` taken off between neighbours it
    is an isotonic regression, solved by pooling neighbours that are out of order (Ayer and others,
    Annals of Mathematical Statistics 26, 1955, p. 641; from memory). ``places`` has to be sorted.
    """
    pools: list[tuple[float, int]] = []
    for index, place in enumerate(places):
        total, count = place - gap * index, 1
        while pools and pools[-1][0] * count >= total * pools[-1][1]:
            more, with_it = pools.pop()
            total, count = total + more, count + with_it
        pools.append((total, count))
    level = [total / count for total, count in pools for _ in range(count)]
    return [value + gap * index for index, value in enumerate(level)]


def side_text(place: Floats, words: str, side: str) -> Text:
    """Words beside a line that bounds a drawing, reading away from it.

    ``place`` (2,), mm, is their end near the line, on the middle of their height.
    """
    low = NOTE_HEIGHT / 2
    x, y = place.tolist()
    if side in ("below", "above"):
        anchor: Anchor = "right" if side == "below" else "left"
        return Text((x + low, y), words, NOTE_HEIGHT, anchor, 90.0)
    return Text((x, y - low), words, NOTE_HEIGHT, "right" if side == "left" else "left")
