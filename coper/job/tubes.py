"""The tubes of a job: each by itself, then what they say of each other."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from coper.frame.tube import ENDS
from coper.job.corners import read_corners
from coper.job.ends import WAYS, read_end
from coper.job.faults import Faults, dotted
from coper.job.job import TubePlan
from coper.job.points import NamedPoints
from coper.job.schema import Checker, TomlTable
from coper.job.turning import TURN_KEYS, read_turn
from coper.shapes.read import Shape, parse_tube
from coper.shapes.shape import as_branch, as_main
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.shapes.words import tube_words, walled_example
from coper.units import shown

TUBE_KEYS = ("shape", "shape_from", "start", "corners", "bend", "end", *TURN_KEYS, "mirror",
             "existing")

MOST_OF_CIRCLE = 8
"""Tubes of a circle that a message names."""


def read_tubes(check: Checker, table: TomlTable, points: NamedPoints) -> tuple[TubePlan, ...]:
    """Every tube that could be read; what cannot is noted."""
    plans = [_tube(check, name, value, points) for name, value in table.items()]
    return tuple(plan for plan in plans if plan is not None)


def _tube(check: Checker, name: str, value: object, points: NamedPoints) -> TubePlan | None:
    path = f"tubes.{dotted(name)}"
    check.name(path, name)
    table = check.table(path, value, TUBE_KEYS)
    if not isinstance(value, dict):
        return None
    shape = _shape(check, path, table)
    start, end = (read_end(check, name, which, table, points) for which in ENDS)
    mirror = "mirror" in table and check.flag(f"{path}.mirror", table["mirror"])
    existing = "existing" in table and check.flag(f"{path}.existing", table["existing"])
    if existing:
        _check_uncut(check, path, table)
    bent = read_corners(check, path, table, points)
    course = () if start is None or end is None or bent is None else (
        start.at, *bent[0], end.at)
    turn = read_turn(check, path, table, points, shape, course)
    if shape is None or start is None or end is None or turn is None or bent is None:
        return None
    return TubePlan(name, shape, start, end, turn, mirror, existing, *bent,
                    turn_given=any(key in table for key in TURN_KEYS))


def _check_uncut(check: Checker, path: str, table: TomlTable) -> None:
    """A tube that stands already is not cut to seat on another."""
    for which in ("start", "end"):
        end = table.get(which)
        if not isinstance(end, dict):
            continue
        for key in WAYS:
            if key in end:
                check.faults.add(f"{path}.{which}.{key}", "the tube is existing, and never cut",
                                 f"take out {key}, or existing where the tube is still to be made")


def _shape(check: Checker, path: str, table: TomlTable) -> Shape | None:
    value = check.needed(path, table, "shape", '"28.6 x 0.9"')
    if value is None:
        return None
    text = check.text(f"{path}.shape", value, '"28.6 x 0.9"')
    if text is None:
        return None
    shape = check.faults.caught(f"{path}.shape", lambda: parse_tube(text, check.unit))
    if shape is None or "shape_from" not in table:
        return shape
    first_at = check.length(f"{path}.shape_from", table["shape_from"])
    if first_at is None:
        return None
    if not isinstance(shape, Tapered | TaperedOval):
        check.faults.add(f"{path}.shape_from", f"{tube_words(shape)} is the same all along",
                         "take it out, or write a tapered shape")
        return None
    return replace(shape, first_at=first_at)


def check_seats(faults: Faults, plans: tuple[TubePlan, ...], names: Collection[str]) -> None:
    """Check what the tubes say of each other; ``names`` are all of them, those with faults too."""
    by_name = {plan.name: plan for plan in plans}
    for plan in plans:
        path = f"tubes.{dotted(plan.name)}"
        for which, end in (("start", plan.start), ("end", plan.end)):
            for name in end.on:
                _check_main(faults, f"{path}.{which}.on", plan, name, by_name, names)
            if end.mitre:
                _check_partner(faults, f"{path}.{which}.mitre", plan, end.mitre, by_name, names)
        if plan.start.how or plan.end.how:
            _check_branch(faults, f"{path}.shape", plan.shape)
    _check_circles(faults, by_name)


def _check_main(
    faults: Faults, path: str, plan: TubePlan, name: str, by_name: dict[str, TubePlan],
    names: Collection[str],
) -> None:
    if name == plan.name:
        faults.add(path, f"{shown(name)} seats on itself", "name another tube")
    elif name in by_name:
        main = by_name[name].shape
        faults.caught(path, lambda: as_main(main))
    elif name not in names:
        faults.unknown(path, name, (known for known in names if known != plan.name),
                       "give that tube too, under [tubes]")


def _check_partner(
    faults: Faults, path: str, plan: TubePlan, name: str, by_name: dict[str, TubePlan],
    names: Collection[str],
) -> None:
    """What a tube that another is mitred with has to be: it is cut as well."""
    if name == plan.name:
        faults.add(path, f"{shown(name)} is mitred with itself",
                   "name another tube, or write twin = true")
    elif name in by_name:
        _check_branch(faults, path, by_name[name].shape)
        if by_name[name].existing:
            faults.add(path, f"{shown(name)} stands already, and is never cut",
                       f'write on = ["{shown(name)}"], or face')
    elif name not in names:
        faults.unknown(path, name, (known for known in names if known != plan.name),
                       "give that tube too, under [tubes]")


def _check_branch(faults: Faults, path: str, shape: Shape) -> None:
    branch = faults.caught(path, lambda: as_branch(shape))
    if branch is not None and branch.wall is None:
        faults.add(path, f"{tube_words(shape)} has no wall, but its end is to be shaped",
                   f"say its wall thickness, such as {walled_example(shape)}")


def _check_circles(faults: Faults, by_name: dict[str, TubePlan]) -> None:
    """Tubes that seat on each other, reported once per circle; followed without recursion."""
    seats = {name: [on for on in (*plan.start.on, *plan.end.on) if on in by_name and on != name]
             for name, plan in by_name.items()}
    done: set[str] = set()
    for first, mains in seats.items():
        way, places, left = [first], {first: 0}, [iter(mains)]
        while way:
            following = None if way[-1] in done else next(left[-1], None)
            if following is None:
                done.add(way[-1])
                del places[way.pop()]
                left.pop()
            elif following in places:
                faults.add(f"tubes.{dotted(way[-1])}", "tubes seat on each other in a circle: "
                           f"{_circle_words(way, places[following])} on {shown(following)}",
                           "let one of them end plain, or on another tube")
            elif following not in done:
                places[following] = len(way)
                way.append(following)
                left.append(iter(seats[following]))


def _circle_words(way: Sequence[str], start: int) -> str:
    """The tubes of ``way`` from ``start`` on; of many the first ones and the last."""
    names = way[start:start + MOST_OF_CIRCLE]
    if len(way) - start > MOST_OF_CIRCLE:
        names = [*names[:-1], "...", way[-1]]
    return " on ".join(map(shown, names))
