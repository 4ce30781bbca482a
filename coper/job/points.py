"""The points of a job: three numbers, a name, or a step from another point."""

from __future__ import annotations

from coper.job.faults import dotted
from coper.job.schema import Checker, Point, Table

POINT_KEYS = ("from", "by")

LONGEST_CHAIN = 100
"""Steps from point to point, each written before the one that it starts from."""


class Points:
    """Named points, each worked out once; a name that leads back to itself is noted.

    Attributes
    ----------
    known : dict of name to (x, y, z) in mm, or ``None`` where a point has a fault
    """

    def __init__(self, check: Checker, table: Table) -> None:
        self.check = check
        self.table = table
        self.known: dict[str, Point | None] = {}
        self.open: list[str] = []
        for name in table:
            self._named(name)

    def read(self, path: str, value: object) -> Point | None:
        """The point that ``value`` describes."""
        if isinstance(value, str):
            return self.named(path, value)
        if isinstance(value, dict):
            return self._step(path, self.check.table(path, value, POINT_KEYS))
        return self.check.vector(path, value)

    def named(self, path: str, name: str) -> Point | None:
        """The point of that name."""
        if name not in self.table:
            self.check.faults.unknown(path, name, self.table, "add it under [points]")
            return None
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

    def _named(self, name: str) -> Point | None:
        if name not in self.known:
            self.open.append(name)
            self.known[name] = self.read(f"points.{dotted(name)}", self.table[name])
            self.open.pop()
        return self.known[name]

    def _step(self, path: str, table: Table) -> Point | None:
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
