"""How wide words are, so that layout is exact before anything is drawn.

The face is DejaVu Sans, which matplotlib carries and SVG viewers are asked for; words are set
without kerning.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate, takewhile
from typing import Final

from coper.drawing.advances import BOLD, CHARACTERS, PLAIN

EM: Final = 2048
"""Units of the face to an em."""
CAP_EM: Final = 1493 / EM
"""Height of a capital, em: the top of ``H``."""
ASCENT_CAPS: Final = 1.0
"""What a line of words takes above its baseline, in heights of a capital."""
DESCENT_CAPS: Final = 0.25
"""What a line of words takes below its baseline, in heights of a capital."""

MARK: Final = "□"
"""Stands for a letter that the face lacks; in a file as SVG the viewer may have it from another."""


class _Advances(dict[str, int]):
    """Advance widths by letter; one that the face lacks is as wide as what stands for it."""

    def __missing__(self, letter: str) -> int:
        return self[MARK]


_WIDTHS: Final = tuple(
    _Advances(zip(CHARACTERS, map(int, row.split()), strict=True)) for row in (PLAIN, BOLD)
)


def lacking(words: str) -> str:
    """The letters of some words that the face lacks, each once."""
    return "".join(dict.fromkeys(letter for letter in words if letter not in _WIDTHS[0]))


def drawable(words: str) -> str:
    """The words with :data:`MARK` for every letter that the face lacks."""
    return "".join(letter if letter in _WIDTHS[0] else MARK for letter in words)


def text_width(words: str, height: float, bold: bool = False) -> float:
    """Width of one line of words.

    Parameters
    ----------
    words
        What is written.
    height : float, mm
        Height of a capital.
    bold
        Whether the bold face is used.

    Returns
    -------
    float, mm
        The sum of the advance widths.
    """
    return _mm(sum(_advances(words, bold)), height)


def _advances(words: str, bold: bool) -> list[int]:
    """The advance width of each character, in units of the face."""
    widths = _WIDTHS[bold]
    return [widths[character] for character in words]


def _mm(units: int, height: float) -> float:
    """Units of the face in mm, where a capital is ``height`` mm high."""
    return units / EM * height / CAP_EM


def wrap_text(words: str, width: float, height: float, bold: bool = False) -> list[str]:
    """Break words into lines at spaces; a word wider than a line is broken between letters.

    Parameters
    ----------
    words
        What is written.
    width : float, mm
        What a line may take.
    height : float, mm
        Height of a capital.
    bold
        Whether the bold face is used.

    Returns
    -------
    list of str
        The lines; none for no words.
    """
    lines: list[str] = []
    space, = _advances(" ", bold)
    taken = 0  # units of the last line: every letter is measured once
    for word in words.split():
        advances = _advances(word, bold)
        longer = taken + space + sum(advances)
        if lines and _mm(longer, height) <= width:
            lines[-1] += f" {word}"
            taken = longer
        else:
            pieces = _broken(word, advances, width, height)
            lines += pieces
            taken = sum(advances[-len(pieces[-1]):])
    return lines


def shortened_name(words: str, width: float, height: float) -> str:
    """Bold words shortened before their last comma: ``a long na…, start`` keeps its end."""
    name, comma, end = words.rpartition(",")
    tail = comma + end if comma else ""
    if text_width(words, height, bold=True) <= width or not comma:
        return shortened(words, width, height, bold=True)
    return shortened(name, width - text_width(tail, height, bold=True), height, bold=True) + tail


def wrapped(
    words: str, width: float, height: float, most: int, bold: bool = False
) -> list[str]:
    """Words in ``most`` lines at most, the last one shortened to hold the rest; mm."""
    lines = wrap_text(words, width, height, bold)
    if len(lines) > most:
        lines[most - 1:] = [shortened(" ".join(lines[most - 1:]), width, height, bold)]
    return lines


def shortened(words: str, width: float, height: float, bold: bool = False) -> str:
    """The words if they fit the width (mm), else as many letters as fit and an ellipsis."""
    if text_width(words, height, bold) <= width:
        return words
    room = width - text_width("…", height, bold)
    return words[: _fitting(_advances(words, bold), room, height)].rstrip() + "…"


def _broken(word: str, advances: Sequence[int], width: float, height: float) -> list[str]:
    """A word in pieces that each fit the width, one letter at least."""
    pieces: list[str] = []
    start, taken = 0, 0
    for place, advance in enumerate(advances):
        taken += advance
        if place > start and _mm(taken, height) > width:
            pieces.append(word[start:place])
            start, taken = place, advance
    return [*pieces, word[start:]]


def _fitting(advances: Iterable[int], width: float, height: float) -> int:
    """How many letters of these advances fit the width, from the left."""
    fits = takewhile(lambda units: _mm(units, height) <= width, accumulate(advances))
    return sum(1 for _ in fits)
