"""One end of a job's tube: its point, and how it is shaped."""

from __future__ import annotations

from collections import Counter
from typing import cast

from coper.arrays import Point
from coper.frame.tube import Which
from coper.job.faults import dotted
from coper.job.job import EndPlan
from coper.job.points import NamedPoints
from coper.job.schema import Checker, TomlTable
from coper.joint.template import CUTS, Cut
from coper.units import shown

WAYS = ("on", "mitre", "face", "twin")
"""What an end may say of how it is shaped: one of them."""

END_KEYS = ("at", *WAYS, "cut", "back", "cap")

EXAMPLE_END = "{ at = [0, 0, 0] }"


def read_end(
    check: Checker, name: str, which: Which, outer: TomlTable, points: NamedPoints
) -> EndPlan | None:
    """The end ``which`` of the tube ``name``, whose table is ``outer``; faults are noted."""
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
    mitre = check.text(f"{path}.mitre", table["mitre"], '"rail"') if "mitre" in table else ""
    face = _face(check, f"{path}.face", table["face"]) if "face" in table else None
    twin = "twin" in table and check.flag(f"{path}.twin", table["twin"])
    cap = check.size(f"{path}.cap", table["cap"]) if "cap" in table else 0.0
    _check_together(check, path, table, back)
    if twin and not outer.get("mirror"):
        check.faults.add(f"{path}.twin", "the tube has no twin",
                         "add mirror = true to the tube, or name another tube with mitre")
    if point is None or cut is None or back is None or mitre is None or cap is None:
        return None
    return EndPlan(point, on, cast("Cut", cut), back, mitre, face, twin, cap)


def _face(check: Checker, path: str, value: object) -> Point | None:
    """The way that a plane looks."""
    way = check.vector(path, value)
    if way is None or any(way):
        return way
    check.faults.add(path, "0, 0, 0 is no direction", "give the way that the cut looks, such as "
                     "[1, 1, 0]")
    return None


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
    ways = [key for key in WAYS if key in table]
    for key in ways[1:]:
        check.faults.add(f"{path}.{key}", f"the end says {ways[0]} too", f"keep {ways[0]} or {key}")
    if "cap" in table and ways and ways[0] != "face":
        check.faults.add(f"{path}.cap", f"the end says {ways[0]}, and another tube closes it",
                         f"take out cap, or {ways[0]}")
    if "on" in table and "back" in table:
        check.faults.add(f"{path}.back", "the end seats on a tube, which says where it is cut",
                         "take out back, or on")
    elif ways and "back" in table:
        check.faults.add(f"{path}.back", "the end is cut in a plane through its point",
                         f"move the point instead, or take out {ways[0]}")
    elif back is not None and back < 0:
        check.faults.add(f"{path}.back", "below 0", "move the end's point out instead")
    if "cut" in table and "on" not in table:
        check.faults.add(f"{path}.cut", "the end seats on nothing and is cut in one plane",
                         'say what it seats on, such as on = ["shell"], or take out cut')
