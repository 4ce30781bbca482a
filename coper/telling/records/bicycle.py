"""A bicycle as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from coper.bicycle.before_after import BeforeAfter, Measured
from coper.bicycle.change import Change


def bicycle_record(one: Measured) -> dict[str, Any]:
    """Points, axes, what it measures on the ground, and its wheels; ``None`` where not known."""
    bicycle = one.bicycle
    return {
        "points": {name: list(point) for name, point in bicycle.points.items()},
        "axes": {name: {"at": list(at), "along": list(along)}
                 for name, (at, along) in bicycle.axes.items()},
        "ground": asdict(one.measures),
        "wheels": {wheel.name: {"at": list(wheel.at), **asdict(wheel.wheel)}
                   for wheel in bicycle.wheels},
    }


def change_record(both: BeforeAfter) -> dict[str, Any]:
    """What was asked for, what it measures before and after, and the bicycle after it."""
    return {
        "asked": asked_record(both.change),
        "before": asdict(both.before.measures),
        "after": asdict(both.after.measures),
        "difference": both.differences,
        "bicycle": bicycle_record(both.after),
    }


def asked_record(change: Change) -> dict[str, Any] | None:
    """What becomes different, by its name; ``None`` where nothing does."""
    asked = asdict(change)
    return {name: asked[name] for name in change.asked} or None
