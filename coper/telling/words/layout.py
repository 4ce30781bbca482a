"""A layout as tables of words, the same on the terminal and on paper."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bench.layout.axis_marks import AxisMark, AxisMarks
from coper.bench.layout.layout import Drop, Layout
from coper.bench.layout.lying import Lying, Support
from coper.bench.layout.spots import Height, PointMark
from coper.telling.cells import length_cells, length_heads, short_cell
from coper.telling.grid import Cells, Grid
from coper.telling.lines import Caution, Line
from coper.telling.words.blocks import stack_words
from coper.tolerances import SQUARE_DEG
from coper.units import (
    first_unit,
    format_angle,
    format_length,
    format_number,
    format_short,
    format_size,
)

INCH_STEP = 32
"""Parts of an inch that a tape on the table is read to."""

HEIGHT_PLACES = 2
"""Heights that agree to this many decimals of a mm share one stack."""

BESIDE_MM = 0.05
"""A lowest point that is less beside the axis is below it: a tape reads no finer."""

LEFT, FRONT = "from left", "from front"
"""Heads of the columns that give a place on the table."""

WHERE = "From left: from the left end of the table. From front: from its front edge."
"""What those heads mean."""


def length_words(mm: float) -> str:
    """A length on the table: ``412.00 mm (16-7/32 in)``."""
    return format_length(mm, INCH_STEP)


def lies_lines(layout: Layout) -> Iterator[str]:
    """Which way round the frame lies, and how high, in sentences."""
    table = layout.table
    if table.flat:
        yield "The frame lies flat: its front to the right, its left side away from you."
        where = "above the table" if table.plane >= 0 else "below the top of the table"
        yield f"Its origin, z = 0, is {length_words(abs(table.plane))} {where}."
    else:
        yield "The frame lies on its right side: its front to the left, its top away from you."
        yield f"Its middle plane is {length_words(table.plane)} above the table."


def table_lines(layout: Layout) -> Iterator[str]:
    """How the frame lies and where, in sentences."""
    table, name = layout.table, layout.lowest[0]
    yield from lies_lines(layout)
    yield (f"Its origin stands {length_words(table.left)} from the left end and "
           f"{length_words(table.edge)} from the front edge.")
    yield f"The lowest part is {name}, {length_words(layout.clear)} above the table."
    yield (f"The drawing covers {format_number(table.width)} by {format_size(table.depth)}: "
           f"the far line is {length_words(table.depth)} from the front edge, the right line "
           f"{length_words(table.width)} from the left end.")


def layout_lines(layout: Layout, has_blocks: bool) -> Iterator[Line]:
    """How the frame lies, then the tables; ``has_blocks`` where the shop has set-up blocks."""
    yield from table_lines(layout)
    yield from layout_grids(layout)
    if not has_blocks:
        yield "No stacks: list the shop's set-up blocks in [shop], as blocks."
    yield from map(Caution, layout.cautions)


def layout_grids(layout: Layout) -> tuple[Grid, ...]:
    """Every table that has something in it."""
    grids = (_points(layout), _tubes(layout), _supports(layout), _axes(layout),
             _diagonals(layout), _wheels(layout), _drops(layout), _heights(layout))
    return tuple(grid for grid in grids if grid.rows)


def _pair(mm: float) -> Cells:
    """A length as two cells: in the order's unit and in inches."""
    return length_cells(mm, INCH_STEP)


def _heads(what: str) -> Cells:
    """What stands over a pair."""
    return length_heads(f"{what},", INCH_STEP)


def _points(layout: Layout) -> Grid:
    rows = [row for spot in layout.spots for row in _spot_rows(spot)]
    return Grid("Points", ("mark", *_heads(LEFT), *_heads(FRONT), *_heads("height"), "point"),
                tuple(rows), f"{WHERE} Points one above the other share a mark.")


def _spot_rows(spot: PointMark) -> Iterator[Cells]:
    """A row a height; only the first repeats the mark."""
    heights: dict[float, list[str]] = {}
    for point in spot.points:
        heights.setdefault(round(point.height.mm, HEIGHT_PLACES), []).append(point.name)
    place: Cells = (str(spot.number), *_pair(spot.at[0]), *_pair(spot.at[1]))
    for mm, names in heights.items():
        yield (*place, *_pair(mm), ", ".join(names))
        place = ("",) * len(place)


def _tubes(layout: Layout) -> Grid:
    return Grid("Tubes", ("tube", "to the edge", "finder", *_heads("length"),
                          *_heads("on the table"), "climbs"),
                tuple(map(_tube_row, layout.tubes)),
                "The angle to the front edge is anticlockwise from its right end. The finder is "
                "held against that edge; going away from you, the tube leans to the side given.")


def _tube_row(tube: Lying) -> Cells:
    name = f"{tube.name} (end to end)" if tube.bent else tube.name
    angle = "upright" if tube.angle is None else format_angle(tube.angle)
    return (name, angle, _finder(tube), *_pair(tube.length), *_pair(tube.flat), _climb(tube))


