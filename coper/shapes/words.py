"""The words of a tube: keywords with their numbers, before any shape is known.

``22.2 to 14 over 390 x 0.8`` is four parts: the bare 22.2, then ``to``, ``over`` and ``x``. Which
keywords make which shape is stated by each shape in its own file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Protocol

from coper.errors import WordsError, nearest_known
from coper.units import (
    GAUGES,
    LENGTH_WORDS,
    UNITS,
    format_number,
    format_thousandths,
    in_first_unit,
    in_inches,
    parse_length,
    parse_wall,
    plain,
    shown,
    spelt_fractions,
    unreadable,
)

WALL: Final = "x"
"""The keyword for the wall."""

KEYWORDS: Final = (
    "around", "bent to", "box", "by", "corner", "oval", "over", "plate", "to", WALL,
)
"""Every keyword of the grammar."""

PIPE: Final = "pipe"
"""Begins a pipe, which is written as a tube before its words are split."""

_CURES: Final = {
    "e": "write numbers without powers of ten",
    "dn": "write pipe DN32 sch 40",
    "round": "a round tube has no word before its diameter",
    "sch": "write pipe 1-1/4 sch 40",
    "schedule": "write pipe 1-1/4 sch 40",
    "square": "write box 40 by 40",
    "tube": "leave it out",
    "wall": "a wall is written x 0.9",
}
"""Cures for words that people are likely to write, where the nearest known one misleads."""

_LETTERS = re.compile(r"[^\W\d_]*bent ?to|[^\W\d_]+")
_UNIT_AND_KEYWORD = re.compile(
    rf"(?:{'|'.join(LENGTH_WORDS)})?"
    rf"(?P<keyword>{'|'.join(key.replace(' ', ' ?') for key in KEYWORDS)})?"
)
_BETWEEN_NUMBERS = re.compile(r"(?: ?[*;] ?|,? )(?=[0-9.])(?![0-9]+ ?/)")


_SIZE = re.compile(rf"(?P<wall>\b{WALL} )?(?P<size>[0-9.]+)")

EXAMPLE_WALL_MM: Final = "0.9"
EXAMPLE_WALL_IN: Final = "0.035"
"""A wall in an example."""


class Spoken(Protocol):
    """What has words in the grammar, in mm."""

    def words(self) -> str:
        """The words."""
        ...


@dataclass(frozen=True, slots=True)
class TubeWords:
    """A tube in words, read into its parts.

    Attributes
    ----------
    text : str
        The words as they came, on one line.
    parts : tuple of (str, float)
        Each keyword with its length in mm, in the order they came. A number before the first
        keyword has the keyword ``""``.
    """

    text: str
    parts: tuple[tuple[str, float], ...]

    @property
    def keys(self) -> tuple[str, ...]:
        """The keywords in the order they came."""
        return tuple(key for key, _ in self.parts)

    def get(self, key: str) -> float | None:
        """The length in mm of ``key``, ``None`` where it was not written."""
        return dict(self.parts).get(key)


def split_tube(text: str, unit: str = "mm") -> TubeWords:
    """The keywords of ``text`` with their lengths in mm; bare numbers are in ``unit``.

    Case and spaces are free, and ``×`` is ``x``.

    Raises
    ------
    WordsError
        Where a word is unknown, is given twice or has no number, or a length cannot be read.
    """
    pieces = spoken_parts(text)
    if not pieces:
        raise WordsError("no tube", "write one such as 28.6 x 0.9")
    _check_once(text, [key for key, _ in pieces])
    parts = tuple((key, _read(text, key, piece, unit)) for key, piece in pieces)
    return TubeWords(shown(text), parts)


def tube_words(shape: Spoken) -> str:
    """A tube as it is shown, in the order's unit: ``28.6 x 0.9``, or ``1.126 x 0.035 in``.

    The grammar's words are in mm; a wall in inches has its thousandths, as it is bought.
    """
    words = order_words(shape.words())
    return f"{words} in" if in_inches() else words


def walled_example(shape: Spoken) -> str:
    """The same tube with a wall, as a cure for one that has none."""
    wall = EXAMPLE_WALL_IN if in_inches() else EXAMPLE_WALL_MM
    return f"{order_words(shape.words())} {WALL} {wall}"


def typed_words(shape: Spoken) -> str:
    """A tube's words to type in an order with its units: all its decimals, no unit."""
    def typed(found: re.Match[str]) -> str:
        return f"{found['wall'] or ''}{plain(in_first_unit(float(found['size'])))}"

    return _SIZE.sub(typed, shape.words())


