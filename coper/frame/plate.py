"""Where tubes land on a plate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.frame.piece import Piece
from coper.frame.tube import Tube, Which
from coper.shapes.pose import Pose


@dataclass(frozen=True, slots=True, eq=False)
class Landing:
    """Where an end lands on a plate, seen from the side of its face.

    Attributes
    ----------
    piece : Piece
    which : ``start`` or ``end``
        Of that tube.
    edge : (n, 2) float, mm
        Its outside edge, along the plate from the start and to the left of its axis; ``nan`` where
        it lands on something else.
    foot : (2,) float, mm
        Where the axis of the tube meets the face.
    """

    piece: Piece
    which: Which
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
            yield Landing(piece, end.which, np.concatenate((edge, edge[:1])),
                          foot_on_face(plate.tube, pose)[[2, 0]])


def foot_on_face(plate: Tube, branch: Pose) -> Floats:
    """Where (3,) the axis of ``branch`` meets the face, in the plate's own axes, mm."""
    there = plate.pose
    point, way = there.inward(branch.origin), there.axes @ branch.axes[2]
    foot: Floats = point - point[1] / way[1] * way
    return foot