def _finder(tube: Lying) -> str:
    """What the angle finder reads, and which way the tube leans."""
    if tube.finder is None:
        return ""
    way = tube.leans or ("along it" if tube.finder < SQUARE_DEG else "square")
    return f"{format_angle(tube.finder)} {way}"


def _climb(tube: Lying) -> str:
    words = format_angle(abs(tube.climb))
    if tube.angle is None:
        return ""
    if words == format_angle(0.0):
        return "level"
    return f"{words} to its {'end' if tube.climb > 0 else 'start'}"


def _supports(layout: Layout) -> Grid:
    rows = tuple(
        (*_pair(one.at[0]), *_pair(one.at[1]), short_cell(one.centre),
         *_pair(one.gap.mm), f"{_support_name(tube, one)}{_beside(one)}")
        for tube in layout.tubes for one in tube.supports)
    return Grid("Under the tubes", (*_heads(LEFT), *_heads(FRONT), f"centre, {first_unit()}",
                                    *_heads("gap under"), "tube"), rows,
                "Measured where the tube is clear of its copes: the height of its centre, and the "
                "gap between its underside and the table. The place is below the lowest point of "
                "the tube: of a turned box or oval that is beside its axis.")


def _support_name(tube: Lying, one: Support) -> str:
    return f"{tube.name}, by its {one.which}"


def _beside(one: Support) -> str:
    """How far the lowest point is beside the tube's centreline, and which way."""
    right, further = one.beside
    ways = (("to the right", right), ("to the left", -right),
            ("further from the edge", further), ("nearer to the edge", -further))
    said = [f"{format_short(mm)} {way}" for way, mm in ways if mm >= BESIDE_MM]
    return f" (from its axis {', '.join(said)})" if said else ""


def _axes(layout: Layout) -> Grid:
    return Grid("Axes", ("axis", *map(_mark_head, ("first mark", "second mark")), "of"),
                tuple(map(_axis_row, layout.axes)),
                "Two marks for each axis; join them with a rule. Along the front edge and the far "
                "line measure from the left end, along the other two from the front edge.")


def _axis_row(axis: AxisMarks) -> Cells:
    first, second = (_mark(mark) for mark in axis.marks)
    return axis.key, first, second, ", ".join(axis.names)


def _mark_head(what: str) -> str:
    first, second = _heads(what)
    return f"{first} ({second})"


def _mark(mark: AxisMark) -> str:
    mm, inches = _pair(mark.distance)
    return f"{mark.line} {mm} ({inches})"


def _diagonals(layout: Layout) -> Grid:
    labels = {spot.number: spot.label for spot in layout.spots}
    rows = tuple((labels[one.one], labels[one.other], *_pair(one.length))
                 for one in layout.diagonals)
    return Grid("Diagonals", ("from", "to", *_heads("tape")), rows,
                "Measure from mark to mark on the table.")


def _wheels(layout: Layout) -> Grid:
    rows = tuple((wheel.name, *_pair(wheel.at[0]), *_pair(wheel.at[1]), *_pair(wheel.radius))
                 for wheel in layout.rims)
    return Grid("Wheels", ("wheel", *_heads(LEFT), *_heads(FRONT), *_heads("radius")), rows)


def _heights(layout: Layout) -> Grid:
    found: dict[float, tuple[Height, list[str]]] = {}
    for name, height in _every_height(layout):
        if height.stack is not None:
            found.setdefault(round(height.mm, HEIGHT_PLACES), (height, []))[1].append(name)
    rows = tuple((*_pair(mm), _stack(height), "; ".join(names))
                 for mm, (height, names) in sorted(found.items()))
    return Grid("Blocks for each height", (*_heads("height"), "stack", "at"), rows)


def _every_height(layout: Layout) -> Iterator[tuple[str, Height]]:
    """What stands at a height; a tube's end at a point that has a name goes by that."""
    for spot in layout.spots:
        given = {round(point.height.mm, HEIGHT_PLACES) for point in spot.points if point.given}
        for point in spot.points:
            if point.given or round(point.height.mm, HEIGHT_PLACES) not in given:
                yield point.name, point.height
    for tube in layout.tubes:
        same = len({round(one.gap.mm, HEIGHT_PLACES) for one in tube.supports}) == 1
        for one in tube.supports[:1] if same else tube.supports:
            yield f"under {tube.name if same else _support_name(tube, one)}", one.gap


def _stack(height: Height, nothing: str = "on the table") -> str:
    return "" if height.stack is None else stack_words(height.stack, nothing)


def _drops(layout: Layout) -> Grid:
    return Grid("Drop", (*_heads("from the origin"), "stack", "axle"),
                tuple(map(_drop_row, layout.drops)),
                "How much further from the front edge each axle lies than the frame's origin, or "
                "how much nearer. A bicycle's origin is its bottom bracket.")


def _drop_row(drop: Drop) -> Cells:
    way = "further from the edge" if drop.rise >= 0 else "nearer to the edge"
    stack = _stack(drop.height, "none: level with it")
    return (*_pair(abs(drop.rise)), stack, f"{drop.name}, {way}")
