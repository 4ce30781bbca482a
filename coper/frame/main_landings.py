r"""Where the branches of a frame land on a main: what is marked on it before they are put on.

::

    long point              the foot: where the two axes pass nearest
        .------------------------+-----------------.
       (           clock -> - - -|- - - - - - - - - )
        '------------------------+-----------------'
        |<--------- at --------->|
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from coper.arrays import Floats
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.frame.plate import foot_on_face
from coper.frame.tube import Side, Tube, Which
from coper.joint.facing import clock_facing
from coper.joint.footprint import branch_foot
from coper.shapes.bent import Bent
from coper.shapes.plate import Plate
from coper.shapes.pose import Pose
from coper.shapes.read import Shape
from coper.shapes.round import Round
from coper.shapes.shape import as_branch
from coper.tolerances import SQUARE_DEG

Towards = Literal["start", "end"]

Named = tuple[str, Side]
"""A tube by its name and its side."""


@dataclass(frozen=True, slots=True, eq=False)
class MainLanding:
    """Where an end lands on a main.

    Attributes
    ----------
    piece : Piece
        The branch.
    which : ``start`` or ``end``
        Of the branch.
    along : float, mm
        Where the main's axis passes the branch's nearest, from the main's start point; of a plate
        where the branch's axis meets the face. Of a bent main along its centreline.
    at : float, mm
        The same from where the main begins as it is shaped: from its long point.
    to_end : float, mm
        From there to where the main ends.
    clock : float or None, degrees
        Of the main, on the side that the branch comes from; ``None`` of a plate.
    aside : float, mm
        Of a plate, how far to the left of the line from start to end it is; 0 of any other main.
    heel : ``start``, ``end`` or None
        Of the main, towards which the acute side of the branch is; ``None`` where it stands square.
    edge : (n, 3) float, mm
        The branch's outside edge in the frame's axes; ``nan`` where it lands on something else.
    reach : (from, to), mm
        Between which places of the main that edge lies, counted as ``at`` is.
    """

    piece: Piece
    which: Which
    along: float
    at: float
    to_end: float
    clock: float | None
    aside: float
    heel: Towards | None
    edge: Floats
    reach: tuple[float, float]

    @property
    def words(self) -> str:
        """The branch and which of its ends."""
        return f"{self.piece.label} {self.which}"


def find_landings(pieces: Sequence[Piece]) -> dict[Named, list[MainLanding]]:
    """Every end that lands on a main, by the main's name and side, from its start on."""
    mains = {(piece.tube.name, piece.tube.side): piece for piece in pieces}
    found: dict[Named, list[MainLanding]] = {}
    for piece in pieces:
        for end in piece.ends:
            for index in landed_on(end):
                named = end.mains[index].name, end.mains[index].side
                found.setdefault(named, []).append(landing_of(mains[named], piece, end, index))
    return {named: sorted(some, key=lambda one: one.along) for named, some in found.items()}


def landed_on(end: TubeEnd) -> Iterator[int]:
    """The numbers of the mains that an end takes part on; none of an end that is cut flat."""
    if end.cope is not None and end.flat is None:
        yield from (index for index in range(len(end.mains)) if (end.cope.main == index).any())


def landing_of(main: Piece, piece: Piece, end: TubeEnd, index: int) -> MainLanding:
    """Where ``end`` of ``piece`` lands on ``main``, which is number ``index`` of its mains."""
    assert end.cope is not None
    tube = main.tube
    foot = branch_foot(end.cope.cluster.mains[index])
    along = foot.station + (tube.length / 2 if isinstance(tube.shape, Bent) else 0.0)
    pose = piece.tube.seen_from(end.which)[1]
    edge = np.where((end.cope.main == index)[:, None], pose.outward(end.cope.points), np.nan)
    begins, station = main.start.reach, tube.station(edge)
    return MainLanding(
        piece, end.which, along, along - begins, main.end.reach - along,
        _clock(tube.shape, foot.side), _aside(tube, pose), _heel(end.stances[index].angle), edge,
        (float(np.nanmin(station)) - begins, float(np.nanmax(station)) - begins))


def _heel(angle: float) -> Towards | None:
    """To which end of the main the acute side of a branch at ``angle`` degrees is."""
    if abs(angle - 90) <= SQUARE_DEG:
        return None
    return "end" if angle < 90 else "start"


def _aside(main: Tube, branch: Pose) -> float:
    """How far to the left of a plate's axis a branch's axis meets its face, mm."""
    return float(foot_on_face(main, branch)[0]) if isinstance(main.shape, Plate) else 0.0


def _clock(shape: Shape, side: Floats) -> float | None:
    """The clock in degrees of a tube that faces ``side`` (2,) in its section."""
    match shape:
        case Plate():
            return None
        case Bent(diameter):
            shape = Round(diameter)
    return clock_facing(as_branch(shape), *side.tolist())
