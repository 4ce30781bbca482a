"""A bicycle in words: its wheels, measures and points, and what a change does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict

from coper.arrays import Point
from coper.bicycle.before_after import BeforeAfter, Measured
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.change import Change
from coper.bicycle.measures import Measures
from coper.bicycle.wheel import Wheel
from coper.telling.cells import bare
from coper.telling.grid import Grid
from coper.telling.lines import Fact, Line
from coper.units import first_unit, format_angle, format_length, format_short, format_size, plain

ROWS = (
    ("head_angle", "head angle on the ground"),
    ("seat_angle", "seat angle on the ground"),
    ("bracket_height", "bottom bracket height"),
    ("trail", "trail"),
    ("wheelbase", "wheelbase"),
    ("standover", "standover"),
    ("drop", "drop in the frame's axes"),
    ("tilt", "frame tipped, front up"),
)
"""Every measure and its name, the most wanted first."""

ANGLES = ("head_angle", "seat_angle", "tilt")

NOT_KNOWN = "not known"


def measure_words(measures: Measures) -> Iterator[tuple[str, str]]:
    """What is known: the name and value of each measure."""
    known = asdict(measures)
    for name, words in ROWS:
        if known[name] is not None:
            yield words, (format_angle if name in ANGLES else format_length)(known[name])


def bicycle_lines(one: Measured) -> Iterator[Line]:
    """The wheels, the measures, the points and the axes."""
    bicycle = one.bicycle
    yield from _wheel_lines(bicycle)
    if rows := tuple(measure_words(one.measures)):
        yield Grid("measures", ("measure", "as it stands"), rows)
    yield from _point_tables("points", bicycle.points)
    if bicycle.axes:
        yield Grid("axes, upward from a point", ("axis", "from", "direction"), tuple(
            (name, f"[{', '.join(map(_number, at))}]",
             f"x {plain(along[0])}, z {plain(along[2])} per {first_unit()}")
            for name, (at, along) in bicycle.axes.items()))


def change_lines(both: BeforeAfter) -> Iterator[Line]:
    """The wheels, the change, the measures before and after, and the points that move."""
    yield from _wheel_lines(both.before.bicycle)
    yield Fact("change", _change_words(both.change))
    yield compared(both)
    yield from _point_tables("points that move", both.moved)


def _wheel_lines(bicycle: Bicycle) -> Iterator[Line]:
    rear = bicycle.parts.rear
    if rear is not None and rear.wheel is not None and rear.track is not None:
        yield Fact("rear wheels", f"two, {wheel_words(rear.wheel)}, "
                   f"{format_length(rear.track)} from middle to middle")
    for standing in bicycle.wheels:
        if standing.name == standing.end:
            yield Fact(f"{standing.name} wheel", wheel_words(standing.wheel))
    if bicycle.ground is None:
        yield "no rear wheel, so no ground: add rear_wheel to see how the bicycle stands"
    elif not bicycle.standing("front"):
        yield "no front wheel: the ground is taken as level with the frame's axes"


def wheel_words(wheel: Wheel) -> str:
    """A wheel's size, its radius and its tyre."""
    size = f"{wheel.size}, " if wheel.size else ""
    return f"{size}radius {format_length(wheel.radius)}, tyre {format_size(wheel.tyre)} wide"


def _change_words(change: Change) -> str:
    words = []
    for name in change.asked:
        value = getattr(change, name)
        said = (wheel_words(value) if isinstance(value, Wheel) else
                format_angle(value) if name in ANGLES else format_length(value))
        words.append(f"{name.replace('_', ' ')} {said}")
    return "; ".join(words)


def compared(both: BeforeAfter) -> Grid:
    """The measures before and after; those known in neither are left out."""
    old, new = asdict(both.before.measures), asdict(both.after.measures)
    added = both.differences
    rows = tuple(
        (words, _cell(name, old[name]), _cell(name, new[name]),
         _cell(name, added[name], signed=True))
        for name, words in ROWS if old[name] is not None or new[name] is not None)
    return Grid("measures", ("measure", "before", "after", "difference"), rows)


def _cell(name: str, value: float | None, signed: bool = False) -> str:
    if value is None:
        return NOT_KNOWN
    words = format_angle(value) if name in ANGLES else format_short(value)
    zero = words in (format_angle(0.0), format_short(0.0))
    return f"+{words}" if signed and value > 0 and not zero else words


def _point_tables(head: str, points: dict[str, Point]) -> Iterator[Grid]:
    """The points as a table; none where there are none."""
    if points:
        rows = tuple((name, *map(_number, point)) for name, point in points.items())
        yield Grid(head, ("point", *(f"{axis} {first_unit()}" for axis in "xyz")), rows)


def _number(value: float) -> str:
    """A length without its unit."""
    return bare(format_short(value))
