"""Angles as people write them."""

from __future__ import annotations

import re
from typing import Final

from coper.errors import WordsError, nearest_known
from coper.units.text import (
    COMMON_FAULTS,
    NUMBER,
    WORD,
    common_fault,
    plain_text,
    shown,
    unreadable,
)

_LARGEST_DEG: Final = 3600.0
"""Ten turns; a larger angle is a slip."""

_ANGLE = re.compile(
    rf"""(?P<sign>[+-]?)\ ?(?P<degrees>{NUMBER})\ ?
    (?: (?:deg|°)\ ? (?: (?P<minutes>{NUMBER})\ ?'\ ? (?:(?P<seconds>{NUMBER})\ ?")? )? )?""",
    re.VERBOSE,
)

_ANGLE_FAULTS: Final = (
    *COMMON_FAULTS,
    (r"[^0-9]*", "no number in this angle", "write one such as 62.5 or 62°30'"),
)


def parse_angle(text: str) -> float:
    """An angle in degrees, signed: ``62.5``, ``62deg``, ``62°``, ``62°30'``, ``62°30'15"``.

    Raises
    ------
    WordsError
        Where the text is not an angle, or is more than ten turns.
    """
    plain = plain_text(text).replace("''", '"')
    found = _ANGLE.fullmatch(plain)
    if found is None:
        raise _angle_fault(text, plain)
    _check_sixtieths(text, found)
    angle = (
        float(found["degrees"])
        + float(found["minutes"] or 0) / 60
        + float(found["seconds"] or 0) / 3600
    )
    if angle > _LARGEST_DEG:
        raise unreadable(text, "more than ten turns", "check the number")
    return 0.0 - angle if found["sign"] == "-" else angle


def _angle_fault(text: str, plain: str) -> WordsError:
    """Why ``text`` is not an angle."""
    if fault := common_fault(text, plain, "angle", "62.5 or 62°30'", _ANGLE_FAULTS):
        return fault
    for word in re.findall(WORD, plain):
        if word != "deg":
            return unreadable(text, f"unknown unit {shown(word)}", nearest_known(word, ["deg"]))
    return unreadable(text, "not an angle", "write one such as 62, 62.5, 62deg or 62°30'")


def _check_sixtieths(text: str, found: re.Match[str]) -> None:
    """Refuse minutes and seconds from 60 up, and a fraction before a smaller part."""
    parts = [part for part in found.group("degrees", "minutes", "seconds") if part]
    if any("." in part for part in parts[:-1]):
        raise unreadable(
            text, "only the last part of an angle may have decimals", "write one such as 62°30'"
        )
    if any(float(part) >= 60 for part in parts[1:]):
        raise unreadable(text, "minutes and seconds stay below 60", "carry the rest over")
