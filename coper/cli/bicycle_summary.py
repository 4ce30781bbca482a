"""What a person reads on the terminal after ``coper bicycle``."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict

from coper.bicycle.bicycle import Bicycle, Point
from coper.bicycle.change import Change
from coper.bicycle.wheel import Wheel
from coper.shapes.checks import plain
from coper.telling.words.bicycle import ANGLES, ROWS, measure_words
from coper.units import format_angle, format_length, format_mm
from coper.work.bicycle import BicycleWork, differences

NOT_TOLD = "not told"
MOVED_MM = 1e-6
"""A point that moved by less stays: the accuracy that coper promises."""


def bicycle_summary(work: BicycleWork) -> Iterator[str]:
    """The lines of the summary: what it measures, or before and after, then its points."""
    yield work.order.job.title or "a bicycle"
    yield from _wheels(work.bicycle)
    if work.order.change is None or work.changed is None or work.after is None:
        yield from _measures(work)
        yield from _points("points, x y z in mm:", work.bicycle.points)
        yield from _axes(work.bicycle)
        return
    yield f"  change       {_change_words(work.order.change)}"
    yield from _compared(work)
    moved = _moved(work.bicycle, work.changed)
    yield from _points("points that move, x y z in mm:", moved)


def _wheels(bicycle: Bicycle) -> Iterator[str]:
    for standing in bicycle.wheels:
        yield f"  {standing.name + ' wheel':<12} {_wheel_words(standing.wheel)}"
    if bicycle.ground is None:
        yield "  no rear wheel, so no ground: add rear_wheel to see how it stands"
    elif len(bicycle.wheels) == 1:
        yield "  no front wheel: the ground is taken level with the frame's axes"


def _wheel_words(wheel: Wheel) -> str:
    size = f"{wheel.size}, " if wheel.size else ""
    return f"{size}radius {format_length(wheel.radius)}, tyre {plain(wheel.tyre)} mm wide"


def _measures(work: BicycleWork) -> Iterator[str]:
    for words, told in measure_words(work.before):
        yield f"  {words:<26} {told}"


def _compared(work: BicycleWork) -> Iterator[str]:
    """The measures before and after; those that neither knows are left out."""
    if work.after is None:
        return
    old, new, added = asdict(work.before), asdict(work.after), differences(work.before, work.after)
    yield f"  {'':<26} {'before':>12} {'after':>12} {'difference':>12}"
    for name, words in ROWS:
        if old[name] is not None or new[name] is not None:
            yield (f"  {words:<26} {_cell(name, old[name]):>12} {_cell(name, new[name]):>12} "
                   f"{_cell(name, added[name], signed=True):>12}")


def _cell(name: str, value: float | None, signed: bool = False) -> str:
    if value is None:
        return NOT_TOLD
    told = f"{format_angle(value)}" if name in ANGLES else format_mm(value)
    zero = told in (format_angle(0.0), format_mm(0.0))
    return f"+{told}" if signed and value > 0 and not zero else told


def _change_words(change: Change) -> str:
    words = []
    for name in change.asked:
        value = getattr(change, name)
        said = (_wheel_words(value) if isinstance(value, Wheel) else
                format_angle(value) if name in ANGLES else format_length(value))
        words.append(f"{name.replace('_', ' ')} {said}")
    return "; ".join(words)


def _moved(before: Bicycle, after: Bicycle) -> dict[str, Point]:
    """The points of ``after`` that stand elsewhere than before."""
    return {name: point for name, point in after.points.items()
            if any(abs(one - other) > MOVED_MM
                   for one, other in zip(point, before.points[name], strict=True))}


def _points(head: str, points: dict[str, Point]) -> Iterator[str]:
    if not points:
        return
    yield f"  {head}"
    for name, point in points.items():
        yield f"    {name:<17}" + "".join(f"{format_mm(part)[:-3]:>10}" for part in point)


def _axes(bicycle: Bicycle) -> Iterator[str]:
    if bicycle.axes:
        yield "  axes, from a point upward:"
    for name, (at, along) in bicycle.axes.items():
        start = ", ".join(format_mm(part)[:-3] for part in at)
        yield f"    {name:<17} from [{start}], {plain(along[0])} {plain(along[2])} in x and z a mm"
