"""A joint's results as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from coper.arrays import Floats
from coper.joint.cope import Cope, EdgePoint
from coper.joint.footprint import Footprint
from coper.joint.joint import Joint
from coper.joint.saw.setting import MOST_SIDES, SawSetting
from coper.joint.template import Template
from coper.telling.sizes import sizes_of


def numbers(values: Floats) -> list[float | None]:
    """``values`` (n,), in any unit, as a list; ``None`` for ``nan``."""
    return [None if math.isnan(value) else value for value in values.tolist()]


def shape_record(shape: Any) -> dict[str, Any]:
    """A shape's kind, its words and its sizes in mm."""
    return {"shape": shape.kind, "words": shape.words(), **sizes_of(shape)}


def joint_record(joint: Joint) -> dict[str, Any]:
    """The inputs as they were understood."""
    return {
        "branch": shape_record(joint.branch),
        "main": shape_record(joint.main),
        "angle": joint.angle,
        "offset": joint.offset,
        "turn": joint.turn,
        "main_turn": joint.main_turn,
        "main_at": joint.main_at,
    }


def cope_record(cope: Cope) -> dict[str, Any]:
    """The edge: lists over the same clocks, ``None`` where open."""
    return {
        "clock": cope.clock.tolist(),
        "outer": numbers(cope.outer),
        "inner": numbers(cope.inner),
        "dihedral": numbers(cope.dihedral),
        "main": [None if index < 0 else index for index in cope.main.tolist()],
        "long_point": point_record(cope.long_point),
        "short_point": point_record(cope.short_point),
        "edge_length": cope.edge_length,
        "open": [list(stretch) for stretch in cope.open],
    }


def point_record(point: EdgePoint) -> dict[str, float]:
    """One point of an edge: its clock in degrees, its place along in mm."""
    return {"clock": point.clock, "along": point.along}


def template_record(template: Template) -> dict[str, Any]:
    """The template's cut line, flat."""
    return {
        "x": numbers(np.where(np.isnan(template.y), np.nan, template.x)),
        "y": numbers(template.y),
        "width": template.width,
        "cut": template.cut,
        "stretch": template.stretch,
    }


def footprint_record(footprint: Footprint) -> dict[str, Any]:
    """The footprint on the main."""
    return {"x": numbers(footprint.x), "arc": numbers(footprint.arc)}


def sides_record(sides: int) -> int | None:
    """From how many sides a saw cuts: 1, 2, or ``None`` where not even both would do."""
    return sides if sides <= MOST_SIDES else None


def saw_record(saw: SawSetting) -> dict[str, Any]:
    """The saw's setting; ``rpm`` is that of mild steel."""
    return {
        "diameter": saw.diameter,
        "set_angle": saw.set_angle,
        "offset": saw.offset,
        "centre_beyond_long_point": saw.centre_beyond_long_point,
        "depth_needed": saw.depth_needed,
        "depth": saw.depth,
        "depth_ok": saw.depth_ok,
        "sides": sides_record(saw.sides),
        "covers": saw.covers,
        "rpm": saw.rpm["mild steel"],
        "rpm_by_material": saw.rpm,
        "ok": saw.ok,
    }
