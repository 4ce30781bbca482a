"""The tubes of a job: each by itself, then what they say of each other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from typing import cast

from coper.frame.tube import ENDS, Which
from coper.job.corners import read_corners
from coper.job.faults import Faults, dotted
from coper.job.job import EndPlan, TubePlan
from coper.job.points import NamedPoints
from coper.job.schema import Checker, TomlTable
from coper.joint.template import CUTS, Cut
from coper.shapes.read import Shape, parse_tube
from coper.shapes.shape import as_branch, as_main
from coper.shapes.words import tube_words, walled_example
from coper.units import shown

TUBE_KEYS = ("shape", "start", "corners", "bend", "end", "turn", "mirror", "existing")
END_KEYS = ("at", "on", "cut", "back")

MOST_OF_CIRCLE = 8
"""Tubes of a circle that a message names."""

EXAMPLE_END = "{ at = [0, 0, 0] }"


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
    start, end = (_end(check, name, which, table, points) for which in ENDS)
    turn = check.angle(f"{path}.turn", table["turn"]) if "turn" in table else 0.0
    mirror = "mirror" in table and check.flag(f"{path}.mirror", table["mirror"])
    existing = "existing" in table and check.flag(f"{path}.existing", table["existing"])
    if existing:
        _check_uncut(check, path, table)
    bent = read_corners(check, path, table, points)
    if shape is None or start is None or end is None or turn is None or bent is None:
        return None
    return TubePlan(name, shape, start, end, turn, mirror, existing, *bent)


def _check_uncut(check: Checker, path: str, table: TomlTable) -> None:
    """A tube that stands already is not cut to seat on another."""
    for which in ("start", "end"):
        end = table.get(which)
        if isinstance(end, dict) and "on" in end:
            check.faults.add(f"{path}.{which}.on", "the tube is existing, and never cut",
                             "take out on, or existing where the tube is still to be made")


def _shape(check: Checker, path: str, table: TomlTable) -> Shape | None:
    value = check.needed(path, table, "shape", '"28.6 x 0.9"')
    if value is None:
        return None
    text = check.text(f"{path}.shape", value, '"28.6 x 0.9"')
    if text is None:
        return None
    return check.faults.caught(f"{path}.shape", lambda: parse_tube(text, check.unit))


def _end(
    check: Checker, name: str, which: Which, outer: TomlTable, points: NamedPoints
) -> EndPlan | None:
    tube = f"tubes.{dotted(name)}"
    value = check.needed(tube, outer, which, EXAMPLE_END)
    if value is None:
        return None
    path = f"{tube}.{which}"
    table = check.table(path, value, END_KEYS, EXAMPLE_END)
    if not isinstance(value, dict):
        return None
    at = check.needed(path, table, "at", "[0, 0, 0]")
    point = None if at is None else points.end_point(name, which)
    on = _on(check, f"{path}.on", table)
    cut = check.choice(f"{path}.cut", table["cut"], CUTS) if "cut" in table else "bevelled"
    back = check.length(f"{path}.back", table["back"]) if "back" in table else 0.0
    _check_together(check, path, table, back)
    if point is None or cut is None or back is None:
        return None
    return EndPlan(point, on, cast("Cut", cut), back)


def _on(check: Checker, path: str, table: TomlTable) -> tuple[str, ...]:
    if "on" not in table:
        return ()
    value = table["on"]
    names = check.list_of(path, value, lambda where, item: check.text(where, item, '"shell"'),
                          '["shell"]')
    if value == []:
        check.faults.add(path, "names no tube", "leave it out where the end seats on nothing")
    for name in sorted(name for name, times in Counter(names).items() if times > 1):
        check.faults.add(path, f"names {shown(name)} twice", "name it once")
    return names


def _check_together(check: Checker, path: str, table: TomlTable, back: float | None) -> None:
    """What the keys of one end say together."""
    if "on" in table and "back" in table:
        check.faults.add(f"{path}.back", "the end seats on a tube, which says where it is cut",
                         "take out back, or on")
    elif back is not None and back < 0:
        check.faults.add(f"{path}.back", "below 0", "move the end's point out instead")
    if "cut" in table and "on" not in table:
        check.faults.add(f"{path}.cut", "the end seats on nothing and is cut off plain",
                         'say what it seats on, such as on = ["shell"], or take out cut')


def check_seats(faults: Faults, plans: tuple[TubePlan, ...], names: Collection[str]) -> None:
    """Check what the tubes say of each other; ``names`` are all of them, those with faults too."""
    by_name = {plan.name: plan for plan in plans}
    for plan in plans:
        path = f"tubes.{dotted(plan.name)}"
        for which, end in (("start", plan.start), ("end", plan.end)):
            for name in end.on:
                _check_main(faults, f"{path}.{which}.on", plan, name, by_name, names)
        if plan.start.on or plan.end.on:
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
