"""Lengths and angles as people write and read them.

Lengths are returned in mm and angles in degrees, whatever unit they were written in. Every fault is
a :class:`~coper.errors.WordsError` that starts with the text at fault.
"""

from __future__ import annotations

import math
import re
from typing import Final

from coper.errors import WordsError, nearest_known

INCH_MM: Final = 25.4
"""One inch in mm, exactly, by definition."""

_UNIT_MM: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH_MM, "ft": 12 * INCH_MM}

UNITS: Final = tuple(_UNIT_MM)
"""The units of a length, and of a job's bare numbers."""

_GAUGE_NAMES: Final = {"bwg": "Birmingham gauge", "swg": "Standard Wire Gauge"}

GAUGES: Final = tuple(_GAUGE_NAMES)
"""The gauge systems of a wall."""

_GAUGES_IN: Final = {
    # Birmingham (Stubs) gauge, in inches: Holtzapffel's table; engineering tables agree.
    "bwg": {
        "10": 0.134, "11": 0.120, "12": 0.109, "13": 0.095, "14": 0.083, "15": 0.072,
        "16": 0.065, "17": 0.058, "18": 0.049, "19": 0.042, "20": 0.035, "21": 0.032,
        "22": 0.028, "23": 0.025, "24": 0.022, "25": 0.020, "26": 0.018, "28": 0.014,
    },
    # Standard Wire Gauge, in inches: the even numbers from engineering tables.
    "swg": {
        "10": 0.128, "12": 0.104, "14": 0.080, "16": 0.064, "18": 0.048, "20": 0.036,
        "22": 0.028, "24": 0.022,
        "11": 0.116, "13": 0.092, "15": 0.072, "17": 0.056,  # from memory
        "19": 0.040, "21": 0.032, "23": 0.024,  # from memory
    },
}

_BARE_GAUGES: Final = ("ga", "gauge", "gage", "g")

LENGTH_WORDS: Final = (*UNITS, *GAUGES, *_BARE_GAUGES)
"""Every word that may follow the number of a length or a wall, including those refused."""

_LONGEST_MM: Final = 100_000.0
"""No tube on a bench is 100 m long: such a length has the wrong unit."""

_LARGEST_DEG: Final = 3600.0
"""Ten turns; a larger angle is a slip."""

_KEPT_PLACES: Final = 12
"""Decimals of a mm that are kept: the rest is rounding of a binary product."""

_TIE_MM: Final = 1e-9
"""Added before rounding for display: 1-1/8 in is 28.575 mm, but a hair less in binary."""

_SHOWN: Final = 60
"""The most characters of a text that a message repeats."""

_NUMBER = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)"
_WORD = r"[^\W\d_]+"
_LENGTH = re.compile(
    rf"""(?P<sign>[+-]?)\ ?
    (?: (?:(?P<whole>[0-9]+)[-\ ])? (?P<upper>[0-9]+)\ ?/\ ?(?P<lower>[0-9]+)
      | (?P<number>{_NUMBER}) )\ ?
    (?P<unit>{_WORD}|")?""",
    re.VERBOSE,
)
_ANGLE = re.compile(
    rf"""(?P<sign>[+-]?)\ ?(?P<degrees>{_NUMBER})\ ?
    (?: (?:deg|°)\ ? (?: (?P<minutes>{_NUMBER})\ ?'\ ? (?:(?P<seconds>{_NUMBER})\ ?")? )? )?""",
    re.VERBOSE,
)
_GAUGE = re.compile(rf"(?P<number>.+?) ?(?:{'|'.join(_BARE_GAUGES)})? ?(?P<system>bwg|swg)")
_BARE_GAUGE = re.compile(rf"(?P<number>.+?) ?(?:{'|'.join(_BARE_GAUGES)})")

_SAME_SIGN = str.maketrans("″”′’−–º˚", "\"\"''--°°")
"""Signs that keyboards and word processors type instead of the plain ones."""

