"""Lengths as people write them.

They are returned in mm, whatever unit they were written in. Every fault is
a :class:`~coper.errors.WordsError` that starts with the text at fault.
"""

from __future__ import annotations

import re
from typing import Final

from coper.errors import WordsError, nearest_known
from coper.units.names import LENGTH_WORDS, UNIT_MM, UNITS
from coper.units.text import (
    COMMON_FAULTS,
    NUMBER,
    WORD,
    common_fault,
    plain_text,
    shown,
    unreadable,
)

_LONGEST_MM: Final = 100_000.0
"""No tube on a bench is 100 m long: such a length has the wrong unit."""

KEPT_PLACES: Final = 12
"""Decimals of a mm that are kept: the rest is rounding of a binary product."""

_SIGNS: Final = {'"': "in", "'": "ft"}
"""Signs of a unit."""

_FOOT_IN: Final = 12
"""Inches of a foot."""

_LENGTH = re.compile(
    rf"""(?P<sign>[+-]?)\ ?
    (?: (?:(?P<whole>[0-9]+)[-\ ])? (?P<upper>[0-9]+)\ ?/\ ?(?P<lower>[0-9]+)
      | (?P<number>{NUMBER}) )\ ?
    (?P<unit>{WORD}|["'])?""",
    re.VERBOSE,
)
_FEET = re.compile(r"(?P<sign>[+-]?) ?(?P<feet>[0-9]+) ?(?:ft|') ?-? ?(?P<inches>[0-9.].*)")
_LENGTH_FAULTS: Final = (
    *COMMON_FAULTS,
    (r"[^0-9]*", "no number in this length", "write one such as 28.6 or 1-1/8in"),
)


def parse_length(text: str, unit: str = "mm") -> float:
    """A length in mm, signed; a bare number is in ``unit``.

    Decimals and fractions (``28.6``, ``7/8in``, ``1 1/8"``, ``1-1/8in``, ``1⅛in``) in any of
    :data:`UNITS`, and feet with inches (``20ft 6in``, ``20' 6-1/2"``).

    Raises
    ------
    WordsError
        Where the text is not a length, or is longer than 100 m.
    """
    plain = plain_text(text).replace("''", '"')
    sign, length = _feet_and_inches(text, plain) or _one_number(text, plain, unit)
    if not length <= _LONGEST_MM:
        raise unreadable(text, "longer than 100 m", "check the number and its unit")
    return round(0.0 - length if sign == "-" else length, KEPT_PLACES)


def _feet_and_inches(text: str, plain: str) -> tuple[str, float] | None:
    """The sign and the size in mm of feet with inches; ``None`` where it is no such length."""
    found = _FEET.fullmatch(plain)
    if found is None:
        return None
    inches = _LENGTH.fullmatch(found["inches"])
    unit = "" if inches is None else _SIGNS.get(inches["unit"], inches["unit"])
    if inches is None or unit not in ("in", None):
        return None
    if unit is None:
        raise unreadable(text, "no unit after the inches",
                         f"write {found['feet']}ft {found['inches']}in")
    count = _size(text, inches)
    if count >= _FOOT_IN:
        raise unreadable(text, "the inches after feet stay below 12", "carry the rest over")
    return found["sign"], (float(found["feet"]) * _FOOT_IN + count) * UNIT_MM["in"]


def _one_number(text: str, plain: str, unit: str) -> tuple[str, float]:
    """The sign and the size in mm of a number, with its unit or in ``unit``."""
    found = _LENGTH.fullmatch(plain)
    if found is None:
        raise _length_fault(text, plain)
    return found["sign"], _size(text, found) * _unit_mm(text, found["unit"] or unit)


def _size(text: str, found: re.Match[str]) -> float:
    """The number of a length, without its sign and unit."""
    if found["number"]:
        return float(found["number"])
    upper, lower = float(found["upper"]), float(found["lower"])
    if lower == 0:
        raise unreadable(text, "the lower number of the fraction is 0", "write one such as 7/8")
    if found["whole"] is None:
        return upper / lower
    if upper >= lower:
        raise unreadable(
            text, "the fraction after a whole number must be below 1", "write one such as 1-1/8"
        )
    return float(found["whole"]) + upper / lower


def _unit_mm(text: str, unit: str) -> float:
    """One ``unit`` in mm."""
    word = _SIGNS.get(unit, unit)
    if word in UNIT_MM:
        return UNIT_MM[word]
    raise _unknown_unit(text, word)


def _unknown_unit(text: str, word: str) -> WordsError:
    if word in LENGTH_WORDS:
        return unreadable(text, "a gauge is for walls only", "write this length in mm or in")
    return unreadable(text, f"unknown unit {shown(word)}", nearest_known(word, UNITS))


def _length_fault(text: str, plain: str) -> WordsError:
    """Why ``text`` is not a length."""
    if fault := common_fault(text, plain, "length", "28.6 or 1-1/8in", _LENGTH_FAULTS):
        return fault
    units = re.findall(rf"""{WORD}|["']""", plain)
    for unit in units:
        if _SIGNS.get(unit, unit) not in UNITS:
            return _unknown_unit(text, unit)
    if len(units) > 1:
        return unreadable(text, "two units in one length",
                          "write it in one, such as 38in, or as 3ft 2in")
    if re.search(r"[0-9.] +[0-9.]", plain):
        return unreadable(text, "two numbers in one length", "keep one")
    return unreadable(text, "not a length", "write one such as 28.6, 28.6mm or 1-1/8in")
