"""What was typed into a field of a tube, as a job file has it; what has no form is a text."""

from __future__ import annotations

import re
from typing import Final

from coper.errors import WordsError
from coper.job.toml_value import TomlValue
from coper.page.answers.fields import scalar, with_point
from coper.units import shown

PARTS: Final = 3
"""Numbers of a point or a direction."""

_BARE: Final = re.compile(r"[-+−]?(\d+([./]\d+|-\d+/\d+)?|\.\d+)(mm|cm|m|in|ft|\"|')?")
"""A number without a space in it."""

_STEP: Final = re.compile(r"from\s+(?P<base>.+)\s+by\s+(?P<step>.+)")
_ALONG: Final = re.compile(
    r"along\s+(?P<along>.+?)\s+(?P<place>by|height|clear_of)\s+(?P<value>\S.*?)"
    r"(?:\s+gap\s+(?P<gap>\S.*?))?(?:\s+side\s+(?P<side>left|right))?")


def length(typed: str) -> TomlValue | None:
    """A length or an angle; ``None`` of an empty field."""
    words = " ".join(typed.split())
    return scalar(with_point(words)) if words else None


def vector(typed: str) -> list[TomlValue] | None:
    """Three numbers with commas, semicolons or else spaces between; ``None`` of anything else."""
    inner = typed.strip(" []")
    parts = inner.split(";" if ";" in inner else "," if "," in inner else None)
    if "," not in inner and ";" not in inner and not all(map(_BARE.fullmatch, parts)):
        return None
    if len(parts) != PARTS or not all(part.strip() for part in parts):
        return None
    return [scalar(with_point(part.strip())) for part in parts]


def direction(typed: str) -> TomlValue | None:
    """A way as three numbers, or a word of the grammar."""
    words = " ".join(typed.split())
    return vector(words) or words or None


def point(typed: str) -> TomlValue | None:
    """A point: three numbers, a name, a step from another, or a place along a tube.

    The words of the last two are those in which a field shows them: ``from axle by 12, 0, 4``,
    ``along seat-stay by 180 side right``.
    """
    words = " ".join(typed.split())
    if step := _STEP.fullmatch(words):
        base, by = point(step["base"]), vector(step["step"])
        if base is not None and by is not None:
            return {"from": base, "by": list(by)}
    if along := _ALONG.fullmatch(words):
        named = along["place"] == "clear_of"
        found: dict[str, TomlValue] = {
            "along": along["along"],
            along["place"]: along["value"] if named else scalar(along["value"])}
        if along["gap"]:
            found["gap"] = scalar(along["gap"])
        return {**found, "side": along["side"]} if along["side"] else found
    return vector(words) or words or None


def needed_point(typed: str) -> TomlValue:
    """The same where there has to be one.

    Raises
    ------
    WordsError
        Where nothing is typed, or more or fewer numbers than three.
    """
    found = point(typed)
    if isinstance(found, str) and _is_numbers(found):
        raise WordsError(f"{shown(found)}: not three numbers", "write ahead, to the left, up, with "
                         "commas between: 0, 0, 300")
    if found is None:
        raise WordsError("no point", "pick one, or type three numbers: ahead, to the left, up")
    return found


def _is_numbers(words: str) -> bool:
    """Whether it is meant as numbers, and not as a point's name."""
    return ((words[0] in "+-.0123456789" and bool(set(words) & set(",;")))
            or (" " in words and all(map(_BARE.fullmatch, words.split()))))


def lengths(typed: str) -> TomlValue | None:
    """One length, or one each with commas between."""
    parts = [part for part in typed.split(";" if ";" in typed else ",") if part.strip()]
    if len(parts) > 1:
        return [scalar(with_point(part.strip())) for part in parts]
    return length(typed)
