"""One tube as it lies on the table: its angle, its climb, and what is set up under it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from coper.arrays import Floats
from coper.bench.layout.blocks import BlockSet
from coper.bench.layout.diagonals import hull
from coper.bench.layout.spots import Height, make_height
from coper.bench.layout.table import VIEWS, FlatTable, Lies
from coper.frame.end import TubeEnd
from coper.frame.outline import outline, skin
from coper.frame.piece import Piece
from coper.frame.sections import section_rows
from coper.frame.tube import REMEMBERED, Which
from coper.frame.view import View
from coper.joint.edge import STEPS, even_clocks
from coper.shapes.bent import Bent
from coper.shapes.plate import Plate
from coper.tolerances import SQUARE_DEG

LINE_MM = 1.0
"""A tube that is shorter than this as seen from above stands upright: it makes no line."""

NEAR_MM = 0.5
"""The centreline's direction is taken from places this far to either side."""

FLAT_MM = 1e-6
"""Points of a section that are no higher than this over its lowest are as low: rounding."""

OVER_STEPS = 5
"""Newton steps along a centreline: a bend as tight as twice the tube is then known to 1e-6 mm."""

STEEP_DEG = 80.0
"""A tube that climbs more steeply stands on its end: the blocks are set below its middle."""


@dataclass(frozen=True, slots=True)
class Support:
    """Where blocks stand under a tube.

    Attributes
    ----------
    which : ``start`` or ``end``
        The end that they stand by: where the tube is whole, clear of its cope.
    along : float, mm
        From the tube's start point, of the section that is looked at.
    at : (from the left end, from the front edge), mm
        Below the lowest point of that section; where it lies flat, below the middle of that.
    beside : (to the right, further from the front edge), mm
        How far that is beside the tube's centreline: of a turned box or oval.
    centre : float, mm
        Height of the tube's centreline there.
    gap : Height
        Under the tube's outside there.
    """

    which: Which
    along: float
    at: tuple[float, float]
    beside: tuple[float, float]
    centre: float
    gap: Height


@dataclass(frozen=True, slots=True)
class Lying:
    """A tube on the table; a bent one by the straight line from point to point.

    Attributes
    ----------
    name : str
        With its side.
    bent : bool
    angle : float or None, degrees
        From the front edge, seen from above, counter-clockwise, 0 to 180; ``None`` where the tube
        stands upright.
    length, flat : float, mm
        From point to point, in space and as seen from above.
    climb : float, degrees
        From the table to the tube, above 0 where its end point is higher.
    supports : tuple of Support
        One an end; of an upright tube that under its lower end, unless it seats on another tube.
    """

    name: str
    bent: bool
    angle: float | None
    length: float
    flat: float
    climb: float
    supports: tuple[Support, ...]

    @property
    def finder(self) -> float | None:
        """What an angle finder on the front edge reads, 0 to 90 degrees."""
        return None if self.angle is None else min(self.angle, 180 - self.angle)

    @property
    def leans(self) -> str:
        """To which side the tube goes away from the front edge; empty for neither."""
        if self.angle is None or min(self.angle, abs(self.angle - 90)) < SQUARE_DEG:
            return ""
        return "right" if self.angle < 90 else "left"


def lie(piece: Piece, table: FlatTable, blocks: BlockSet | None) -> Lying:
    """A piece on the table."""
    tube = piece.tube
    run = table.turned(tube.end - tube.start)
    flat = math.hypot(run[0], run[1])
    upright = flat < LINE_MM
    angle = None if upright else _undirected(math.degrees(math.atan2(run[1], run[0])))
    return Lying(
        piece.label, tube.is_bent, angle, tube.chord, flat,
        math.degrees(math.atan2(run[2], flat)),
        tuple(_support(piece, end, table, blocks, upright)
              for end in _propped(piece, upright, float(run[2]))))


def _propped(piece: Piece, upright: bool, rise: float) -> tuple[TubeEnd, ...]:
    """The ends that blocks are set under; ``rise`` is from the start to the end."""
    if not upright:
        return piece.ends
    lower = piece.start if rise > 0 else piece.end
    return () if lower.mains else (lower,)


def _undirected(angle: float) -> float:
    """An angle of a line without a direction, 0 to below 180."""
    angle %= 180.0
    return 0.0 if 180 - angle < SQUARE_DEG else angle


def _support(
    piece: Piece, end: TubeEnd, table: FlatTable, blocks: BlockSet | None, upright: bool
) -> Support:
    along = end.reach if upright else end.short_point.along
    low, middle = _section(piece, along, table.lies)
    aside = low[:2] - middle[:2]
    x, y, height = (low + table.origin).tolist()
    return Support(end.which, along, (x, y), (float(aside[0]), float(aside[1])),
                   float(middle[2]) + table.plane, make_height(height, blocks))


