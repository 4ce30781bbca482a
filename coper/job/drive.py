"""The ``[drive]`` table of a job: cranks, shoes, chain wheels and the dropout's slot."""

from __future__ import annotations

from coper.bicycle.clearance.chain import FEWEST_TEETH, MOST_TEETH
from coper.bicycle.clearance.drive import Drive, Pedal, ShoeHeel, Sprockets
from coper.bicycle.clearance.slot import Slot
from coper.job.schema import Checker, TomlTable, as_written
from coper.units import format_size, plain

DRIVE_KEYS = ("slot", "slot_angle", "slot_at", "ring", "sprocket", "crank", "crank_inside",
              "heel", "pedal")
NEEDS = (("slot_angle", "slot", "22"), ("slot_at", "slot", "22"), ("ring", "sprocket", "18"),
         ("sprocket", "ring", "44"), ("crank_inside", "crank", "165"), ("heel", "crank", "165"),
         ("pedal", "crank", "165"))
"""A key, the one that it means nothing without, and an example of that."""


def read_drive(check: Checker, table: TomlTable) -> Drive:
    """What the table ``[drive]`` says; every fault is noted at its key."""
    for key, other, example in NEEDS:
        if key in table:
            check.needed("drive", table, other, example)
    heel, pedal = (read_pair(check, table, key, parts) for key, parts in PAIRS.items())
    return Drive(
        _slot(check, table), _sprockets(check, table), read_size(check, table, "crank"),
        read_size(check, table, "crank_inside"), None if heel is None else ShoeHeel(*heel),
        None if pedal is None else Pedal(*pedal))


PAIRS = {"heel": ("back", "out"), "pedal": ("out", "under")}
"""Keys that hold two lengths, by their names."""


def read_size(check: Checker, table: TomlTable, key: str) -> float | None:
    """The length above 0 at ``key``, mm, where it is given."""
    return check.size(f"drive.{key}", table[key]) if key in table else None


def _slot(check: Checker, table: TomlTable) -> Slot | None:
    travel = read_size(check, table, "slot")
    angle = _angle(check, table["slot_angle"]) if "slot_angle" in table else 0.0
    at = check.length("drive.slot_at", table["slot_at"]) if "slot_at" in table else None
    if travel is None or angle is None:
        return None
    if at is None:
        return Slot(travel, angle, travel / 2)
    if not 0 <= at <= travel:
        check.faults.add("drive.slot_at", f"the axle as drawn is {format_size(at)} from the front "
                         f"end of a slot of {format_size(travel)}",
                         f"give 0 to {format_size(travel)}")
    return Slot(travel, angle, at)


def _angle(check: Checker, value: object) -> float | None:
    angle = check.angle("drive.slot_angle", value)
    if angle is not None and abs(angle) > 90:
        check.faults.add("drive.slot_angle", f"{plain(angle)}° goes forward, not to the rear",
                         "give -90 to 90, from the slot's front end to the rear; below 0 is down")
    return angle


def _sprockets(check: Checker, table: TomlTable) -> Sprockets | None:
    ring, sprocket = (_teeth(check, f"drive.{key}", table[key]) if key in table else None
                      for key in ("ring", "sprocket"))
    return None if ring is None or sprocket is None else Sprockets(ring, sprocket)


def _teeth(check: Checker, path: str, value: object) -> int | None:
    """A whole number of teeth."""
    match value:
        case int() if FEWEST_TEETH <= value <= MOST_TEETH:
            return value
    check.faults.add(path, f"{as_written(value)} is not a number of teeth",
                     f"give a whole number, {FEWEST_TEETH} to {MOST_TEETH}")
    return None


def read_pair(
    check: Checker, table: TomlTable, key: str, parts: tuple[str, str]
) -> tuple[float, float] | None:
    """Two lengths above 0 in the table at ``key``, mm, each under its name."""
    if key not in table:
        return None
    path = f"drive.{key}"
    inner = check.table(path, table[key], parts, f"{{ {parts[0]} = …, {parts[1]} = … }}")
    if not isinstance(table[key], dict):
        return None
    values = [check.needed(path, inner, part, "90") for part in parts]
    sizes = [None if value is None else check.size(f"{path}.{part}", value)
             for part, value in zip(parts, values, strict=True)]
    match sizes:
        case [float(one), float(other)]:
            return one, other
    return None