def order_words(words: str) -> str:
    """Words of the grammar in mm as they are typed in the order's unit."""
    return _SIZE.sub(_in_inches, words) if in_inches() else words


def _in_inches(found: re.Match[str]) -> str:
    size = float(found["size"])
    if found["wall"]:
        return f"{found['wall']}{format_thousandths(size).removesuffix(' in')}"
    return format_number(size)


def no_such_form(words: TubeWords, forms: Iterable[str]) -> WordsError:
    """The error for words that are well formed but match none of the ``forms``."""
    return WordsError(f"{words.text}: not a known form of tube", "known are " + "; ".join(forms))


def spoken_parts(text: str) -> list[tuple[str, str]]:
    """Each keyword with the words of its number, still unread."""
    line = " ".join(spelt_fractions(text).lower().replace("×", WALL).split())
    pieces = []
    key, start = "", 0
    for letters in _LETTERS.finditer(line):
        known = _UNIT_AND_KEYWORD.fullmatch(line, letters.start(), letters.end())
        if known is None:
            raise _unknown_word(text, letters.group())
        if known["keyword"]:
            pieces.append((key, line[start : known.start("keyword")].strip()))
            key, start = _spelt(known["keyword"]), known.end("keyword")
    pieces.append((key, line[start:].strip()))
    return pieces if pieces[0][1] else pieces[1:]


def _unknown_word(text: str, word: str) -> WordsError:
    cure = _CURES.get(word) or nearest_known(word, (*KEYWORDS, PIPE, *UNITS, *GAUGES))
    return unreadable(text, f"unknown word {shown(word)}", cure)


def _spelt(keyword: str) -> str:
    """``keyword`` as the grammar spells it."""
    return "bent to" if keyword == "bentto" else keyword


def _check_once(text: str, keys: list[str]) -> None:
    """Refuse a keyword given twice."""
    for key in keys:
        if keys.count(key) > 1:
            cure = ("keep it for the wall, and write by between two sides"
                    if key == WALL else "keep one of them")
            raise unreadable(text, f"{key} is given twice", cure)


def _read(text: str, key: str, piece: str, unit: str) -> float:
    """The length in mm of one keyword, above 0."""
    if not piece:
        example = f"{key} 0.9" if key == WALL else f"{key} 30"
        raise unreadable(text, f"{key} has no number after it", f"write it, such as {example}")
    parse = parse_wall if key == WALL else parse_length
    try:
        length = parse(piece, unit)
    except WordsError as error:
        raise _unread(text, piece, unit, error) from error
    if length <= 0:
        raise unreadable(text, f"{f'{key} {piece}'.strip()} is not a size", "write one above 0")
    return length


def _unread(text: str, piece: str, unit: str, error: WordsError) -> WordsError:
    """The error of a piece, reported with the whole text."""
    if gap := _BETWEEN_NUMBERS.search(piece):
        first, second = piece[: gap.start()], piece[gap.end() :]
        if _is_size(first, unit) and _is_size(second, unit):
            return _missing_keyword(text, first, second)
    if error.fault.startswith(f"{shown(text)}:"):
        return error
    return unreadable(text, error.fault, error.cure)


def _is_size(piece: str, unit: str) -> bool:
    """Whether ``piece`` alone is a length above 0 or a gauge."""
    try:
        parse_wall(piece, unit)
    except WordsError:
        return False
    return True


def _missing_keyword(text: str, first: str, second: str) -> WordsError:
    """Two numbers side by side: the second one lacks its word."""
    fault = f"no keyword says what {second} is"
    if WALL in _LETTERS.findall(text.lower().replace("×", WALL)):
        return unreadable(text, fault, "write one before it, such as by, to or over")
    return unreadable(text, fault, f"for a wall write {first} x {second}")
