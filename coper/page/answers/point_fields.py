"""A point as a sentence with fields, in each of the ways that a job says one; and back again.

The fields of a point are the same at every station, by these names: ``way`` (one of
:data:`WAYS`); ``x``, ``y``, ``z`` of three numbers; ``base`` and ``dx``, ``dy``, ``dz`` of a step;
``tube`` with ``by``, ``h`` or ``gap`` and ``wheel`` of a place on a tube. A number with a sign has
beside it ``x_way``, …: one of two words, so that nobody has to know the axes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, cast

from coper.arrays import Point
from coper.errors import CoperError, WordsError
from coper.job.point_ways import (
    Around,
    OnTube,
    Way,
    along_to,
    gap_to,
    number,
    numbers,
    step_from,
)
from coper.job.schema import MOST_TEXT
from coper.job.toml_value import TomlValue
from coper.page.answers.fields import scalar, shown_value, with_point
from coper.telling.words.place import SENSES

WAYS: Final[tuple[tuple[Way, str], ...]] = (
    ("numbers", "by three numbers"),
    ("from", "from another point"),
    ("by", "on a tube, so far from its start"),
    ("height", "on a tube, at a height"),
    ("clear_of", "on a tube, clear of a wheel"),
)
"""Every way, and its words."""

ON_TUBE: Final = ("by", "height", "clear_of")

SIGNED: Final = {"x": SENSES[0], "y": SENSES[1], "z": SENSES[2], "dx": SENSES[0], "dy": SENSES[1],
                 "dz": SENSES[2], "h": SENSES[2]}
"""The fields whose sign is said in words: that of numbers above 0, that below."""

OF_WAY: Final[Mapping[str, tuple[str, ...]]] = {
    "numbers": ("x", "y", "z"), "from": ("base", "dx", "dy", "dz"), "by": ("tube", "by"),
    "height": ("tube", "h"), "clear_of": ("tube", "gap", "wheel")}
"""The fields of each way."""

CHOICES: Final = ("way", "base", "tube", "wheel")
"""Fields with a list: what is chosen in one alone moves no point."""

FIELDS: Final = (*CHOICES, "by", "gap", *SIGNED, *(f"{key}_way" for key in SIGNED))
"""The names of all fields."""

OWN_BASE: Final = "="
"""In place of a name: the step is from a place without one, which stays as the file has it."""

AT_KEY: Final = {"[0]": "x", "[1]": "y", "[2]": "z", ".from": "base", ".by[0]": "dx",
                 ".by[1]": "dy", ".by[2]": "dz", ".along": "tube", ".side": "tube", ".by": "by",
                 ".height": "h", ".gap": "gap", ".clear_of": "wheel"}
"""The field of each key of a point, as the path of a fault has it behind the point's name."""


@dataclass(frozen=True, slots=True)
class Choices:
    """What the lists of a point's fields offer: (value, words)."""

    ways: tuple[tuple[str, str], ...]
    bases: tuple[tuple[str, str], ...]
    tubes: tuple[tuple[str, str], ...]
    wheels: tuple[tuple[str, str], ...]


def way_of(value: object) -> Way:
    """The way in which a job says a point."""
    match value:
        case {"along": _, "height": _}:
            return "height"
        case {"along": _, "clear_of": _}:
            return "clear_of"
        case {"along": _}:
            return "by"
        case str() | dict():
            return "from"
    return "numbers"


def fields_in(way: str) -> tuple[str, ...]:
    """The names of a way's fields, with those of the words for signs."""
    own = OF_WAY.get(way, ())
    return (*own, *(f"{key}_way" for key in own if key in SIGNED))


def choices(about: Around, fields: Mapping[str, str]) -> Choices:
    """What may be chosen, and what stands in the fields besides."""
    can = {way: True for way, _ in WAYS} | {
        "from": bool(about.points), "by": bool(about.axes), "height": bool(about.axes),
        "clear_of": bool(about.axes and about.wheels)}
    bases, tubes, wheels = {}, {}, {name: name for name in about.wheels}
    if fields["base"] == OWN_BASE:
        bases[OWN_BASE] = "a place without a name"
    bases |= {name: name for name in about.points}
    tubes = {tube_option(one): on_tube_words(one) for one in about.axes}
    for known, key in ((bases, "base"), (tubes, "tube"), (wheels, "wheel")):
        if fields[key] not in known and fields[key]:
            known[fields[key]] = fields[key].strip("|")
    return Choices(tuple((way, words) for way, words in WAYS if can[way] or way == fields["way"]),
                   *(tuple(known.items()) for known in (bases, tubes, wheels)))


def tube_option(one: OnTube) -> str:
    """A tube in a list, with the side of a twin; a name may have any letters."""
    name, side = one
    return f"{side}|{name}"


def on_tube_words(one: OnTube) -> str:
    """A tube by its name, of twins the side too."""
    name, side = one
    return f"{name}, {side}" if side else name


def fields_of(value: object, place: Point | None, about: Around) -> dict[str, str]:
    """What stands in the fields of a point, those of the ways in which it is not said as well.

    Those hold the same place as far as it is one of that way; else the nearest.

    Parameters
    ----------
    value
        As the job has it; ``None`` for a point that is not there yet.
    place
        Where it is; ``None`` where that is not known.
    about
        What it may be measured from.
    """
    fields = dict.fromkeys(FIELDS, "") | {f"{key}_way": more for key, (more, _) in SIGNED.items()}
    if place is not None:
        for way, _ in WAYS:
            fields |= said_fields(value_in(way, place, about))
    else:
        fields |= {"base": next(iter(about.points), ""),
                   "tube": next(map(tube_option, about.axes), "")}
    fields["wheel"] = next(iter(about.wheels), "")
    fields |= said_fields(value) | {"way": way_of(value)}
    name, side = named_tube(fields["tube"])
    if not side and (name, "left") in about.axes:  # the one that is meant where no side is said
        fields["tube"] = tube_option((name, "left"))
    return fields


