"""The corners of a tube that is straight, bent, straight, and the radius at each."""

from __future__ import annotations

from coper.arrays import Point
from coper.job.points import NamedPoints
from coper.job.schema import Checker, TomlTable

EXAMPLE_CORNERS = '["left-top", "right-top"]'
EXAMPLE_BEND = '"4-1/2in"'

Bending = tuple[tuple[Point, ...], tuple[float, ...]]
"""Corners, and the radius in mm of the centreline at each."""


def read_corners(
    check: Checker, path: str, table: TomlTable, points: NamedPoints
) -> Bending | None:
    """Corners and radii of the tube at ``path``, none of a straight one; ``None`` with a fault."""
    if "corners" not in table:
        if "bend" not in table:
            return (), ()
        check.faults.add(f"{path}.bend", "without corners nothing is bent",
                         f"add corners = {EXAMPLE_CORNERS}, or take out bend")
        return None
    corners = _corners(check, f"{path}.corners", table["corners"], points)
    bend = check.needed(path, table, "bend", EXAMPLE_BEND)
    if corners is None or bend is None:
        return None
    radii = _radii(check, f"{path}.bend", bend, len(corners))
    return None if radii is None else (corners, radii)


def _corners(
    check: Checker, path: str, value: object, points: NamedPoints
) -> tuple[Point, ...] | None:
    found = check.list_of(path, value, points.read, EXAMPLE_CORNERS)
    if value == []:
        check.faults.add(path, "lists no corner", "leave corners out where the tube is straight")
    if not isinstance(value, list) or not value or len(found) < len(value):
        return None
    return found


def _radii(
    check: Checker, path: str, value: object, corners: int
) -> tuple[float, ...] | None:
    """One radius for all corners, or one each."""
    if not isinstance(value, list):
        radius = check.size(path, value)
        return None if radius is None else (radius,) * corners
    radii = check.list_of(path, value, check.size, EXAMPLE_BEND)
    if len(value) != corners:
        check.faults.add(path, f"{len(value)} for {corners} corner{'s' if corners != 1 else ''}",
                         "give one radius, or one for each corner")
        return None
    return radii if len(radii) == corners else None


def read_stretch(check: Checker, shop: TomlTable) -> float:
    """What a bend of 90 degrees comes out longer than its centreline, mm; below 0 shorter."""
    if "stretch" not in shop:
        return 0.0
    return check.length("shop.stretch", shop["stretch"]) or 0.0
