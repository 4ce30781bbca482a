"""Changes to a job's points: one as its fields have it, a new one, another name, one less."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from coper.arrays import Point
from coper.errors import CoperError
from coper.job.edit import Edit, edited
from coper.job.faults import dotted
from coper.job.new_table import with_point
from coper.job.point_ways import KEPT_MM, around
from coper.job.renamed import check_free, removed, renamed
from coper.page.answers.change import Change, job_in, loading, table_of, tables_in, whole
from coper.page.answers.point_fields import (
    CHOICES,
    FIELDS,
    fields_in,
    fields_of,
    value_in,
    value_typed,
)
from coper.units import format_length, lengths_in

TABLE: Final = "points"
NEW: Final = "new-"
"""What the names of a new point's fields begin with."""

NAME: Final = "name"
TITLE: Final = "title"


def changed(text: str, name: str, form: Mapping[str, str], first: str = "") -> Change:
    """The text with a point as its fields have it.

    Another way, another tube or another point to start from, chosen alone, keep the place. Where
    they cannot, the point is moved when that is asked for, by a number or the button.

    Parameters
    ----------
    text, name
        The file and the point.
    form
        Its fields, each with what stood there before it was touched as ``was.FIELD``.
    first
        The field that was changed last; empty where the button was pressed.
    """
    typed = {key: form[key] for key in FIELDS if key in form}
    fields = fields_in(typed.get("way", ""))
    left = {key: typed[key] for key in ("way", *fields)
            if key in typed and typed[key] != form.get(f"was.{key}", typed[key])}
    if not left:
        return Change(text, {})
    try:
        value = value_typed(typed, table_of(text, TABLE).get(name))
        if set(left) <= set(CHOICES) and (staying := _staying(text, name, typed, left, first)):
            return staying
    except CoperError as error:
        return Change(text, left, (error,))
    return whole(text, left, lambda: edited(text, TABLE, [Edit(name, value)]))


def _staying(
    text: str, name: str, typed: Mapping[str, str], left: Mapping[str, str], first: str
) -> Change | None:
    """A point said in another way at the same place; where that is none of it, whether to move it.

    ``None`` where the place is not known, or the button was pressed: then it moves.
    """
    place = _place(text, name)
    if place is None:
        return None
    about = around(job_in(text), tables_in(text), name)
    value = value_in(typed["way"], place, about, typed)
    if value is None:
        return None
    made, faults = loading(lambda: edited(text, TABLE, [Edit(name, value)]))
    if made is None:
        return Change(text, left, faults)
    far = math.dist(place, job_in(made).points[name])
    if far <= KEPT_MM:
        return Change(made, {})
    if first not in CHOICES:
        return None
    own = fields_in(typed["way"])
    nearest = {key: words for key, words in fields_of(value, None, about).items() if key in own}
    with lengths_in(about.unit):
        return Change(text, {**left, **nearest}, (CoperError(
            f"not written yet: so it would stand {format_length(far)} from where it is",
            "press Keep to move it there, or choose another way", "way"),))


def _place(text: str, name: str) -> Point | None:
    try:
        return job_in(text).points.get(name)
    except CoperError:
        return None


def added(text: str, form: Mapping[str, str]) -> tuple[Change, str]:
    """The text with one more point as its fields have it, and its name.

    The fields are those of :func:`changed`, each with ``new-`` before it, and ``new-name``.
    """
    typed = {key: words for key, words in form.items() if key.startswith(NEW)}
    name = " ".join(typed.get(f"{NEW}{NAME}", "").split())
    fields = {key.removeprefix(NEW): words for key, words in typed.items()}
    try:
        check_name(text, name)
        value = value_typed(fields)
    except CoperError as error:
        return Change(text, typed, (error,)), name
    return whole(text, typed, lambda: with_point(text, name, value)), name


def check_name(text: str, name: str) -> None:
    """Refuse a new point's name that is none, or is taken."""
    if not name:
        raise CoperError("no name", "give it one, such as axle or corner-left", NAME)
    try:
        check_free(tables_in(text), TABLE, name)
    except CoperError as error:
        raise CoperError(error.fault, error.cure, NAME) from error


def called(text: str, old: str, typed: str) -> tuple[Change, str]:
    """The text with a point under another name wherever it is named, and that name."""
    name = " ".join(typed.split())
    if name == old:
        return Change(text, {}), old
    try:
        check_name(text, name)
    except CoperError as error:
        return Change(text, {NAME: typed}, (error,)), old
    made, faults = loading(lambda: renamed(text, TABLE, old, name))
    if made is None:
        wrong = tuple(CoperError(one.fault, one.cure, NAME) if one.where.endswith(dotted(name))
                      else one for one in faults)
        return Change(text, {NAME: typed}, wrong), old
    return Change(made, {}), name


def without(text: str, name: str) -> Change:
    """The text without a point; what still uses it is named."""
    return whole(text, {}, lambda: removed(text, TABLE, name))


def titled(text: str, typed: str) -> Change:
    """The text with another title."""
    words = " ".join(typed.split())
    if words == tables_in(text).get(TITLE, ""):
        return Change(text, {})
    return whole(text, {TITLE: typed},
                 lambda: edited(text, "", [Edit(TITLE, words or None, "units")]))