def value_in(
    way: str, place: Point, about: Around, typed: Mapping[str, str] | None = None
) -> TomlValue | None:
    """The value that puts a point at a place in some way; on a tube as near to it as that gets.

    ``None`` where there is no such way, or the job has nothing to measure it from.

    Parameters
    ----------
    way, place, about
        The way, the place and what it is measured from.
    typed
        With ``base``, ``tube`` and ``wheel``; the nearest of each where it has none.
    """
    given = typed or {}
    if way == "numbers":
        return numbers(place, about.unit)
    if way == "from":
        base = given.get("base") or about.nearest_point(place)
        start = about.points.get(base)
        return None if start is None else {
            "from": base, "by": numbers(step_from(start, place), about.unit)}
    one = named_tube(given["tube"]) if given.get("tube") else about.nearest_axis(place)
    if one is None or one not in about.axes:
        return None
    return _on_axis(way, one, place, about, given.get("wheel") or next(iter(about.wheels), ""))


def _on_axis(
    way: str, one: OnTube, place: Point, about: Around, wheel: str
) -> TomlValue | None:
    """The place on an axis that is nearest to a place."""
    axis = about.axes[one]
    along = along_to(axis, place)
    if way == "by":
        return {**_along(one), "by": number(along, about.unit)}
    if way == "height":
        return {**_along(one), "height": number(axis.at(along)[2], about.unit)}
    if way != "clear_of" or wheel not in about.wheels:
        return None
    gap = gap_to(about.wheels[wheel], axis.at(along))
    return {**_along(one), "clear_of": wheel, "gap": number(gap, about.unit)}


def value_typed(typed: Mapping[str, str], old: object = None) -> TomlValue:
    """What is written into the file for a point's fields.

    Parameters
    ----------
    typed
        The fields of its way, and ``way``.
    old
        The value that the file has.

    Raises
    ------
    CoperError
        At a field that holds more than any value.
    """
    for key, words in typed.items():
        if len(words) > MOST_TEXT:
            raise WordsError(f"{len(words)} characters", f"write {MOST_TEXT} at most", key)
    way = typed.get("way", "")
    if way == "numbers":
        return [_signed(typed, key) for key in "xyz"]
    if way == "from":
        base: TomlValue = typed.get("base", "")
        if base == OWN_BASE and isinstance(old, dict):
            base = cast(TomlValue, old.get("from", ""))
        by: list[TomlValue] = [_signed(typed, key) if typed.get(key, "").strip() else 0
                               for key in ("dx", "dy", "dz")]
        return {"from": base, "by": by}
    if way not in ON_TUBE:
        raise CoperError("no way to say a point", "choose one of the list", "way")
    along = _along(named_tube(typed.get("tube", "")))
    if way == "by":
        return {**along, "by": _number(typed.get("by", ""))}
    if way == "height":
        return {**along, "height": _signed(typed, "h")}
    return {**along, "clear_of": typed.get("wheel", ""), "gap": _number(typed.get("gap", ""))}


def said_fields(value: object) -> dict[str, str]:
    """What stands in the fields of the way in which a value is said, and in no others."""
    match value:
        case str():
            return {"base": value, **_three(("dx", "dy", "dz"), [0, 0, 0])}
        case list():
            return _three(("x", "y", "z"), value)
        case {"along": name, **rest}:
            on = {"tube": tube_option((shown_value(name), shown_value(rest.get("side"))))}
            for key, given in (("by", "by"), ("gap", "gap"), ("wheel", "clear_of")):
                if given in rest:
                    on[key] = shown_value(rest[given])
            return on | (_apart("h", rest["height"]) if "height" in rest else {})
        case dict():
            base, by = value.get("from"), value.get("by")
            return {"base": base if isinstance(base, str) else OWN_BASE,
                    **_three(("dx", "dy", "dz"), by if isinstance(by, list) else [])}
    return {}


def _three(keys: tuple[str, str, str], values: list[object]) -> dict[str, str]:
    fields: dict[str, str] = {}
    for key, value in zip(keys, values, strict=False):
        fields |= _apart(key, value)
    return fields


def _apart(key: str, value: object) -> dict[str, str]:
    """A number without its sign, and the word for that."""
    words, (more, less) = shown_value(value), SIGNED[key]
    return {key: words.removeprefix("-"), f"{key}_way": less if words.startswith("-") else more}


def _signed(typed: Mapping[str, str], key: str) -> float | int | str:
    """A number with the sign that its word has; one typed before it turns that round."""
    words = typed.get(key, "").strip()
    below = typed.get(f"{key}_way") == SIGNED[key][1]
    if words[:1] in ("-", "−", "–"):
        words, below = words[1:].strip(), not below
    value = _number(words)
    if not below or not value:
        return value
    return f"-{value}" if isinstance(value, str) else -value


def _number(typed: str) -> float | int | str:
    return scalar(with_point(" ".join(typed.split())))


def _along(one: OnTube) -> dict[str, TomlValue]:
    """The keys that name an axis; of twins the left one is meant where no side is said."""
    name, side = one
    return {"along": name, **({"side": side} if side == "right" else {})}


def named_tube(option: str) -> OnTube:
    """The tube, and the side of a twin, that :func:`tube_option` made ``option`` of."""
    side, _, name = option.partition("|")
    return name, side