_COMMON_FAULTS: Final = (
    (r"[+-]? ?(nan|inf|infinity)", "not a number", "write it in digits"),
    (r".*[0-9.]e[+-]?[0-9].*", "powers of ten are not read", "write the number out"),
    (r".*[+-] ?[+-].*", "two signs in a row", "keep one"),
)
_LENGTH_FAULTS: Final = (
    *_COMMON_FAULTS,
    (r".*'.*", "' is no unit of length here", 'write ft for feet, in or " for inches'),
    (r"[^0-9]*", "no number in this length", "write one such as 28.6 or 1-1/8in"),
)
_ANGLE_FAULTS: Final = (
    *_COMMON_FAULTS,
    (r"[^0-9]*", "no number in this angle", "write one such as 62.5 or 62°30'"),
)


def parse_length(text: str, unit: str = "mm") -> float:
    """A length in mm, signed; a bare number is in ``unit``.

    Decimals and fractions (``28.6``, ``7/8in``, ``1 1/8"``, ``1-1/8in``) in any of :data:`UNITS`.

    Raises
    ------
    WordsError
        Where the text is not a length, or is longer than 100 m.
    """
    plain = _plain(text)
    found = _LENGTH.fullmatch(plain)
    if found is None:
        raise _length_fault(text, plain)
    length = _size(text, found) * _unit_mm(text, found["unit"] or unit)
    if not length <= _LONGEST_MM:
        raise unreadable(text, "longer than 100 m", "check the number and its unit")
    return round(0.0 - length if found["sign"] == "-" else length, _KEPT_PLACES)


def parse_wall(text: str, unit: str = "mm") -> float:
    """A wall thickness in mm, above 0: a length, or a gauge with its system (``18bwg``).

    Raises
    ------
    WordsError
        Where the text is neither, or a gauge whose system is not named.
    """
    plain = _plain(text)
    if gauge := _GAUGE.fullmatch(plain):
        return _gauge_mm(text, gauge["number"], gauge["system"])
    if gauge := _BARE_GAUGE.fullmatch(plain):
        raise _bare_gauge_fault(text, gauge["number"])
    wall = parse_length(text, unit)
    if wall <= 0:
        raise unreadable(text, "a wall must be above 0", "give its thickness, such as 0.9")
    return wall


def parse_angle(text: str) -> float:
    """An angle in degrees, signed: ``62.5``, ``62deg``, ``62°``, ``62°30'``, ``62°30'15"``.

    Raises
    ------
    WordsError
        Where the text is not an angle, or is more than ten turns.
    """
    plain = _plain(text).replace("''", '"')
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


def format_mm(mm: float, places: int = 2) -> str:
    """A length for display, such as ``28.60 mm``."""
    return f"{_rounded(mm + math.copysign(_TIE_MM, mm), places)} mm"


def format_inches(mm: float, step: int = 64) -> str:
    """A length in mm to the nearest ``1/step`` inch, reduced: ``1-1/8 in``, ``-3/64 in``."""
    steps = round(_finite(mm / INCH_MM * step))
    whole, upper = divmod(abs(steps), step)
    parts = [str(whole)] if whole or not upper else []
    if upper:
        shared = math.gcd(upper, step)
        parts.append(f"{upper // shared}/{step // shared}")
    return ("-" if steps < 0 else "") + "-".join(parts) + " in"


def format_length(mm: float) -> str:
    """A length in both systems: ``28.58 mm (1-1/8 in)``."""
    return f"{format_mm(mm)} ({format_inches(mm)})"


def format_thousandths(mm: float) -> str:
    """A length in mm in thousandths of an inch, as feeler gauges are marked: ``0.012 in``."""
    return f"{_rounded(mm / INCH_MM, 3)} in"


def format_gap(mm: float) -> str:
    """A gap in both systems: ``0.30 mm (0.012 in)``."""
    return f"{format_mm(mm)} ({format_thousandths(mm)})"


