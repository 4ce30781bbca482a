r"""The cap of a cut-off end: the outline of the tube where it is cut, seen from outside.

::

       v                 the cut's plane, looking at the end: u is the way that clock 0 lies,
       |  .-''-.         v a quarter turn anticlockwise from it
       | (  o-->) u
       |  '-..-'
"""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.frame.end import TubeEnd, cut_along
from coper.frame.outline import skin
from coper.frame.piece import Piece
from coper.joint.edge import even_clocks, merged
from coper.shapes.bent import Bent

CLOCKS = 720


def cap_outline(piece: Piece, end: TubeEnd) -> Floats:
    """The outside of a plain or flat end (n, 2), mm, from where the tube's axis goes through."""
    clock = even_clocks(CLOCKS)
    shape = piece.tube.shape
    if not isinstance(shape, Bent):
        clock = merged(clock, piece.tube.seen_from("start")[0].corners() % 360)
    points = skin(piece, clock, cut_along(piece.tube, end, clock))
    out = -(piece.tube.way_in(end.which) if end.flat is None else end.flat.normal)
    first = points[0] - points.mean(axis=0)
    across = first - (first @ out) * out
    across /= np.linalg.norm(across)
    own = points - _middle(piece, end)
    return np.stack((own @ across, own @ np.cross(out, across)), axis=-1)


def _middle(piece: Piece, end: TubeEnd) -> Floats:
    """Where the axis goes through the cut's plane (3,), mm: a flat end is cut at its point."""
    if end.flat is not None:
        return piece.tube.point(end.which)
    sides = skin(piece, np.array((0.0, 180.0)), np.full(2, end.reach))
    middle: Floats = sides.mean(axis=0)
    return middle
