"""The points of a job: three numbers, a name, a step from another point, a place on an axis."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from coper.arrays import Point
from coper.bicycle.bicycle import AXIS_NEEDS, POINT_NEEDS, Bicycle
from coper.bicycle.standing import StandingWheel
from coper.errors import CoperError
from coper.frame.tube import ENDS, Which, leaning_side
from coper.job.axis import StraightAxis, at_height, axis_between, clear_of, half_where_it_begins
from coper.job.faults import dotted
from coper.job.schema import Checker, TomlTable
from coper.shapes.read import parse_tube
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.units import parse_length

POINT_KEYS = ("from", "by", "along", "height", "clear_of", "gap", "side")
PLACES = ("by", "height", "clear_of")
"""What says where on an axis."""

SIDES = ("left", "right")
WHEELS = {"rear-wheel": "rear", "front-wheel": "front"}

LONGEST_CHAIN = 100
"""Steps from point to point, each written before the one that it starts from."""


class NamedPoints:
    """Named points, each worked out once; a name that leads back to itself is noted.

    The bicycle's own points may be named like those of the table.

    Attributes
    ----------
    known : dict of name to (x, y, z) in mm, or ``None`` where a point has a fault
        Those of the table.
    tubes : table
        Those of the job, as they are written: a point may stand on the axis of one.
    broken : bool
        The bicycle has a fault; what its names would be is not known, so they are not missed.
    moved : dict of name to (x, y, z), mm
        By how much points stand elsewhere than is written, and all that are measured from them.
    """

    def __init__(
        self, check: Checker, table: TomlTable, tubes: TomlTable, bicycle: Bicycle | None = None,
        broken: bool = False, moved: Mapping[str, Point] | None = None,
    ) -> None:
        self.check = check
        self.table = table
        self.tubes = tubes
        self.bicycle = Bicycle() if bicycle is None else bicycle
        self.broken = broken
        self.moved = moved or {}
        self.known: dict[str, Point | None] = {}
        self.open: list[str] = []
        for name in table:
            check.name(f"points.{dotted(name)}", name)
            if name in self.bicycle.points:
                check.faults.add(f"points.{dotted(name)}", f"[bicycle] already has a point {name}",
                                 "give this one another name, or use that of [bicycle]")
            self._named(name)

    def read(self, path: str, value: object, half: float = 0.0) -> Point | None:
        """The point that ``value`` describes; of a tube ``half`` mm from axis to skin."""
        if isinstance(value, str):
            return self.named(path, value)
        if not isinstance(value, dict):
            return self.check.vector(path, value)
        table = self.check.table(path, value, POINT_KEYS)
        if "along" in table:
            return self._on_axis(path, table, half)
        for key in (*PLACES[1:], "gap", "side"):
            if key in table:
                self.check.faults.add(f"{path}.{key}", "of which tube or axis", "say it with along")
        return self._step(path, table)

    def named(self, path: str, name: str) -> Point | None:
        """The point of that name."""
        if name not in self.table:
            return self._of_bicycle(path, name)
        return self._named(name) if self._opens(path, name) else None

    def bolt(self, path: str, value: object) -> Point | None:
        """A point, or by its name the middle of a tube; a point of that name comes first."""
        if not isinstance(value, str) or value in self.table or value in POINT_NEEDS:
            return self.read(path, value)
        if value in self.tubes:
            return self._middle(path, value)
        self.check.faults.unknown(path, value, (*self.table, *self.bicycle.points, *self.tubes),
                                  "name a point, or a bridge")
        return None

    def _middle(self, path: str, name: str) -> Point | None:
        """The middle of a straight tube that has no twin, such as a bridge."""
        if self._has_twin(name):
            self.check.faults.add(path, f"there are two of {name}, and none is in the middle",
                                  "name a bridge, or a point")
            return None
        axis = self._tube_axis(path, name, None)
        return None if axis is None or axis.length is None else axis.at(axis.length / 2)

    def _opens(self, path: str, name: str) -> bool:
        """Whether that point, or tube, can be worked out; noted where it leads back to itself."""
        fault = ""
        if name in self.open:
            circle = " from ".join((*self.open[self.open.index(name):], name))
            fault = f"points go round in a circle: {circle}"
        elif len(self.open) > LONGEST_CHAIN:
            fault = f"a chain of over {LONGEST_CHAIN} points"
        if fault:
            self.check.faults.add(path, fault, "give one of them as [x, y, z]")
        return not fault

    def _of_bicycle(self, path: str, name: str) -> Point | None:
        """A point that the bicycle has; what it has not is noted, with what would give it."""
        if name in self.bicycle.points:
            return self._shifted(name, self.bicycle.points[name])
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
            found = self.read(f"points.{dotted(name)}", self.table[name])
            self.known[name] = None if found is None else self._shifted(name, found)
            self.open.pop()
        return self.known[name]

    def _shifted(self, name: str, point: Point) -> Point:
        """The point, where it stands elsewhere than is written."""
        (x, y, z), (dx, dy, dz) = point, self.moved.get(name, (0.0, 0.0, 0.0))
        return x + dx, y + dy, z + dz

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

    def _on_axis(self, path: str, table: TomlTable, half: float) -> Point | None:
        """A point on the axis of a tube, from its start point, or of the bicycle, upward."""
        if "from" in table:
            self.check.faults.add(f"{path}.from", "along already says where the axis starts",
                                  "take out from, or along")
        axis = self._axis(path, table)
        by = self._place(path, table, axis, half)
        return None if axis is None or by is None else axis.at(by)

    def _place(
        self, path: str, table: TomlTable, axis: StraightAxis | None, half: float
    ) -> float | None:
        """How far along, mm, by the one key that says it."""
        said = [key for key in PLACES if key in table] or ["by"]
        if len(said) > 1:
            self.check.faults.add(f"{path}.{said[1]}", f"{said[0]} already says where on the axis",
                                  f"take out {said[0]}, or {said[1]}")
        if "gap" in table and "clear_of" not in table:
            self.check.faults.add(f"{path}.gap", "clear of what", 'add clear_of = "rear-wheel"')
        if "clear_of" in said:
            return self._clear(path, table, axis, half)
        value = self.check.needed(path, table, said[0], "405")
        length = None if value is None else self.check.length(f"{path}.{said[0]}", value)
        if axis is None or length is None or said[0] == "by":
            return length
        return self.check.faults.caught_within(path, lambda: at_height(axis, length))

    def _clear(
        self, path: str, table: TomlTable, axis: StraightAxis | None, half: float
    ) -> float | None:
        """The place that is ``gap`` clear of a wheel."""
        name = self.check.choice(f"{path}.clear_of", table["clear_of"], tuple(WHEELS))
        value = self.check.needed(path, table, "gap", "15")
        gap = None if value is None else self.check.length(f"{path}.gap", value)
        if name is None or gap is None or axis is None:
            return None
        wheel = self._wheel(path, name)
        if wheel is None:
            return None
        return self.check.faults.caught_within(
            path, lambda: clear_of(axis, wheel, gap + half))

    def _wheel(self, path: str, name: str) -> StandingWheel | None:
        for wheel in self.bicycle.wheels:
            if wheel.end == WHEELS[name]:  # of two rear ones either: they are one from the side
                return wheel
        if not self.broken:
            self.check.faults.add(f"{path}.clear_of", f"the bicycle's numbers do not give a {name}",
                                  "give the wheel's size and its axle in [bicycle], or use by")
        return None

    def _axis(self, path: str, table: TomlTable) -> StraightAxis | None:
        """The axis that ``along`` names, on the side that ``side`` says."""
        names = (*AXIS_NEEDS, *self.tubes)
        name = self.check.choice(f"{path}.along", table["along"], names)
        side = self.check.choice(f"{path}.side", table["side"], SIDES) if "side" in table else None
        if name is None:
            return None
        if "side" in table and not self._has_twin(name):
            self._no_side(path, name)
        if name in self.tubes:
            return self._tube_axis(f"{path}.along", name, side)
        if name in self.bicycle.axes:
            return StraightAxis(*self.bicycle.axes[name])
        self._not_given(f"{path}.along", name, AXIS_NEEDS[name])
        return None

    def _has_twin(self, name: str) -> bool:
        tube = self.tubes.get(name)
        return isinstance(tube, dict) and tube.get("mirror") is True

    def _no_side(self, path: str, name: str) -> None:
        self.check.faults.add(f"{path}.side", f"{name} has no twin", "take out side")

    def _tube_axis(self, path: str, name: str, side: str | None) -> StraightAxis | None:
        """The axis of a straight tube; of twins the left one's unless ``side`` is ``right``."""
        tube, mark = self.tubes[name], f"tube {name}"
        if not isinstance(tube, dict) or not self._opens(path, mark):
            return None
        self.open.append(mark)
        start, end = (self.end_point(name, which) for which in ENDS)
        self.open.pop()
        if "corners" in tube or "bent" in str(tube.get("shape", "")):
            self.check.faults.add(path, f"{name} is bent: its axis is not straight",
                                  "give the point as [x, y, z]")
            return None
        if start is None or end is None:
            return None
        if self._has_twin(name) and leaning_side(start, end) not in (side or "left", "centre"):
            start, end = ((x, -y, z) for x, y, z in (start, end))
        return axis_between(start, end)

    def end_point(self, name: str, which: Which) -> Point | None:
        """A tube's own point; ``None`` where it has none, or one with a fault."""
        tube = self.tubes[name]
        end = tube.get(which) if isinstance(tube, dict) else None
        if not isinstance(end, dict) or "at" not in end:
            return None
        return self.read(f"tubes.{dotted(name)}.{which}.at", end["at"], self._half(tube))

    def _half(self, tube: object) -> float:
        """From a tube's axis to its outside, mm; 0 for words with a fault, noted elsewhere."""
        words = tube.get("shape") if isinstance(tube, dict) else None
        if not isinstance(words, str):
            return 0.0
        first_at = tube.get("shape_from") if isinstance(tube, dict) else None
        try:
            shape = parse_tube(words, self.check.unit)
            if first_at is not None and isinstance(shape, Tapered | TaperedOval):
                given = parse_length(str(first_at), self.check.unit)
                shape = replace(shape, first_at=given)
            return half_where_it_begins(shape)
        except CoperError:
            return 0.0
