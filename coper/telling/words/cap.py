"""Caps in words: which end, how many, how thick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.frame.alike import Alike
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.telling.words.alike import batch_titles
from coper.units import format_short


def caps(groups: Sequence[Alike]) -> Iterator[tuple[str, Piece, TubeEnd]]:
    """Each kind of cap: what it is called, and the first piece and end that it is of."""
    titles = batch_titles(groups)
    for group in groups:
        for batch in group.batches:
            for end in batch.first.ends:
                if end.cap:
                    yield (f"{titles[batch.first.label]}, {end.which}: "
                           f"{format_short(end.cap)} thick", batch.first, end)


def caps_words(groups: Sequence[Alike]) -> str:
    """All caps in one line; empty where there is none."""
    found = [words for words, _, _ in caps(groups)]
    return f"caps, cut to their drawings: {'; '.join(found)}" if found else ""
