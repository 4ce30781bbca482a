"""Whether an end lands on its mains as they are cut, or past their ends on thin air.

::

        |  |    |  |
    ====|==|    |  |        on the main         past its end
        '--'    '--'
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.frame.end import TubeEnd, past_edges
from coper.frame.piece import Piece
from coper.tolerances import OVERRUN_MM

ON_SKIN_MM = 1e-6
"""A point of a cope this near to another main's skin lies on that as well: two tubes in line."""


@dataclass(frozen=True, slots=True)
class PastEnd:
    """An end that lands wholly past its mains.

    Attributes
    ----------
    main : str
        The one that it comes nearest to.
    which : str
        ``start`` or ``end`` of that main, or an edge of a plate.
    by : float, mm
        Between that and the nearest place of the edge, along the main or across it.
    """

    main: str
    which: str
    by: float


def past_mains(piece: Piece, end: TubeEnd, pieces: Sequence[Piece]) -> PastEnd | None:
    """How far the whole edge of an end is past the mains that it seats on, all among ``pieces``.

    ``None`` where part of it lands on one of them.
    """
    if end.cope is None or end.flat is not None:
        return None
    found: list[PastEnd] = []
    points = end.cope.points[end.cope.main >= 0]
    points = piece.tube.seen_from(end.which)[1].outward(points)
    for tube in end.mains:
        main = next(one for one in pieces
                    if (one.tube.name, one.tube.side) == (tube.name, tube.side))
        skin = tube.as_main.distance(tube.pose.inward(points))
        past = _past(main, points[np.abs(skin) <= ON_SKIN_MM])
        depth = np.stack(list(past.values()))
        if (depth.max(axis=0) <= -OVERRUN_MM).any():
            return None
        if depth.size:
            row = int(depth.min(axis=1).argmax())
            found.append(PastEnd(main.label, list(past)[row], max(float(depth[row].min()), 0.0)))
    return min(found, key=lambda one: one.by, default=None)


def _past(main: Piece, points: Floats) -> dict[str, Floats]:
    """How far (n,) in mm points (n, 3) are past each end of a main, below 0 on it.

    An end that is shaped itself counts as far as it goes anywhere.
    """
    start, end = float(np.nanmin(main.start.outer)), float(np.nanmax(main.end.outer))
    station = main.tube.station(points)
    return {"start": start - station, "end": station - end, **past_edges(main.tube, points)}