@lru_cache(maxsize=2 * REMEMBERED)
def _section(piece: Piece, along: float, lies: Lies) -> tuple[Floats, Floats]:
    """The lowest place (3,) of the section at ``along``, and the centreline's that is over it.

    As on a table that has the frame's origin at its corner: wherever that stands they are the same.
    """
    table = FlatTable(0.0, 0.0, 0.0, 0.0, 0.0, lies)
    ring = table.turned(_ring(piece, along))
    low = ring[ring[:, 2] <= ring[:, 2].min() + FLAT_MM].mean(axis=0)
    return low, _over(piece, along, table, low)


def _over(piece: Piece, along: float, table: FlatTable, point: Floats) -> Floats:
    r"""The place of the centreline (3,) that stands over ``point`` of the section at ``along``.

    ::

          ___---    the section is square to the tube, so that of a tube that climbs its lowest
        --_ c       point p is not below its middle c: blocks as high as p, set below c, would
           \___--   lift the tube
             p

    Derived: seen from above, p is ``r sin(climb)`` up the tube from c. A straight tube's
    centreline stands over it at the first step, a bent one's after a few.
    """
    middle = place = table.placed(_centre(piece, along))
    for _ in range(OVER_STEPS):
        run = (table.placed(_centre(piece, along + NEAR_MM))
               - table.placed(_centre(piece, along - NEAR_MM)))
        flat = math.hypot(run[0], run[1])
        if math.degrees(math.atan2(abs(run[2]), flat)) > STEEP_DEG:
            return middle
        along += float((point - place)[:2] @ run[:2]) / flat**2 * 2 * NEAR_MM
        place = table.placed(_centre(piece, along))
    return place


def _centre(piece: Piece, along: float) -> Floats:
    """The centreline (3,) at ``along``: the middle between opposite sides of the skin."""
    tube = piece.tube
    if isinstance(tube.shape, Plate):
        on_face: Floats = tube.pose.origin + along * tube.pose.axes[2]
        return on_face
    sides = skin(piece, np.array((0.0, 180.0)), np.full(2, along))
    middle: Floats = sides.mean(axis=0)
    return middle


def _ring(piece: Piece, along: float) -> Floats:
    """The outside (n, 3) at ``along``; of a plate, whose width is not known, face and back."""
    tube = piece.tube
    if isinstance(tube.shape, Plate):
        back = np.array(((0.0,), (tube.shape.thickness,))) * tube.pose.axes[1]
        through: Floats = _centre(piece, along) - back
        return through
    return skin(piece, even_clocks(STEPS), np.full(STEPS, along))


@lru_cache(maxsize=REMEMBERED)
def lowest(piece: Piece, lies: Lies) -> float:
    """How high in the frame the point of a piece is that lies furthest down, mm."""
    up = VIEWS[lies].towards
    if isinstance(piece.tube.shape, Plate):
        return min(float((_ring(piece, end.reach) @ up).min()) for end in piece.ends)
    return min(float((ring @ up).min()) for ring in _rings(piece))


def _rings(piece: Piece) -> list[Floats]:
    """Sections (n, 3) of the skin from edge to edge: two of a straight tube, more of a bend."""
    clocks = even_clocks(STEPS)
    start, end = (one.edge_at(clocks) for one in piece.ends)
    return [skin(piece, clocks, row)
            for rows in section_rows(piece.tube, start, end) for row in rows]


def centreline(piece: Piece, table: FlatTable) -> Floats:
    """The line (n, 2) through the middle of a piece as it lies on the table, mm."""
    ends = (np.array([end.short_point.along]) for end in piece.ends)
    alongs = np.concatenate(section_rows(piece.tube, *ends))[:, 0]
    return table.placed(np.stack([_centre(piece, along) for along in alongs.tolist()]))[:, :2]


def seen_outline(piece: Piece, table: FlatTable) -> list[Floats]:
    """The strokes (n, 2) of a piece as it lies on the table, mm."""
    return [points + table.origin[:2] for points in _strokes(piece, table.view)]


@lru_cache(maxsize=REMEMBERED)
def _strokes(piece: Piece, view: View) -> tuple[Floats, ...]:
    """The strokes (n, 2), mm, of a piece from above the table.

    A bent tube whose points stand above each other is seen edge on: it is what the hull of its
    skin holds.
    """
    tube = piece.tube
    if isinstance(tube.shape, Bent) and np.hypot(*view.seen(tube.end - tube.start)) < LINE_MM:
        seen = view.seen(np.concatenate(_rings(piece)))
        rim = hull(seen)
        return (seen[[*rim, rim[0]]],)
    return tuple(stroke.points for stroke in outline(piece, view))
