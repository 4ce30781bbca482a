"""The points of a job: three numbers, a name, a step from another point or along an axis."""

from __future__ import annotations

from coper.arrays import Point
from coper.bicycle.bicycle import AXIS_NEEDS, POINT_NEEDS, Axis, Bicycle
from coper.job.faults import dotted
from coper.job.schema import Checker, TomlTable

POINT_KEYS = ("from", "by", "along")

LONGEST_CHAIN = 100
"""Steps from point to point, each written before the one that it starts from."""


class NamedPoints:
    """Named points, each worked out once; a name that leads back to itself is noted.

    The bicycle's own points may be named like those of the table.

    Attributes
    ----------
    known : dict of name to (x, y, z) in mm, or ``None`` where a point has a fault
        Those of the table.
    broken : bool
        The bicycle has a fault; what its names would be is not known, so they are not missed.
    """

    def __init__(
        self, check: Checker, table: TomlTable, bicycle: Bicycle | None = None, broken: bool = False
    ) -> None:
        self.check = check
        self.table = table
        self.bicycle = Bicycle() if bicycle is None else bicycle
        self.broken = broken
        self.known: dict[str, Point | None] = {}
        self.open: list[str] = []
        for name in table:
            check.name(f"points.{dotted(name)}", name)
            if name in self.bicycle.points:
                check.faults.add(f"points.{dotted(name)}", f"[bicycle] already has a point {name}",
                                 "give this one another name, or use that of [bicycle]")
            self._named(name)

    def read(self, path: str, value: object) -> Point | None:
        """The point that ``value`` describes."""
        if isinstance(value, str):
            return self.named(path, value)
        if not isinstance(value, dict):
            return self.check.vector(path, value)
        table = self.check.table(path, value, POINT_KEYS)
        return self._on_axis(path, table) if "along" in table else self._step(path, table)

    def named(self, path: str, name: str) -> Point | None:
        """The point of that name."""
        if name not in self.table:
            return self._of_bicycle(path, name)
        if name in self.open:
            circle = " from ".join((*self.open[self.open.index(name):], name))
            self.check.faults.add(path, f"points go round in a circle: {circle}",
                                  "give one of them as [x, y, z]")
            return None
        if len(self.open) > LONGEST_CHAIN:
            self.check.faults.add(path, f"a chain of over {LONGEST_CHAIN} points",
                                  "give one of them as [x, y, z]")
            return None
        return self._named(name)

    def _of_bicycle(self, path: str, name: str) -> Point | None:
        """A point that the bicycle has; what it has not is noted, with what would give it."""
        if name in self.bicycle.points:
            return self.bicycle.points[name]
        if name in POINT_NEEDS:
            self._not_given(path, name, ", ".join(POINT_NEEDS[name]))
        else:
            self.check.faults.unknown(path, name, (*self.table, *self.bicycle.points),
                                      "add it under [points]")
        return None

    def _not_given(self, path: str, name: str, keys: str) -> None:
        if self.broken:
            return
        cure = f"give {keys} in [bicycle]" if keys else "add a [bicycle]"
        if name in POINT_NEEDS:
            cure += f", or {name} under [points]"
        self.check.faults.add(path, f"the bicycle's numbers do not give {name}", cure)

    def _named(self, name: str) -> Point | None:
        if name not in self.known:
            self.open.append(name)
            self.known[name] = self.read(f"points.{dotted(name)}", self.table[name])
            self.open.pop()
        return self.known[name]

    def _step(self, path: str, table: TomlTable) -> Point | None:
        if not table:
            self.check.faults.add(path, "a point without numbers",
                                  'write [x, y, z] or { from = "…", by = [dx, dy, dz] }')
            return None
        start = by = None
        if (base := self.check.needed(path, table, "from", '"axle"')) is not None:
            start = self.read(f"{path}.from", base)
        if (step := self.check.needed(path, table, "by", "[12, 0, 4]")) is not None:
            by = self.check.vector(f"{path}.by", step)
        if start is None or by is None:
            return None
        return start[0] + by[0], start[1] + by[1], start[2] + by[2]

    def _on_axis(self, path: str, table: TomlTable) -> Point | None:
        """A point up an axis, from where it starts: the bracket or the head tube's lower edge."""
        if "from" in table:
            self.check.faults.add(f"{path}.from", "along already says where the axis starts",
                                  "take out from, or along")
        axis, by = self._axis(f"{path}.along", table["along"]), None
        if (step := self.check.needed(path, table, "by", "405")) is not None:
            by = self.check.length(f"{path}.by", step)
        if axis is None or by is None:
            return None
        (x, y, z), (ux, uy, uz) = axis
        return x + by * ux, y + by * uy, z + by * uz

    def _axis(self, path: str, value: object) -> Axis | None:
        name = self.check.choice(path, value, tuple(AXIS_NEEDS))
        if name is not None and name not in self.bicycle.axes:
            self._not_given(path, name, AXIS_NEEDS[name])
            return None
        return None if name is None else self.bicycle.axes[name]
