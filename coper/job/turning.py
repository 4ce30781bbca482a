"""The keys of a tube that say which way it lies: its turn, or what a person would see."""

from __future__ import annotations

from functools import partial
from typing import TypeAlias

import numpy as np

from coper.arrays import Floats, Point
from coper.errors import ShapeError
from coper.frame.standing import WAYS, turn_through, turn_to_bulge, turn_to_stand
from coper.job.points import NamedPoints
from coper.job.schema import Checker, TomlTable
from coper.shapes.read import Shape
from coper.tolerances import TOUCH_MM

TURN_KEYS = ("turn", "tall", "bulge", "through")
"""Of these a tube has one at most."""

Course: TypeAlias = tuple[Point, ...]
"""A tube's start point, its corners and its end point."""


def read_turn(
    check: Checker, path: str, table: TomlTable, points: NamedPoints, shape: Shape | None,
    course: Course,
) -> float | None:
    """The turn in degrees of the tube at ``path``; ``None`` with a fault.

    ``course`` has fewer than two points where one of them has a fault.
    """
    said = [key for key in TURN_KEYS if key in table]
    for key in said[1:]:
        check.faults.add(f"{path}.{key}", f"{said[0]} already says which way it lies",
                         f"take out {said[0]}, or {key}")
    if not said:
        return 0.0
    key, where = said[0], f"{path}.{said[0]}"
    if key == "turn":
        return check.angle(where, table[key])
    value = _read(check, where, key, table[key], points)
    if value is None or shape is None or len(course) < 2:
        return None
    return check.faults.caught(where, partial(_turn, key, value, shape, np.array(course)))


def _read(
    check: Checker, path: str, key: str, value: object, points: NamedPoints
) -> float | Point | None:
    """What a key says: a length in mm, a direction or a point."""
    if key == "tall":
        return check.size(path, value)
    if key == "through":
        return points.read(path, value)
    if isinstance(value, list):
        return check.vector(path, value)
    if not isinstance(value, str):
        check.faults.add(path, "neither a word nor a direction",
                         f"write [x, y, z] or one of {', '.join(WAYS)}")
        return None
    word = check.choice(path, value, tuple(WAYS))
    return None if word is None else WAYS[word]


def _turn(key: str, value: float | Point, shape: Shape, course: Floats) -> float:
    """The turn of a tube along ``course`` (k, 3), mm."""
    run = course[1] - course[0]
    length = float(np.linalg.norm(run))
    if length <= TOUCH_MM:
        return 0.0  # no tube: it is refused when it is placed
    if isinstance(value, float):
        return turn_to_stand(shape, run / length, value)
    if len(course) > 2:
        raise ShapeError("the corners say where the tube is bent", f"take out {key}")
    if key == "bulge":
        return turn_to_bulge(shape, run / length, np.array(value))
    return turn_through(shape, course[0], course[1], np.array(value))
