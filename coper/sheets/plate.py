r"""A plate's own sheet: its outline, and where each branch lands on it, at true scale.

Seen from the side of the face, the plate's start at the left::

    .-----------------------------------.
    |    .-.                            |  left edge
    S---( 1 )--------------( 2 )--------E  the axis, from start to end
    |    '-'                            |  right edge
    '-----------------------------------'
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.drawing.curves import pieces as runs
from coper.drawing.marks import CENTRE, CUT, GAP_MM, LINE, NOTE_HEIGHT, Group, Mark, Path, Text
from coper.frame.piece import Piece
from coper.pages.boxes import box_path
from coper.pages.compose import Block, parts
from coper.pages.grid import grid_blocks
from coper.pages.text import column
from coper.shapes.plate import Plate
from coper.telling.cells import length_cells, length_heads
from coper.telling.grid import Cells, Grid
from coper.units import format_length, format_number, format_size

HOW = ("The outline is true to size, seen from the side of the face that the tubes seat on. Lay it "
       "on the plate, or scribe it from these numbers: along from the start, then to the side of "
       "the line from start to end, to where the tube's axis meets the face.")

MIDDLE_MM = 0.005
"""An axis that is this near to the line from start to end is on it: it is shown to a hundredth."""


@dataclass(frozen=True, slots=True, eq=False)
class Landing:
    """Where an end lands on a plate, seen from the side of its face.

    Attributes
    ----------
    words : str
        Which end of which tube.
    edge : (n, 2) float, mm
        Its outside edge, along the plate from the start and to the left of its axis; ``nan`` where
        it lands on something else.
    foot : (2,) float, mm
        Where the axis of the tube meets the face.
    """

    words: str
    edge: Floats
    foot: Floats


def plate_landings(plate: Piece, pieces: Sequence[Piece]) -> list[Landing]:
    """Every end of ``pieces`` that seats on ``plate``, by where its axis meets the face."""
    found = [landing for piece in pieces for landing in _landings(plate, piece)]
    return sorted(found, key=lambda one: (float(one.foot[0]), float(one.foot[1])))


def _landings(plate: Piece, piece: Piece) -> Iterator[Landing]:
    there = plate.tube.pose
    for end in piece.ends:
        if end.cope is None:
            continue
        pose = piece.tube.seen_from(end.which)[1]
        for index, main in enumerate(end.mains):
            if (main.name, main.side) != (plate.tube.name, plate.tube.side):
                continue
            on = there.inward(pose.outward(end.cope.points))[:, [2, 0]]
            edge = np.where((end.cope.main == index)[:, None], on, np.nan)
            point, way = there.inward(pose.origin), there.axes @ pose.axes[2]
            foot = point - point[1] / way[1] * way
            yield Landing(f"{piece.label}, {end.which}", np.concatenate((edge, edge[:1])),
                          foot[[2, 0]])


def plate_blocks(plate: Piece, pieces: Sequence[Piece]) -> list[Block]:
    """The outline and the table of a plate of which the width is known."""
    landings = plate_landings(plate, pieces)
    shape = plate.tube.shape
    assert isinstance(shape, Plate)
    if shape.width is None:
        return []
    blocks = [Block(f"{plate.label} outline", tuple(_outline(plate, shape.width, landings)))]
    rows = tuple((f"{number} {one.words}", *length_cells(float(one.foot[0])),
                  *_aside(float(one.foot[1]))) for number, one in enumerate(landings, 1))
    size = (f"{format_number(shape.thickness)} by {format_size(shape.width)}, "
            f"{format_length(plate.blank)} long")
    if not landings:
        return [*blocks, Block(f"{plate.label} notes", column(
            f"{plate.label}: plate {size}", ("Nothing seats on it.",)))]
    grid = Grid(f"{plate.label}: plate {size}",
                ("on it", *length_heads("from the start"), *length_heads("to the side"), "side"),
                rows, HOW)
    return [*blocks, *parts(f"{plate.label} landings", grid_blocks(grid))]


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
    for number, one in enumerate(landings, 1):
        yield Group((*(Path(run, LINE, name="footprint") for run in runs(one.edge)),
                     *_foot(one.foot, number)), one.words)


def _foot(foot: Floats, number: int) -> Iterator[Mark]:
    """A cross where the axis meets the face, and the landing's number beside it."""
    x, y = foot.tolist()
    for way in ((GAP_MM, 0.0), (0.0, GAP_MM)):
        yield Path(np.array((foot - way, foot + way)), LINE, name="foot")
    yield Text((x + GAP_MM, y + GAP_MM), str(number), NOTE_HEIGHT)
