"""What an end would be if it seated on a tube near it: how far that is, and how it would stand."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.errors import CoperError
from coper.frame.end import TubeEnd, past_edges, shape_end
from coper.frame.tube import Tube, Which
from coper.shapes.plate import Plate


@dataclass(frozen=True, slots=True, eq=False)
class SeatOffer:
    """An end and a tube that it might seat on.

    Attributes
    ----------
    main : Tube
    away : float, mm
        From the end's point to that tube's skin; below 0 inside it.
    end : TubeEnd or None
        The end on that tube alone; ``None`` where it cannot be made.
    why : CoperError or None
        Why not.
    """

    main: Tube
    away: float
    end: TubeEnd | None = None
    why: CoperError | None = None


def seat_offer(tube: Tube, which: Which, main: Tube) -> SeatOffer:
    """The end ``which`` of ``tube``, if it seated on ``main`` alone."""
    away = float(away_from(main, tube.point(which)))
    try:
        return SeatOffer(main, away, shape_end(tube, which, [main]))
    except CoperError as error:
        return SeatOffer(main, away, why=error)


def away_from(main: Tube, points: Floats) -> Floats:
    """How far points (..., 3) are from a tube between its two points, (...,) mm; below 0 inside."""
    station, skin = main.station(points), main.as_main.distance(main.pose.inward(points))
    past = [skin, -station, station - main.length, *past_edges(main, points).values()]
    if isinstance(main.shape, Plate):
        past.append(-skin - main.shape.thickness)
    away: Floats = np.maximum.reduce(past)
    return away
