"""The bicycle of a job: its measured numbers, read, checked against each other and solved."""

from __future__ import annotations

from typing import Any, Final

from coper.bicycle.bicycle import Bicycle, check_lean, make_bicycle
from coper.bicycle.ground import Flat
from coper.bicycle.measured import KEYS, Measured, missing
from coper.bicycle.solve import contradictions, solve
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.errors import CoperError
from coper.job.schema import Checker

ANGLES: Final = ("seat_angle", "head_angle")
WHEELS: Final = ("rear_wheel", "front_wheel")
SIGNED: Final = ("drop", "reach", "rake")
"""Lengths that may be 0 or below: a bracket above the axles, a fork that bends back."""

WHEEL_KEYS: Final = ("radius", "tyre")


def read_bicycle(check: Checker, value: object) -> tuple[Measured, Bicycle | None]:
    """What was measured, by the table ``value``, and the bicycle that it gives.

    There is no bicycle where anything is wrong with it, all noted.
    """
    table = check.table("bicycle", value, KEYS)
    before = len(check.faults.found)
    values: dict[str, Any] = {key: _read(check, key, table[key]) for key in KEYS if key in table}
    measured = Measured(**values)  # each of its key's kind, or None with the fault noted
    if len(check.faults.found) > before or not isinstance(value, dict):
        return measured, None
    return measured, _solved(check, measured)


def _read(check: Checker, key: str, value: object) -> float | Wheel | Flat | None:
    """The value of one key, of its kind."""
    path = f"bicycle.{key}"
    if key in WHEELS:
        return _wheel(check, path, value)
    if key == "head_bottom":
        return _flat(check, path, value)
    if key in ANGLES:
        angle = check.angle(path, value)
        return None if angle is None else check.faults.caught(path, lambda: check_lean(angle))
    if key in SIGNED:
        return check.length(path, value)
    return _not_below(check, path, value) if key == "lower_stack" else check.size(path, value)


def _not_below(check: Checker, path: str, value: object) -> float | None:
    """A length of 0 or more, mm."""
    length = check.length(path, value)
    if length is None or length >= 0:
        return length
    check.faults.add(path, "below 0", "give 0 where nothing is between crown race and head tube")
    return None


def _wheel(check: Checker, path: str, value: object) -> Wheel | None:
    """A tyre's size, or a measured radius and the tyre's width."""
    if isinstance(value, str):
        return check.faults.caught(path, lambda: parse_wheel(value))
    if not isinstance(value, dict):
        check.faults.add(path, "neither a tyre's size nor a measured wheel",
                         'write "47-507", or { radius = 300, tyre = 47 }')
        return None
    table = check.table(path, value, WHEEL_KEYS)
    sizes = [None if (size := check.needed(path, table, key, example)) is None
             else check.size(f"{path}.{key}", size)
             for key, example in (("radius", "300"), ("tyre", "47"))]
    match sizes:
        case [float(radius), float(tyre)]:
            return check.faults.caught(path, lambda: Wheel(radius, tyre))
    return None


def _flat(check: Checker, path: str, value: object) -> Flat | None:
    """Two lengths, x and z."""
    if not isinstance(value, list) or len(value) != 2:
        check.faults.add(path, "not a point in side view", "write [x, z]")
        return None
    match [check.length(f"{path}[{index}]", part) for index, part in enumerate(value)]:
        case [float(x), float(z)]:
            return x, z
    return None


def _solved(check: Checker, measured: Measured) -> Bicycle | None:
    """The bicycle, or what is missing, cannot be or contradicts itself."""
    wrong = list(missing(measured))
    bicycle = None
    if not wrong:
        try:
            bicycle = make_bicycle(solve(measured))
            wrong = list(contradictions(measured, bicycle))
        except CoperError as error:
            wrong = [error]
    for one in wrong:
        check.faults.add(f"bicycle.{one.where}" if one.where else "bicycle", one.fault, one.cure)
    return None if wrong else bicycle
