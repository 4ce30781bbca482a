"""A layout as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from typing import Any

from coper.bench.layout.axis_marks import AxisMarks
from coper.bench.layout.layout import Layout
from coper.bench.layout.lying import Lying
from coper.bench.layout.spots import Height, PointMark


def layout_record(layout: Layout) -> dict[str, Any]:
    """Everything of a layout; places are from the left end and from the front edge, mm."""
    table = layout.table
    return {
        "table": {"lies": table.lies, "origin": [table.left, table.edge],
                  "plane": layout.clear if table.flat else table.plane,
                  "origin_height": table.plane, "width": table.width, "depth": table.depth,
                  "lowest": {"name": layout.lowest[0],
                             "z" if table.flat else "y": layout.lowest[1]}},
        "points": [record for spot in layout.spots for record in _points(spot)],
        "tubes": [_tube(tube) for tube in layout.tubes],
        "axes": [_axis(axis) for axis in layout.axes],
        "diagonals": [{"from": one.one, "to": one.other, "length": one.length}
                      for one in layout.diagonals],
        "wheels": [{"name": wheel.name, "at": list(wheel.at), "radius": wheel.radius,
                    "height": wheel.height}
                   for wheel in layout.wheels],
        "drops": [{"name": drop.name, "rise": drop.rise, "blocks": _blocks(drop.height)}
                  for drop in layout.drops],
        "cautions": list(layout.cautions),
    }


def _points(spot: PointMark) -> list[dict[str, Any]]:
    return [{"mark": spot.number, "name": point.name, "from_left": spot.at[0],
             "from_edge": spot.at[1], "height": point.height.mm, "blocks": _blocks(point.height)}
            for point in spot.points]


def _tube(tube: Lying) -> dict[str, Any]:
    return {
        "name": tube.name,
        "angle": tube.angle,
        "finder": tube.finder,
        "leans": tube.leans or None,
        "length": tube.length,
        "flat": tube.flat,
        "climb": tube.climb,
        "supports": [{"end": one.which, "along": one.along, "at": list(one.at),
                      "beside": list(one.beside),
                      "centre": one.centre, "gap": one.gap.mm, "blocks": _blocks(one.gap)}
                     for one in tube.supports],
    }


def _axis(axis: AxisMarks) -> dict[str, Any]:
    return {"key": axis.key, "names": list(axis.names),
            "marks": [{"line": mark.line, "distance": mark.distance, "at": list(mark.at)}
                      for mark in axis.marks]}


def _blocks(height: Height) -> dict[str, Any] | None:
    """The stack of a height; ``None`` where the shop's blocks are not known."""
    stack = height.stack
    return None if stack is None else {"sizes": list(stack.blocks), "shim": stack.shim}
