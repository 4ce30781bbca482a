r"""The bender's sheet: every bent tube drawn with its numbers, and its table.

::

        1: 90°, 285.70 mm
       .--------------.
      /                \
     |                  | 2: 90°, …
    start
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.arrays import Floats
from coper.bench.bends import BendList
from coper.drawing.changes import moved
from coper.drawing.marks import CENTRE, FINE, GAP_MM, LINE, NOTE_HEIGHT, Mark, Path, Text
from coper.frame.outline import outline, skin
from coper.frame.piece import Piece
from coper.frame.view import View
from coper.pages.compose import Block, parts
from coper.pages.grid import grid_blocks
from coper.pages.ink import ink_of
from coper.pages.labels import PointLabels
from coper.pages.text import column
from coper.shapes.bending import plane_turns
from coper.shapes.shape import as_branch, half_width
from coper.sheets.frame_picture import SCALES
from coper.telling.words.bends import bends_grid, bends_notes, blank_facts, labels
from coper.units import plain

WIDE_MM = 130.0
HIGH_MM = 75.0
"""A view of a tube: two of them and the table fit a page."""
ROOM_MM = 24.0
"""What labels have on every side of it."""

FLAT_DEG = 0.05
"""Bends that are this little out of one plane need one view only."""


def bends_blocks(lists: Sequence[BendList], stretch: float) -> list[Block]:
    """A drawing and a table of each bent tube; nothing where there is none."""
    blocks: list[Block] = []
    for found in lists:
        name = f"bends {found.piece.label}"
        facts = [f"{fact}: {words}" for fact, words in blank_facts(found, stretch)]
        blocks.append(Block(f"{name} drawing", tuple(_drawing(found)), keep_upright=True))
        blocks += parts(name, grid_blocks(bends_grid(found, stretch)))
        blocks.append(Block(f"{name} blank", column(found.piece.label, facts)))
    if blocks:
        blocks.append(Block("bends notes", column("How to read it", bends_notes(stretch))))
    return blocks


def _drawing(found: BendList) -> Iterator[Mark]:
    """Square to the plane of the first bend; where not all are in it, from its side as well."""
    top = 0.0
    for view in _views(found.piece):
        marks, high = _view_marks(found, view)
        yield from moved(marks, 0.0, top - high)
        top -= high + GAP_MM


def _views(piece: Piece) -> Iterator[View]:
    tube = piece.tube
    along = tube.ways[0]
    up = tube.pose.axes[1]
    if tube.course is not None:
        bend = tube.course.bends[0]
        up = bend.inward @ bend.pose.axes[:2]
    yield View(along, up)
    if tube.course is not None and any(
            min(abs(turn), 180 - abs(turn)) > FLAT_DEG for turn in plane_turns(tube.course)):
        yield View(along, np.cross(up, along))


def _view_marks(found: BendList, view: View) -> tuple[list[Mark], float]:
    """The tube and its labels, the lower left corner at the origin, and how high that is, mm."""
    strokes = outline(found.piece, view)
    points = np.concatenate([stroke.points for stroke in strokes])
    low, size = points.min(axis=0), np.ptp(points, axis=0)
    needed = max(size[0] / WIDE_MM, size[1] / HIGH_MM)
    scale = next((one for one in SCALES if one >= needed), float(np.ceil(needed / 100) * 100))

    def on_paper(points: Floats) -> Floats:
        """Points (n, 2) of the view, mm on paper."""
        placed: Floats = (points - low) / scale + ROOM_MM
        return placed

    marks: list[Mark] = [Path(on_paper(stroke.points), LINE) for stroke in strokes]
    lines = [on_paper(stroke.points) for stroke in strokes]
    centre = on_paper(view.seen(_centreline(found)))
    marks.append(Path(centre, CENTRE))
    corner = size / scale + 2 * ROOM_MM
    placed = PointLabels(np.zeros(2), corner, ink_of([*lines, centre], np.zeros(2), corner))
    marks += [Path(on_paper(line), FINE) for line in _tangents(found, view)]
    for at, words in _named(found):
        place, = on_paper(view.seen(at)[None])
        marks += placed.place(place, (words, words.split(":")[0]))
    words = f"{found.piece.label}, drawn 1:{plain(scale)}"
    marks.append(Text((0.0, ROOM_MM / 2), words, NOTE_HEIGHT))
    return marks, float(corner[1])


def _named(found: BendList) -> Iterator[tuple[Floats, str]]:
    """Places (3,) in mm of the frame, and what stands there."""
    low, _ = found.piece.blank_ends
    tube = found.piece.tube
    yield tube.start, "start"
    if tube.course is not None:
        for bend, part, words in zip(found.bends, tube.course.bends, labels(found.bends),
                                     strict=True):
            station = low + bend.begins
            outward = -part.inward @ part.pose.axes[:2]  # words outside do not stand on the tube
            origin = tube.course.frames(np.array(station)).origin
            yield origin + half_width(as_branch(tube.shape), station) * outward, words
    yield tube.end, "end"


def _tangents(found: BendList, view: View) -> Iterator[Floats]:
    """Lines (2, 2) of the view across the tube where bends begin and end."""
    course = found.piece.tube.course
    if course is None:
        return
    for bend in course.bends:
        for station in (bend.low, bend.high):
            ring = skin(found.piece, RING, np.full(RING.size, station))
            across = np.cross(view.towards, course.frames(np.array(station)).axes[2])
            reach = ring @ across
            yield view.seen(ring[[reach.argmin(), reach.argmax()]])


def _centreline(found: BendList) -> Floats:
    """Points (n, 3) in mm of the frame, from point to point."""
    tube = found.piece.tube
    if tube.course is None:
        return np.stack((tube.start, tube.end))
    return tube.course.frames(np.linspace(0.0, tube.length, CENTRE_STEPS)).origin


RING = np.arange(0.0, 360.0, 1.0)
"""Clocks at which a section's widest places are looked for."""

CENTRE_STEPS = 400
"""Places that a centreline is drawn through."""
