"""Values as they are written into a job file: what is read again is the same number."""

from __future__ import annotations

import json
import re
from typing import Final, TypeAlias

from coper.job.schema import number_text
from coper.units import parse_length

TomlValue: TypeAlias = "float | int | str | list[TomlValue] | dict[str, TomlValue]"

MOST_PLACES = 12
"""Decimals of a number that are read."""

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")


def length_value(mm: float, unit: str, within: float = 0.0) -> float | int | str:
    """A length in mm as a job whose bare numbers are in ``unit`` has it.

    It has the fewest decimals with which the length read is ``mm``, or ``within`` mm of it. One
    that no number of the unit is exactly, such as 395 mm in a job in inches, has mm written after
    it.
    """
    one = parse_length("1", unit)
    for places in range(MOST_PLACES + 1):
        number = round(mm / one, places)
        if abs(parse_length(number_text(number), unit) - mm) <= within:
            return int(number) if number == int(number) else number
    return f"{number_text(mm)}mm"


def toml_text(value: object) -> str:
    """A value of a job file as TOML on one line."""
    match value:
        case str():
            return json.dumps(value, ensure_ascii=False)
        case list():
            return f"[{', '.join(map(toml_text, value))}]"
        case dict():
            return f"{{ {', '.join(f'{key} = {toml_text(part)}' for key, part in value.items())} }}"
        case float():
            return number_text(value)
    return str(value).lower()


def toml_key(*keys: str) -> str:
    """Nested keys as TOML, whole however long they are; one that is not bare is quoted."""
    return ".".join(key if _BARE.fullmatch(key) else toml_text(key) for key in keys)
