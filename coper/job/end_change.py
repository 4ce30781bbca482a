"""A change to how an end of a job's tube is cut: one way of it takes the place of another."""

from __future__ import annotations

from typing import Final

from coper.frame.tube import Which
from coper.job.edit import Edit, edited, tables_of
from coper.job.schema import TomlTable
from coper.job.toml_value import TomlValue

INSTEAD: Final[dict[str, tuple[str, ...]]] = {
    "on": ("mitre", "face", "twin", "back", "cap"),
    "mitre": ("on", "face", "twin", "back", "cut", "cap"),
    "twin": ("on", "mitre", "face", "back", "cut", "cap"),
    "face": ("on", "mitre", "twin", "back", "cut"),
    "back": ("on", "mitre", "face", "twin", "cut"),
    "cap": ("on", "mitre", "twin", "cut"),
}
"""What an end no longer says where it says that."""


def end_of(text: str, tube: str, which: Which) -> TomlTable:
    """What a job says of an end, as it is written."""
    table: object = tables_of(text)
    for key in ("tubes", tube, which):
        table = table.get(key) if isinstance(table, dict) else None
    return table if isinstance(table, dict) else {}


def end_changed(text: str, tube: str, which: Which, key: str, value: TomlValue | None) -> str:
    """The text of a job with another value of one key of an end, or without it.

    Raises
    ------
    CoperError
        Where the file is written in a way that cannot be changed.
    """
    old = end_of(text, tube, which)
    out = INSTEAD.get(key, ()) if value is not None else ("cut",) if key == "on" else ()
    edits = [Edit(key, value), *(Edit(one, None) for one in out if one in old)]
    if not old:
        return edited(text, ("tubes", tube), [Edit(which, {key: value})] if value else ())
    return edited(text, ("tubes", tube, which), edits)


def with_seat(text: str, tube: str, which: Which, main: str) -> str:
    """The text of a job where an end seats on one more tube."""
    on = end_of(text, tube, which).get("on")
    return end_changed(text, tube, which, "on", [*(on if isinstance(on, list) else ()), main])
