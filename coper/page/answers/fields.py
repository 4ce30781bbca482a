"""The numbers of a bicycle as fields: what stands in them, and what is written when it changes."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from coper.bicycle.measured import KEYS
from coper.errors import WordsError
from coper.job.bicycle import WHEELS
from coper.job.edit import Edit
from coper.job.schema import MOST_TEXT, TomlTable, number_text
from coper.job.toml_value import TomlValue
from coper.units import format_length, format_mm, in_inches
from coper.verbs.changes import MEASURED


@dataclass(frozen=True, slots=True)
class Field:
    """A key of [bicycle]: its name on the page, and how it is measured."""

    key: str
    name: str
    how: str


GROUPS: Final = (
    ("Rear end", (
        Field("drop", "drop", "rear axle above the bottom bracket; or the height"),
        Field("height", "height", "bottom bracket above the ground"),
        Field("chain_stay", "chain stay", "bottom bracket to rear axle, straight"),
        Field("axle_back", "axle back", "or how far behind it the axle is, level"),
        Field("rear_wheel", "rear wheel", "as on the tyre, 40-507; or radius 293.5 tyre 40"),
        Field("rear_hub", "rear hub", "over the lock nuts: how far the dropouts are apart"),
        Field("rear_track", "rear track", "of a trike: between the middles of two rear tyres"),
    )),
    ("Seat tube and head tube", (
        Field("shell", "shell", "width of the bottom bracket shell, for its ends"),
        Field("seat_angle", "seat angle", "for the seat tube: from the level line at the back"),
        Field("head_angle", "head angle", "from the level line at the back"),
        Field("reach", "reach", "to the middle of the head tube's top edge; with stack"),
        Field("stack", "stack", "up to the same place"),
        Field("head_tube", "head tube", "its length"),
        Field("head_bottom", "head bottom", "or the middle of its lower edge: ahead, above"),
    )),
    ("Fork and front wheel", (
        Field("fork_length", "fork length", "crown race to axle, along the steering axis"),
        Field("rake", "rake", "from the steering axis to the axle"),
        Field("lower_stack", "lower stack", "head set between crown race and head tube"),
        Field("front_wheel", "front wheel", "as on the tyre"),
        Field("front_hub", "front hub", "over the lock nuts"),
        Field("front_centre", "front centre", "or bottom bracket to front axle, for reach and "
              "stack"),
        Field("wheelbase", "wheelbase", "or axle to axle"),
    )),
)
"""Every key, in the order in which it is measured."""

NAMES: Final = {field.key: field.name for _, fields in GROUPS for field in fields}
"""The name of each on the page, by its key."""

FIELDS: Final = tuple(NAMES)
"""The keys of all fields."""

NUMBER: Final = re.compile(r"[+-]?\d{1,15}(\.\d{1,15})?")

COMMA: Final = re.compile(r"([+-]?\d+),(\d+)(\s*[^\d,]*)")
"""A number with one comma: its point, unless it parts thousands."""

THOUSANDS: Final = 3
"""Digits after a comma that parts thousands; with them it may mean either."""


def shown_value(value: object) -> str:
    """A value of a job file as it stands in a field."""
    match value:
        case str():
            return value
        case bool():
            return str(value).lower()
        case int() | float():
            return number_text(value)
        case list():
            return ", ".join(map(shown_value, value))
        case dict():
            return " ".join(f"{key} {shown_value(part)}" for key, part in value.items())
    return "" if value is None else str(value)


def said_length(mm: float) -> str:
    """A length in mm as it is said back: in mm and in inches, the job's unit first."""
    return f"{format_length(mm)}, {format_mm(mm)}" if in_inches() else format_length(mm)


def typed_value(key: str, typed: str) -> TomlValue:
    """What is written into the file for what was typed into the field of ``key``.

    Raises
    ------
    WordsError
        Where it is longer than any value.
    """
    if len(typed) > MOST_TEXT:
        raise WordsError(f"{len(typed)} characters", f"write {MOST_TEXT} at most")
    if key == "head_bottom":
        return [scalar(part) for part in typed.strip("[] ").split(",")]
    if key in WHEELS:
        found = MEASURED.fullmatch(typed)
        return typed.strip() if found is None else {"radius": scalar(found[1]),
                                                    "tyre": scalar(found[2])}
    return scalar(with_point(typed))


def changes(table: TomlTable, typed: Mapping[str, str]) -> Iterator[Edit]:
    """The edits of [bicycle] that make it what was typed; what stands there already is none."""
    for key in KEYS:
        if key not in typed:
            continue
        words, old = " ".join(typed[key].split()), table.get(key)
        if words == shown_value(old):
            continue
        if not words:
            yield Edit(key, None)
        elif (value := typed_value(key, words)) != old:
            yield Edit(key, value, _behind(table, key))


def _behind(table: TomlTable, key: str) -> str:
    """The key that a new one is written behind: the nearest before it that is there."""
    return next((one for one in reversed(KEYS[:KEYS.index(key)]) if one in table), "")


def scalar(typed: str) -> float | int | str:
    """A bare number as one, anything else as a text for the grammar to read."""
    words = typed.strip()
    if NUMBER.fullmatch(words) is None:
        return words
    return float(words) if "." in words else int(words)


def with_point(typed: str) -> str:
    """The words with a point for a comma that can mean nothing else."""
    found = COMMA.fullmatch(typed.strip())
    if found is None:
        return typed
    whole, part, rest = found.groups()
    if len(part) == THOUSANDS and int(whole):
        return typed
    return f"{whole}.{part}{rest}"