def format_angle(deg: float) -> str:
    """An angle for display, two decimals at most: ``62.5°``."""
    return _rounded(deg, 2).rstrip("0").rstrip(".") + "°"


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


def _plain(text: str) -> str:
    """``text`` in lower case with single spaces and plain signs."""
    return " ".join(text.translate(_SAME_SIGN).lower().split())


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
    word = "in" if unit == '"' else unit
    if word in _UNIT_MM:
        return _UNIT_MM[word]
    raise _unknown_unit(text, word)


def _unknown_unit(text: str, word: str) -> WordsError:
    if word in LENGTH_WORDS:
        return unreadable(text, "a gauge is for walls only", "write this length in mm or in")
    return unreadable(text, f"unknown unit {shown(word)}", nearest_known(word, UNITS))


def _length_fault(text: str, plain: str) -> WordsError:
    """Why ``text`` is not a length."""
    if fault := _common_fault(text, plain, "length", "28.6 or 1-1/8in", _LENGTH_FAULTS):
        return fault
    units = re.findall(rf'{_WORD}|"', plain)
    for unit in units:
        if unit != '"' and unit not in UNITS:
            return _unknown_unit(text, unit)
    if len(units) > 1:
        return unreadable(text, "two units in one length", "write it in one, such as 38in")
    if re.search(r"[0-9.] +[0-9.]", plain):
        return unreadable(text, "two numbers in one length", "keep one")
    return unreadable(text, "not a length", "write one such as 28.6, 28.6mm or 1-1/8in")


def _angle_fault(text: str, plain: str) -> WordsError:
    """Why ``text`` is not an angle."""
    if fault := _common_fault(text, plain, "angle", "62.5 or 62°30'", _ANGLE_FAULTS):
        return fault
    for word in re.findall(_WORD, plain):
        if word != "deg":
            return unreadable(text, f"unknown unit {shown(word)}", nearest_known(word, ["deg"]))
    return unreadable(text, "not an angle", "write one such as 62, 62.5, 62deg or 62°30'")


def _common_fault(
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


def _check_sixtieths(text: str, found: re.Match[str]) -> None:
    """Refuse minutes and seconds from 60 up, and a fraction before a smaller part."""
    parts = [part for part in found.group("degrees", "minutes", "seconds") if part]
    if any("." in part for part in parts[:-1]):
        raise unreadable(
            text, "only the last part of an angle may have decimals", "write one such as 62°30'"
        )
    if any(float(part) >= 60 for part in parts[1:]):
        raise unreadable(text, "minutes and seconds stay below 60", "carry the rest over")


def _gauge_mm(text: str, number: str, system: str) -> float:
    """The wall in mm of a gauge number."""
    known = _GAUGES_IN[system]
    if number in known:
        return round(known[number] * INCH_MM, _KEPT_PLACES)
    fault = f"{_GAUGE_NAMES[system]} has no {shown(number)} here"
    raise unreadable(text, fault, "known are " + ", ".join(sorted(known)))


def _bare_gauge_fault(text: str, number: str) -> WordsError:
    """Why a gauge without its system is refused: the systems differ."""
    systems = [system for system, known in _GAUGES_IN.items() if number in known]
    if not systems:
        return unreadable(text, "not a known gauge", "write the wall in mm or in")
    values = ", ".join(
        f"{number}{system} is {format_mm(_gauge_mm(text, number, system))} "
        f"({_GAUGES_IN[system][number]:.3f} in)"
        for system in systems
    )
    cure = " or ".join(f"{number}{system}" for system in systems)
    return unreadable(text, f"a gauge needs its system: {values}", f"write {cure}")


def _finite(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be shown")
    return value


def _rounded(value: float, places: int) -> str:
    """``value`` with ``places`` decimals, never ``-0``."""
    text = f"{_finite(value):.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text
