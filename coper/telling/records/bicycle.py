"""A bicycle as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from coper.bicycle.bicycle import Bicycle
from coper.bicycle.measures import measure
from coper.frame.tube import Tube


def bicycle_record(bicycle: Bicycle, tubes: Iterable[Tube] = ()) -> dict[str, Any]:
    """Points, axes, what it measures on the ground, and its wheels; ``tubes`` tell the standover.

    What the numbers do not tell is ``None``.
    """
    return {
        "points": {name: list(point) for name, point in bicycle.points.items()},
        "axes": {name: {"at": list(at), "along": list(along)}
                 for name, (at, along) in bicycle.axes.items()},
        "ground": asdict(measure(bicycle, tubes)),
        "wheels": {wheel.name: {"at": list(wheel.at), **asdict(wheel.wheel)}
                   for wheel in bicycle.wheels},
    }
