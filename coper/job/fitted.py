"""What ``[drive]`` says of the fork's inside, brakes, mudguards and rims."""

from __future__ import annotations

from dataclasses import replace

from coper.arrays import Point
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.clearance.fitted import Brake, Crown, Fitted, ForkInside, Guard, Hole
from coper.bicycle.wheel import Wheel
from coper.job.drive import read_pair, read_size
from coper.job.points import NamedPoints
from coper.job.schema import Checker, TomlTable
from coper.units import format_size

CROWN_KEYS = ("under", "length")
GUARD_KEYS = ("width", "gap")
BRAKE_KEYS = ("bolt", "hole", "ahead", "reach", "pad")
FORK_KEYS = ("fork_crown", "fork_blades")
WHEEL_ROOM_KEYS = ("rim_off", "brake", "guard")
"""Of each wheel, after its end's name."""
FITTED_KEYS = (*FORK_KEYS, *(f"{end}_{key}" for end in ("rear", "front")
                             for key in WHEEL_ROOM_KEYS))

MOST_PAD_MM = 20.0
"""No rim is deep enough for a pad further from its bead seat circle: it would be on the spokes or
the tyre, and the number is one from the axle or the bolt."""

ON_ONE_WHEEL = ("rim_off", "brake")
"""What is only measured of a wheel in the middle plane."""


def read_fitted(
    check: Checker, drive: Drive, table: TomlTable, points: NamedPoints
) -> Drive:
    """The drive with what else the table ``[drive]`` says; a bolt may stand on a point."""
    fork = ForkInside(_crown(check, table, points.bicycle),
                      read_size(check, table, "fork_blades"))
    if not points.broken:
        _check_known(check, table, points.bicycle)
    rear, front = (_fitted(check, table, end, points) for end in ("rear", "front"))
    return replace(drive, rear=rear, front=front, fork=fork)


def _check_known(check: Checker, table: TomlTable, bicycle: Bicycle) -> None:
    """Note what there is no wheel or fork for."""
    for key in (key for key in FITTED_KEYS if key in table):
        end, _, part = key.partition("_")
        standing = bicycle.standing("front" if end == "fork" else end)
        if not standing:
            wheel = "rear wheel" if end == "rear" else "front wheel in a fork"
            check.faults.add(f"drive.{key}", f"the bicycle's numbers give no {wheel}",
                             f"give it in [bicycle], or take out {key}")
        elif len(standing) > 1 and part in ON_ONE_WHEEL:
            check.faults.add(f"drive.{key}", "there are two rear wheels, and it is not known of "
                             "which", f"take out {key}")


def _fitted(check: Checker, table: TomlTable, end: str, points: NamedPoints) -> Fitted:
    wheel = next((one.wheel for one in points.bicycle.standing(end)), None)
    off = f"{end}_rim_off"
    return Fitted(_brake(check, table, f"{end}_brake", points),
                  _guard(check, table, f"{end}_guard"),
                  _rim_off(check, table[off], end, wheel) if off in table else None)


def _rim_off(check: Checker, value: object, end: str, wheel: Wheel | None) -> float | None:
    """How far a rim stands beside the middle plane, mm."""
    path = f"drive.{end}_rim_off"
    off = check.length(path, value)
    if off is not None and wheel is not None and abs(off) > wheel.tyre:
        check.faults.add(path, f"the rim is {format_size(abs(off))} beside the middle plane, more "
                         "than the tyre is wide",
                         "give how far the rim's middle is to the left, below 0 to the right")
    return off


def _crown(check: Checker, table: TomlTable, bicycle: Bicycle) -> Crown | None:
    sizes = read_pair(check, table, "fork_crown", CROWN_KEYS)
    fork = bicycle.parts.fork
    if sizes is not None and fork is not None and sizes[0] >= fork.length:
        check.faults.add("drive.fork_crown.under", f"{format_size(sizes[0])} below the crown race "
                         f"is past the axle of a fork {format_size(fork.length)} long",
                         "measure from the crown race down to the crown's underside")
    return None if sizes is None else Crown(*sizes)


def _guard(check: Checker, table: TomlTable, key: str) -> Guard | None:
    sizes = read_pair(check, table, key, GUARD_KEYS)
    return None if sizes is None else Guard(*sizes)


def _brake(check: Checker, table: TomlTable, key: str, points: NamedPoints) -> Brake | None:
    """A brake, its bolt on a point, in the middle of a tube or in the crown's hole."""
    if key not in table:
        return None
    path = f"drive.{key}"
    inner = check.table(path, table[key], BRAKE_KEYS, "{ bolt = …, reach = [47, 57] }")
    if not isinstance(table[key], dict):
        return None
    bolt = _bolt(check, path, inner, points)
    reach = check.needed(path, inner, "reach", "[47, 57]")
    span = None if reach is None else _span(check, f"{path}.reach", reach)
    pad = _pad(check, f"{path}.pad", inner["pad"]) if "pad" in inner else 0.0
    if bolt is None or span is None or pad is None:
        return None
    return Brake(bolt, *span, pad)


def _bolt(
    check: Checker, path: str, table: TomlTable, points: NamedPoints
) -> Point | Hole | None:
    if "ahead" in table and "hole" not in table:
        check.faults.add(f"{path}.ahead", "ahead of which hole", "add hole, or take out ahead")
    if "hole" in table:
        return _hole(check, path, table)
    value = check.needed(path, table, "bolt", '"stay-bridge"')
    return None if value is None else points.bolt(f"{path}.bolt", value)


def _hole(check: Checker, path: str, table: TomlTable) -> Hole | None:
    """The hole through the fork's crown, of the front brake."""
    if "bolt" in table:
        check.faults.add(f"{path}.bolt", "hole already says where it is", "take out hole, or bolt")
    if path != "drive.front_brake":
        check.faults.add(f"{path}.hole", "the hole in the fork's crown is the front brake's",
                         "say bolt, a point or a bridge's name")
    below = check.size(f"{path}.hole", table["hole"])
    ahead = check.length(f"{path}.ahead", table["ahead"]) if "ahead" in table else 0.0
    return None if below is None or ahead is None else Hole(below, ahead)


def _span(check: Checker, path: str, value: object) -> tuple[float, float] | None:
    """The shortest and the longest reach."""
    match check.list_of(path, value, check.size, "the shortest and the longest, [47, 57]"):
        case [least, most] if least <= most:
            return least, most
        case [least, most]:
            check.faults.add(path, f"goes from {format_size(least)} down to {format_size(most)}",
                             "write the shortest first")
        case found:
            if isinstance(value, list) and len(value) != 2 and len(found) == len(value):
                check.faults.add(path, "not two lengths",
                                 "write the shortest and the longest, such as [47, 57]")
    return None


def _pad(check: Checker, path: str, value: object) -> float | None:
    """How far the middle of the pads is inside the bead seat circle, mm."""
    pad = check.length(path, value)
    if pad is not None and abs(pad) > MOST_PAD_MM:
        check.faults.add(path, f"{format_size(pad)} inside the bead seat circle is off any rim",
                         f"give {format_size(MOST_PAD_MM)} at most, below 0 where it is outside")
    return pad
