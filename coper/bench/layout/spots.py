"""The marks on the table: points that stand above each other share one."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.bench.layout.blocks import BlockSet, Stack
from coper.frame.tube import Side

SAME_MARK_MM = 0.01
"""Points whose marks are nearer than this are marked once: lengths are given to as much."""

_ENDINGS: dict[Side, str] = {"left": "-left", "right": "-right"}


@dataclass(frozen=True, slots=True)
class Height:
    """A height above the table, and the blocks that make it; no stack where none are known."""

    mm: float
    stack: Stack | None = None


@dataclass(frozen=True, slots=True)
class TablePoint:
    """A point of the frame over its mark.

    Attributes
    ----------
    name : str
    base : str
        The name without its side, which a point shares with its twin.
    given : bool
        Whether the job names it; else it is an end of a tube.
    height : Height
    """

    name: str
    base: str
    given: bool
    height: Height


@dataclass(frozen=True, slots=True)
class PointMark:
    """A mark on the table.

    Attributes
    ----------
    number : int
        From 1.
    at : (from the left end, from the front edge), mm
    points : tuple of TablePoint
        Those that stand over it, named ones before tubes' ends.
    """

    number: int
    at: tuple[float, float]
    points: tuple[TablePoint, ...]

    @property
    def label(self) -> str:
        """Number and first name, for the drawing."""
        return f"{self.number} {self.points[0].base}"


@dataclass(frozen=True, slots=True, eq=False)
class Named:
    """A point before it is marked: ``at`` (3,) is from the left end, from the edge, height; mm."""

    name: str
    base: str
    given: bool
    at: Floats


def given_point(name: str, at: Floats, names: Collection[str] = ()) -> Named:
    """A point that the job names; it shares a name with its twin where ``names`` hold both."""
    bases = {name.removesuffix(end) for end in _ENDINGS.values() if name.endswith(end)}
    twin = next((base for base in bases
                 if all(f"{base}{end}" in names for end in _ENDINGS.values())), name)
    return Named(name, twin, True, at)


def mark_spots(points: Iterable[Named], blocks: BlockSet | None) -> tuple[PointMark, ...]:
    """The marks in the order in which their first points came."""
    groups: list[list[Named]] = []
    cells: dict[tuple[int, int], list[Named]] = {}
    for point in points:
        group = _group_at(cells, point)
        if group is None:
            group = []
            groups.append(group)
            cells[_cell(point.at)] = group
        group.append(point)
    return tuple(_spot(number, group, blocks) for number, group in enumerate(groups, 1))


def _cell(at: Floats) -> tuple[int, int]:
    x, y = np.floor(at[:2] / SAME_MARK_MM).astype(int).tolist()
    return x, y


def _group_at(cells: dict[tuple[int, int], list[Named]], point: Named) -> list[Named] | None:
    """The points already marked where this one's mark comes; only neighbouring cells are tried."""
    x, y = _cell(point.at)
    for cell in ((x + dx, y + dy) for dx in (0, -1, 1) for dy in (0, -1, 1)):
        group = cells.get(cell)
        if group and np.hypot(*(group[0].at - point.at)[:2]) < SAME_MARK_MM:
            return group
    return None


def _spot(number: int, group: list[Named], blocks: BlockSet | None) -> PointMark:
    at = group[0].at
    ordered = sorted(group, key=lambda point: not point.given)
    return PointMark(number, (float(at[0]), float(at[1])), tuple(
        TablePoint(point.name, point.base, point.given, make_height(float(point.at[2]), blocks))
        for point in ordered))


def make_height(mm: float, blocks: BlockSet | None) -> Height:
    """A height with its stack; what rounding puts under the table stands on it."""
    mm = max(mm, 0.0)
    return Height(mm, None if blocks is None else blocks.stack(mm))
