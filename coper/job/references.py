"""What of a job's tables names a tube or a point: each place, and the name that stands there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from coper.bicycle.bicycle import POINT_NEEDS
from coper.frame.tube import ENDS
from coper.job.schema import TomlTable
from coper.job.statements import Place

Named = Literal["tubes", "points"]
"""The table that a name is of."""

BRAKES: Final = ("rear_brake", "front_brake")


@dataclass(frozen=True, slots=True)
class Reference:
    """A place in a job where a tube or a point is named.

    Attributes
    ----------
    path : Place
    named : ``tubes`` or ``points``
    name : str
    """

    path: Place
    named: Named
    name: str


def references(table: TomlTable) -> Iterator[Reference]:
    """Every place of a job that names a tube or a point, whether there is one of that name."""
    points, tubes = (_table(table, key) for key in ("points", "tubes"))
    for name, value in points.items():
        yield from _of_point(("points", name), value, tubes)
    for name, value in tubes.items():
        if isinstance(value, dict):
            yield from _of_tube(("tubes", name), value, tubes)
    drive = _table(table, "drive")
    for brake in BRAKES:
        bolt = _table(drive, brake).get("bolt")
        place: Place = ("drive", brake, "bolt")
        if isinstance(bolt, str) and bolt in tubes and not (bolt in points or bolt in POINT_NEEDS):
            yield Reference(place, "tubes", bolt)
        else:
            yield from _of_point(place, bolt, tubes)


def _of_tube(path: Place, tube: TomlTable, tubes: TomlTable) -> Iterator[Reference]:
    for which in ENDS:
        end = _table(tube, which)
        yield from _of_point((*path, which, "at"), end.get("at"), tubes)
        yield from _of_list((*path, which, "on"), end.get("on"))
        if isinstance(mitre := end.get("mitre"), str):
            yield Reference((*path, which, "mitre"), "tubes", mitre)
    corners = tube.get("corners")
    for index, corner in enumerate(corners if isinstance(corners, list) else ()):
        yield from _of_point((*path, "corners", index), corner, tubes)
    yield from _of_point((*path, "through"), tube.get("through"), tubes)


def _of_list(path: Place, value: object) -> Iterator[Reference]:
    for index, name in enumerate(value if isinstance(value, list) else ()):
        if isinstance(name, str):
            yield Reference((*path, index), "tubes", name)


def _of_point(path: Place, value: object, tubes: TomlTable) -> Iterator[Reference]:
    """What a point is measured from: another by its name, or a tube's axis."""
    if isinstance(value, str):
        yield Reference(path, "points", value)
    if isinstance(value, dict):
        yield from _of_point((*path, "from"), value.get("from"), tubes)
        if isinstance(along := value.get("along"), str) and along in tubes:
            yield Reference((*path, "along"), "tubes", along)


def _table(table: TomlTable, key: str) -> TomlTable:
    inner = table.get(key)
    return inner if isinstance(inner, dict) else {}
