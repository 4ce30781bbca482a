"""A tube that stands by another: beside it, or as a bridge between it and its twin."""

from __future__ import annotations

from typing import Final, TypeGuard

from coper.arrays import Point
from coper.errors import CoperError
from coper.frame.tube import ENDS
from coper.job.edit import tables_of
from coper.job.faults import dotted
from coper.job.job import Job
from coper.job.new_table import with_point, with_tube
from coper.job.schema import TomlTable
from coper.job.toml_value import TomlValue, length_value
from coper.job.turning import TURN_KEYS

BESIDE: Final[dict[str, tuple[int, int, int]]] = {
    "above": (0, 0, 1), "below": (0, 0, -1), "ahead": (1, 0, 0), "behind": (-1, 0, 0),
    "to the left": (0, 1, 0), "to the right": (0, -1, 0)}
"""Where a parallel tube stands."""

PLACES: Final = ("by", "height")
"""What says where on a tube a bridge stands: how far from its start point, or how high."""

WHEEL: Final = "clear_of"
"""Such a place of an end depends on how thick its tube is: of it only the point is kept."""


def parallel(job: Job, tube: str, name: str, way: str, mm: float, seats: bool) -> str:
    """The text of a job with a tube like ``tube`` beside it, its points measured from that one's.

    Parameters
    ----------
    job
        With its text.
    tube, name
        The tube that is there, and what the new one is called.
    way
        One of ``BESIDE``.
    mm
        How far away.
    seats
        Whether its ends seat on what that one's seat on; else they are cut off plain.

    Raises
    ------
    CoperError
        Where a name is taken, or the file is written in a way that cannot be changed.
    """
    text, source = job.text, _source(job.text, tube)
    plan = next(one for one in job.tubes if one.name == tube)
    by: list[TomlValue] = [length_value(part * mm, job.units) for part in BESIDE[way]]
    where: dict[str, str] = {}

    def moved(key: str, start: TomlValue) -> str:
        where[key] = f"{name}-{key}"
        return _with_point(text, where[key], {"from": start, "by": by})

    keys: dict[str, TomlValue] = {
        key: value for key in ("shape", "shape_from", "bend", "mirror", *TURN_KEYS)
        if key != "through" and _is_value(value := source.get(key))}
    for which, end in zip(ENDS, (plan.start, plan.end), strict=True):
        table = source.get(which)
        assert isinstance(table, dict)
        text = moved(which, _start(job, table.get("at"), end.at))
        keys[which] = {"at": where[which], **({"on": [*end.on]} if seats and end.on else {})}
    corners = source.get("corners")
    for number, corner in enumerate(corners if isinstance(corners, list) else (), 1):
        text = moved(f"corner-{number}", corner)
    if plan.corners:
        keys["corners"] = [value for key, value in where.items() if key.startswith("corner-")]
    if _is_value(through := source.get("through")):
        text = moved("through", through)
        keys["through"] = where["through"]
    return with_tube(text, name, keys)


def bridge(text: str, tube: str, name: str, shape: str, place: str, value: TomlValue) -> str:
    """The text of a job with a tube between a tube and its twin, seated on both.

    Parameters
    ----------
    text
        All of the file.
    tube, name, shape
        The tube with a twin; what the new one is called, and what it is.
    place, value
        One of ``PLACES``, and the length there.

    Raises
    ------
    CoperError
        Where the name is taken, or the file is written in a way that cannot be changed.
    """
    left: dict[str, TomlValue] = {"along": tube, place: value}
    return with_tube(text, name, {
        "shape": shape, "start": {"at": left, "on": [tube]},
        "end": {"at": {**left, "side": "right"}, "on": [tube]}})


def _source(text: str, tube: str) -> TomlTable:
    tubes = tables_of(text).get("tubes")
    found = tubes.get(tube) if isinstance(tubes, dict) else None
    if not isinstance(found, dict):
        raise CoperError(f"the job has no tube {tube!r}", "choose one that it has", "tubes")
    return found


def _start(job: Job, value: object, at: Point) -> TomlValue:
    """What the point of an end is written as, or where it stands."""
    if not _is_value(value) or (isinstance(value, dict) and WHEEL in value):
        return [length_value(part, job.units) for part in at]
    return value


def _is_value(value: object) -> TypeGuard[TomlValue]:
    return isinstance(value, str | int | float | list | dict)


def _with_point(text: str, name: str, value: TomlValue) -> str:
    points = tables_of(text).get("points")
    if isinstance(points, dict) and name in points:
        raise CoperError("there is a point of that name", "choose another name",
                         f"points.{dotted(name)}")
    return with_point(text, name, value)
