r"""A plate's own sheets: its outline, and where each branch lands on it, at true scale.

Seen from the side of the face, the plate's start at the left::

    .-----------------------------------.
    |    .-.                            |  left edge
    S---( 1 )--------------( 2 )--------E  the axis, from start to end
    |    '-'                            |  right edge
    '-----------------------------------'
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.arrays import Floats
from coper.drawing.curves import pieces as runs
from coper.drawing.marks import CENTRE, CUT, GAP_MM, LINE, NOTE_HEIGHT, Group, Mark, Path, Text
from coper.frame.piece import Piece
from coper.frame.plate import Landing, plate_landings
from coper.pages.boxes import box_path
from coper.pages.compose import Block, parts
from coper.pages.grid import grid_blocks
from coper.pages.text import column
from coper.shapes.plate import Plate
from coper.telling.cells import length_cells, length_heads
from coper.telling.grid import Cells, Grid
from coper.units import format_length, format_number, format_size

HOW = ("The outline, {page}, is true to size, seen from the side of the face that the tubes "
       "seat on. Lay it on the plate, or scribe it from these numbers: along from the start, then "
       "to the side of the line from start to end, to where the tube's axis meets the face.")

MIDDLE_MM = 0.005
"""An axis that is this near to the line from start to end is on it: it is shown to a hundredth."""


def plate_outline(plate: Piece, pieces: Sequence[Piece]) -> Block:
    """The outline of a plate of which the width is known, to cut out."""
    shape = plate.tube.shape
    assert isinstance(shape, Plate) and shape.width is not None
    landings = plate_landings(plate, pieces)
    return Block(outline_name(plate), tuple(_outline(plate, shape.width, landings)))


def outline_name(plate: Piece) -> str:
    """What the outline of a plate is called in the file."""
    return f"{plate.label} outline"


def plate_blocks(plate: Piece, pieces: Sequence[Piece], page: str) -> list[Block]:
    """The table of such a plate; its outline is on ``page``."""
    landings = plate_landings(plate, pieces)
    shape = plate.tube.shape
    assert isinstance(shape, Plate) and shape.width is not None
    rows = tuple((f"{number} {_words(one)}", *length_cells(float(one.foot[0])),
                  *_aside(float(one.foot[1]))) for number, one in enumerate(landings, 1))
    size = (f"{format_number(shape.thickness)} by {format_size(shape.width)}, "
            f"{format_length(plate.blank)} long")
    name = table_name(plate)
    if not landings:
        return [Block(name, column(f"{plate.label}: plate {size}", (
            "Nothing seats on it.", f"Its outline: {page}.")))]
    grid = Grid(f"{plate.label}: plate {size}",
                ("on it", *length_heads("from the start"), *length_heads("to the side"), "side"),
                rows, HOW.format(page=page))
    return [*parts(name, grid_blocks(grid))]


def table_name(plate: Piece) -> str:
    """What the table of a plate is called in the file."""
    return f"{plate.label} landings"


def _words(landing: Landing) -> str:
    return f"{landing.piece.label}, {landing.which}"


def _aside(across: float) -> Cells:
    """How far and to which side of the line from start to end."""
    if abs(across) < MIDDLE_MM:
        return *length_cells(0.0), "on the line"
    return *length_cells(abs(across)), "left" if across > 0 else "right"


def _outline(plate: Piece, width: float, landings: Sequence[Landing]) -> Iterator[Mark]:
    low, high = plate.start.reach, plate.end.reach
    yield Group((box_path(low, -width / 2, high - low, width, CUT, name="plate"),), "edge")
    yield Path(np.array(((low, 0.0), (high, 0.0))), CENTRE, name="axis")
    below = -width / 2 - GAP_MM - NOTE_HEIGHT
    yield Text((low, below), "start", NOTE_HEIGHT)
    yield Text((high, below), "end", NOTE_HEIGHT, "right")
    middle = (low + high) / 2, below - (NOTE_HEIGHT + GAP_MM)
    yield Text(middle, plate.label, NOTE_HEIGHT, "middle", name="plate-name")
    for number, one in enumerate(landings, 1):
        yield Group((*(Path(run, LINE, name="footprint") for run in runs(one.edge)),
                     *_foot(one.foot, number)), _words(one))


def _foot(foot: Floats, number: int) -> Iterator[Mark]:
    """A cross where the axis meets the face, and the landing's number beside it."""
    x, y = foot.tolist()
    for way in ((GAP_MM, 0.0), (0.0, GAP_MM)):
        yield Path(np.array((foot - way, foot + way)), LINE, name="foot")
    yield Text((x + GAP_MM, y + GAP_MM), str(number), NOTE_HEIGHT)
