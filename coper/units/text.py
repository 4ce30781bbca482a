"""Texts as a reader of lengths and angles takes them, and as a message repeats them."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from coper.errors import WordsError

_SHOWN: Final = 60
"""The most characters of a text that a message repeats."""

NUMBER = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)"
"""A decimal number without its sign, as a regular expression."""

WORD = r"[^\W\d_]+"
"""A word of letters."""

_SAME_SIGN = str.maketrans("″”′’−–º˚⁄", "\"\"''--°°/")
"""Signs that keyboards and word processors type instead of the plain ones."""

_FRACTION = re.compile("[\u00bc-\u00be\u2150-\u215e\u2189]")
"""One character that is a whole fraction, such as ¼ (Unicode's vulgar fractions)."""

COMMON_FAULTS: Final = (
    (r"[+-]? ?(nan|inf|infinity)", "not a number", "write it in digits"),
    (r".*[0-9.]e[+-]?[0-9].*", "powers of ten are not read", "write the number out"),
    (r".*[+-] ?[+-].*", "two signs in a row", "keep one"),
)
"""What the form alone of a text shows to be wrong: pattern, fault, cure."""


def printable(text: str) -> str:
    """``text`` with every character that is no letter, sign or space written as its code."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else _code(c) for c in text)


def _code(character: str) -> str:
    """The code of a character; of a byte that is no letter of a file name, the byte's."""
    number = ord(character)
    byte = number - 0xDC00 if 0xDC80 <= number <= 0xDCFF else None  # PEP 383
    return ascii(character)[1:-1] if byte is None else f"\\x{byte:02x}"


def shown(text: str) -> str:
    """``text`` as a message repeats it: on one line, printable, at most ``_SHOWN`` characters."""
    line = printable(" ".join(text.split()))
    return line if len(line) <= _SHOWN else line[: _SHOWN - 3] + "..."


def unreadable(text: str, fault: str, cure: str) -> WordsError:
    """The error of a text that cannot be read; it starts with that text."""
    return WordsError(f"{shown(text)}: {fault}", cure)


def plain_text(text: str) -> str:
    """``text`` in lower case with single spaces, plain signs and fractions in digits."""
    return " ".join(spelt_fractions(text).translate(_SAME_SIGN).lower().split())


def spelt_fractions(text: str) -> str:
    """``text`` with fractions of one character in digits: ``1¼`` as ``1 1/4``."""
    return _FRACTION.sub(_in_digits, text)


def _in_digits(found: re.Match[str]) -> str:
    """A fraction in digits, apart from a whole number before it."""
    digits = unicodedata.normalize("NFKD", found.group())
    return f" {digits}" if found.string[: found.start()][-1:].isdecimal() else digits


def common_fault(
    text: str,
    plain: str,
    what: str,
    example: str,
    faults: tuple[tuple[str, str, str], ...],
) -> WordsError | None:
    """The first fault that the text's form alone shows; ``None`` where there is none."""
    if not plain:
        return WordsError(f"no {what}", f"write one such as {example}")
    if "," in plain:
        pointed = re.fullmatch(r"[^,.]*,[0-9][^,.]*", plain)
        cure = f"write {shown(text).replace(',', '.')}" if pointed else "use one point only"
        return unreadable(text, "a comma is not a decimal point here", cure)
    for pattern, fault, cure in faults:
        if re.fullmatch(pattern, plain):
            return unreadable(text, fault, cure)
    return None
