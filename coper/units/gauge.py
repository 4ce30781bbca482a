"""Walls as people write them: a length, or a gauge with its system."""

from __future__ import annotations

import re
from typing import Final

from coper.errors import WordsError
from coper.units.length import KEPT_PLACES, parse_length
from coper.units.names import BARE_GAUGES, GAUGE_NAMES, INCH_MM
from coper.units.text import plain_text, shown, unreadable
from coper.units.written import format_mm

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

_GAUGE = re.compile(rf"(?P<number>.+?) ?(?:{'|'.join(BARE_GAUGES)})? ?(?P<system>bwg|swg)")
_BARE_GAUGE = re.compile(rf"(?P<number>.+?) ?(?:{'|'.join(BARE_GAUGES)})")


def parse_wall(text: str, unit: str = "mm") -> float:
    """A wall thickness in mm, above 0: a length, or a gauge with its system (``18bwg``).

    Raises
    ------
    WordsError
        Where the text is neither, or a gauge whose system is not named.
    """
    plain = plain_text(text)
    if gauge := _GAUGE.fullmatch(plain):
        return _gauge_mm(text, gauge["number"], gauge["system"])
    if gauge := _BARE_GAUGE.fullmatch(plain):
        raise _bare_gauge_fault(text, gauge["number"])
    wall = parse_length(text, unit)
    if wall <= 0:
        raise unreadable(text, "a wall must be above 0", "give its thickness, such as 0.9")
    return wall


def _gauge_mm(text: str, number: str, system: str) -> float:
    """The wall in mm of a gauge number."""
    known = _GAUGES_IN[system]
    if number in known:
        return round(known[number] * INCH_MM, KEPT_PLACES)
    fault = f"{GAUGE_NAMES[system]} has no {shown(number)} here"
    raise unreadable(text, fault, "known are " + ", ".join(sorted(known)))


def _bare_gauge_fault(text: str, number: str) -> WordsError:
    """Why a gauge without its system is refused: the systems differ."""
    systems = [system for system, known in _GAUGES_IN.items() if number in known]
    if not systems:
        return unreadable(text, "not a known gauge",
                          "write the wall in mm or in, such as 0.120in")
    values = ", ".join(
        f"{number}{system} is {format_mm(_gauge_mm(text, number, system))} "
        f"({_GAUGES_IN[system][number]:.3f} in)"
        for system in systems
    )
    thick = f"{_GAUGES_IN[systems[0]][number]:.3f}in"
    cure = " or ".join(f"{number}{system}" for system in systems)
    return unreadable(text, f"a gauge needs its system: {values}",
                      f"give the wall in inches, such as {thick}, or write {cure}")
