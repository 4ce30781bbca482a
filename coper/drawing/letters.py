"""How wide words are, so that layout is exact before anything is drawn.

The face is DejaVu Sans, which matplotlib carries and SVG viewers are asked for. Its advance widths
were read once from its ``hmtx`` table; words are set without kerning.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate, takewhile
from typing import Final

from coper.errors import WordsError, bounded

EM: Final = 2048
"""Units of the face to an em."""
CAP_EM: Final = 1493 / EM
"""Height of a capital, em: the top of ``H``."""
ASCENT_CAPS: Final = 1.0
"""What a line of words takes above its baseline, in heights of a capital."""
DESCENT_CAPS: Final = 0.25
"""What a line of words takes below its baseline, in heights of a capital."""

_CHARACTERS: Final = (
    "".join(map(chr, (*range(0x20, 0x7F), *range(0xA1, 0xAD), *range(0xAE, 0x100))))
    + "–—…′″≤≥←↑→↓"
)
"""ASCII, the letters of Latin-1, and the signs of the trade."""

_PLAIN: Final = (
    "651 821 942 1716 1303 1946 1597 563 799 799 1024 1716 651 739 651 690 1303 1303 1303 1303 "
    "1303 1303 1303 1303 1303 1303 690 690 1716 1716 1716 1087 2048 1401 1405 1430 1577 1294 "
    "1178 1587 1540 604 604 1343 1141 1767 1532 1612 1235 1612 1423 1300 1251 1499 1401 2025 "
    "1403 1251 1403 799 690 799 1716 1024 1024 1255 1300 1126 1300 1260 721 1300 1298 569 569 "
    "1186 569 1995 1298 1253 1300 1300 842 1067 803 1298 1212 1675 1212 1212 1075 1303 690 1303 "
    "1716 821 1303 1303 1303 1303 690 1024 1024 2048 965 1253 1716 2048 1024 1024 1716 821 821 "
    "1024 1303 1303 651 1024 821 965 1253 1985 1985 1985 1087 1401 1401 1401 1401 1401 1401 "
    "1995 1430 1294 1294 1294 1294 604 604 604 604 1587 1532 1612 1612 1612 1612 1612 1716 1612 "
    "1499 1499 1499 1499 1251 1239 1290 1255 1255 1255 1255 1255 1255 2011 1126 1260 1260 1260 "
    "1260 569 569 569 569 1253 1298 1253 1253 1253 1253 1253 1716 1253 1298 1298 1298 1298 1212 "
    "1300 1212 1024 2048 2048 465 765 1716 1716 1716 1716 1716 1716 "
)
_BOLD: Final = (
    "713 934 1067 1716 1425 2052 1786 627 936 936 1071 1716 778 850 778 748 1425 1425 1425 1425 "
    "1425 1425 1425 1425 1425 1425 819 819 1716 1716 1716 1188 2048 1585 1561 1503 1700 1399 "
    "1399 1681 1714 762 762 1587 1305 2038 1714 1741 1501 1741 1577 1475 1397 1663 1585 2259 "
    "1579 1483 1485 936 748 936 1716 1024 1024 1382 1466 1214 1466 1389 891 1466 1458 702 702 "
    "1362 702 2134 1458 1407 1466 1466 1010 1219 979 1458 1335 1892 1321 1335 1192 1458 748 "
    "1458 1716 934 1425 1425 1303 1425 748 1024 1024 2048 1155 1323 1716 2048 1024 1024 1716 "
    "897 897 1024 1507 1303 778 1024 897 1155 1323 2120 2120 2120 1188 1585 1585 1585 1585 1585 "
    "1585 2222 1503 1399 1399 1399 1399 762 762 762 762 1716 1714 1741 1741 1741 1741 1741 1716 "
    "1741 1663 1663 1663 1663 1483 1511 1473 1382 1382 1382 1382 1382 1382 2146 1214 1389 1389 "
    "1389 1389 702 702 702 702 1407 1458 1407 1407 1407 1407 1407 1716 1407 1458 1458 1458 1458 "
    "1335 1466 1335 1024 2048 2048 540 915 1716 1716 1716 1716 1716 1716 "
)
_WIDTHS: Final = tuple(
    dict(zip(_CHARACTERS, map(int, row.split()), strict=True)) for row in (_PLAIN, _BOLD)
)


_WORDS_SHOWN: Final = 120
"""The most characters of words that a message repeats."""


class LetterError(WordsError, ValueError):
    """Words with a character that the face on paper has no measure for."""


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

    Raises
    ------
    LetterError
        A character is not in the table: nothing unmeasured reaches the paper.
    """
    return _mm(sum(_advances(words, bold)), height)


def _advances(words: str, bold: bool) -> list[int]:
    """The advance width of each character, in units of the face."""
    widths = _WIDTHS[bold]
    try:
        return [widths[character] for character in words]
    except KeyError as missing:
        character = missing.args[0]
        raise LetterError(
            f"{bounded(words, _WORDS_SHOWN)!r} has the character {character!r} "
            f"(U+{ord(character):04X}), which the lettering on paper lacks",
            "write it with Latin letters, digits and plain signs",
        ) from None


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
