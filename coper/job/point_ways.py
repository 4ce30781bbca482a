"""A place of the frame in each way that a job says a point: by numbers, from another, on a tube."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

from coper.arrays import Point
from coper.bicycle.standing import StandingWheel
from coper.frame.tube import leaning_side
from coper.job.axis import StraightAxis, axis_between
from coper.job.job import Job, TubePlan
from coper.job.points import WHEELS
from coper.job.references import references
from coper.job.schema import TomlTable
from coper.job.toml_value import TomlValue, length_value
from coper.shapes.bent import Bent
from coper.tolerances import OVERRUN_MM

Way = Literal["numbers", "from", "by", "height", "clear_of"]
"""How a point is said: three numbers, a step from another point, or one of three places on an axis
(:data:`coper.job.points.PLACES`)."""

OnTube: TypeAlias = tuple[str, str]
"""An axis: its name, and of a twin the side that it is on, else empty."""

NO_PLACE: Final = frozenset(("on", "mitre", "corners", "through"))
"""Keys of a tube that name others and move neither of its two points."""

KEPT_MM: Final = 10 * OVERRUN_MM
"""Two places nearer than that are the same place at a bench."""


@dataclass(frozen=True, slots=True)
class Around:
    """What a point of a job may be measured from.

    Attributes
    ----------
    unit : str
        Of the job's bare numbers.
    points : dict of name to (x, y, z), mm
    axes : dict of OnTube to StraightAxis
        Of straight tubes, of both twins, and of the bicycle.
    wheels : dict of name to StandingWheel
        By the name that ``clear_of`` takes.
    """

    unit: str = "mm"
    points: Mapping[str, Point] = field(default_factory=dict)
    axes: Mapping[OnTube, StraightAxis] = field(default_factory=dict)
    wheels: Mapping[str, StandingWheel] = field(default_factory=dict)

    def nearest_point(self, place: Point) -> str:
        """The name of the point that a place is next to; empty where there is none."""
        return min(self.points, key=lambda name: math.dist(self.points[name], place), default="")

    def nearest_axis(self, place: Point) -> OnTube | None:
        """The axis, as far as its tube reaches, that a place is next to."""
        return min(self.axes, key=lambda one: _off(self.axes[one], place), default=None)


def around(job: Job, table: TomlTable, point: str = "") -> Around:
    """What ``point`` of a job may be measured from: nothing that is measured from it itself.

    Parameters
    ----------
    job
        The job.
    table
        What it was read from.
    point
        A point of it; empty for one that is not there yet.
    """
    leaning = set(leaning_on(table, point)) if point else set()
    bicycle = job.bicycle
    axes = {} if bicycle is None else {
        (name, ""): StraightAxis(*axis) for name, axis in bicycle.axes.items()}
    for plan in job.tubes:
        if ("tubes", plan.name) not in leaning:
            axes |= _tube_axes(plan)
    wheels = {} if bicycle is None else {
        name: wheel for name, end in WHEELS.items()
        for wheel in reversed(bicycle.wheels) if wheel.end == end}
    return Around(job.units, {name: place for name, place in job.named_points.items()
                              if ("points", name) not in leaning}, axes, wheels)


def leaning_on(table: TomlTable, point: str) -> Iterator[tuple[str, str]]:
    """A point, and every point and tube whose place follows from it: (table, name)."""
    users: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for one in references(table):
        where, name, *keys = map(str, one.path)
        if where in ("points", "tubes") and NO_PLACE.isdisjoint(keys):
            users.setdefault((one.named, one.name), []).append((where, name))
    waiting, seen = [("points", point)], set[tuple[str, str]]()
    while waiting:
        now = waiting.pop()
        if now not in seen:
            seen.add(now)
            yield now
            waiting += users.get(now, ())


def _tube_axes(plan: TubePlan) -> dict[OnTube, StraightAxis]:
    """The axis of a straight tube, and that of its twin."""
    start, end = plan.start.at, plan.end.at
    if plan.corners or isinstance(plan.shape, Bent):
        return {}
    axis, over = axis_between(start, end), axis_between(_mirrored(start), _mirrored(end))
    if axis is None or over is None:
        return {}
    if not plan.mirror:
        return {(plan.name, ""): axis}
    own, other = (over, axis) if leaning_side(start, end) == "right" else (axis, over)
    return {(plan.name, "left"): own, (plan.name, "right"): other}


def _mirrored(place: Point) -> Point:
    x, y, z = place
    return x, -y, z


def along_to(axis: StraightAxis, place: Point) -> float:
    """How far along an axis, mm, it is nearest to a place."""
    return sum((to - start) * way for to, start, way in
               zip(place, axis.start, axis.way, strict=True))


def gap_to(wheel: StandingWheel, place: Point) -> float:
    """How far a place is off a wheel's tread, mm, seen from the side."""
    return math.hypot(place[0] - wheel.at[0], place[2] - wheel.at[2]) - wheel.wheel.radius


def number(mm: float, unit: str) -> float | int | str:
    """A length as a job has it, to a thousandth of a mm."""
    return length_value(mm, unit, OVERRUN_MM)


def numbers(place: Point, unit: str) -> list[TomlValue]:
    """A place as three numbers of a job, or as a step."""
    return [number(one, unit) for one in place]


def step_from(start: Point, place: Point) -> Point:
    """How far a place is from another along each axis, mm."""
    (x, y, z), (x0, y0, z0) = place, start
    return x - x0, y - y0, z - z0


def _off(axis: StraightAxis, place: Point) -> float:
    """How far a place is off an axis as long as its tube, mm."""
    along = along_to(axis, place)
    if axis.length is not None:
        along = min(max(along, 0.0), axis.length)
    return math.dist(axis.at(along), place)
