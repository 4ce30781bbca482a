"""Cut faces: what is left of a tube's end, through the whole wall, by each way of cutting it.

A face says where it lies along the tube at a clock and a depth in the wall. Where it is ``nan``
there is nothing to seat: an open stretch is taken as trimmed away.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol, Self

import numpy as np

from coper.arrays import Floats, Whole
from coper.errors import JointError, check_choice
from coper.joint.cluster import Cluster, PlacedMain
from coper.joint.edge import STEPS, even_clocks
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.template import CUTS
from coper.joint.wall import square_station
from coper.search import lowest_round
from coper.shapes.checks import check_size
from coper.shapes.lines import Lines
from coper.shapes.pose import Pose
from coper.shapes.round import Round
from coper.tolerances import TOUCH_MM
from coper.units import format_short, format_size

SAW = "saw"
FACES = (*CUTS, SAW)
"""How an end may be cut."""


class Face(Protocol):
    """A cut through the wall of a tube, or many: then the first axis of its arrays is theirs."""

    @property
    def cluster(self) -> Cluster:
        """The branch, and what its cut follows."""

    def station(self, clock: Floats, depth: Floats) -> Floats:
        """Along (...,) in mm of the cut, in the common shape of ``clock`` and ``depth``."""

    def of(self, chosen: Whole) -> Face:
        """Some of many faces, their numbers (j,) given; one by itself is as it is for all."""


class SawFace(Face, Protocol):
    """A cut that a saw makes: it can be made further up the tube."""

    def of(self, chosen: Whole) -> SawFace:
        """Some of many faces, their numbers (j,) given."""

    def raised(self, by: Floats) -> Self:
        """The face cut ``by`` mm further up the tube, (m, 1, 1, 1) for many."""


@dataclass(frozen=True, slots=True)
class Bevelled:
    """A face that follows what it is cut for through the wall: an end fits its mains with no gap.

    What a hole saw or a drum cuts, in one pass or more, follows those as if they were mains.
    """

    cluster: Cluster

    def station(self, clock: Floats, depth: Floats) -> Floats:
        """Where (...,) each generator enters a main or a saw, mm."""
        return self.cluster.entry(clock, depth)

    def of(self, chosen: Whole) -> Bevelled:
        """Some of many faces, their numbers (j,) given."""
        return Bevelled(self.cluster.of(chosen))

    def raised(self, by: Floats) -> Self:
        """The face cut ``by`` mm further up the tube, (m, 1, 1, 1) for many."""
        return replace(self, cluster=raised(self.cluster, by))


@dataclass(frozen=True, slots=True)
class Square:
    """A face square to the wall that clears the mains through the whole of it."""

    cluster: Cluster

    def station(self, clock: Floats, depth: Floats) -> Floats:
        """The same at every depth (...,), mm, in the common shape of ``clock`` and ``depth``."""
        flat = square_station(self.cluster, np.ravel(clock)).reshape(np.shape(clock))
        return np.broadcast_to(flat, np.broadcast_shapes(flat.shape, np.shape(depth)))

    def of(self, chosen: Whole) -> Square:
        """The face itself, whatever the numbers (j,): it is one for all."""
        return self


def pass_face(joint: Joint, passes: Sequence[Pass]) -> Bevelled:
    """The face that is left when all of ``passes`` have gone right through the tube.

    A saw cuts with its rim only; what its cylinder holds comes away as a slug. So every pass takes
    away its whole cylinder, and along each generator the one furthest up the tube decides: the
    passes are mains like any other.
    """
    return Bevelled(Cluster(joint.branch, tuple(_saw_main(joint, cut) for cut in passes)))


def pass_mains(joint: Joint, passes: Sequence[Pass]) -> tuple[PlacedMain, ...]:
    """The saw of many passes of one diameter, each the only one of m trials."""
    offset, at = (np.array([getattr(cut, name) for cut in passes]) for name in ("offset", "at"))
    saw = replace(_saw_joint(joint, passes[0]), offset=0.0)
    cluster = saw.clusters(np.zeros(len(passes)), offset)
    return raised(cluster, at[:, None, None, None]).mains


def _saw_main(joint: Joint, cut: Pass) -> PlacedMain:
    return raised(_saw_joint(joint, cut).cluster(), cut.at).mains[0]


def _saw_joint(joint: Joint, cut: Pass) -> Joint:
    return replace(joint, main=Round(cut.diameter), offset=cut.offset, main_turn=0.0, main_at=0.0)


def sawn(joint: Joint, diameter: float, at: float = 0.0) -> Bevelled:
    """The face that a saw of ``diameter`` mm cuts, set at the joint's angle and offset.

    Its axis meets the branch's ``at`` mm up from the foot of the design.

    Raises
    ------
    JointError
        Where the saw is too small to cut the whole tube.
    """
    check_size(diameter, "saw")
    needed = covering_diameter(joint)
    if diameter < needed - TOUCH_MM:
        raise JointError(
            f"a saw of {format_size(diameter)} leaves part of the tube uncut",
            f"take one of {format_short(needed)} or more, or use the template", "saw")
    return pass_face(joint, (Pass(diameter, joint.offset, at),))


def cut_face(joint: Joint, cut: str, saw: float | None = None) -> Face:
    """The face of a ``bevelled`` or ``square`` cut, or that of a ``saw``, its diameter in mm.

    Raises
    ------
    WordsError
        Where ``cut`` is another word.
    JointError
        Where a saw has no diameter, or is too small.
    """
    check_choice(cut, FACES, "cut")
    if cut == SAW:
        if saw is None:
            raise JointError("no diameter", "give that of the saw in mm", "saw")
        return sawn(joint, saw)
    return template_face(joint.cluster(), cut)


def template_face(cluster: Cluster, cut: str) -> Face:
    """The face of an end cut by its template, ``bevelled`` or ``square``.

    Raises
    ------
    WordsError
        Where ``cut`` is another word.
    """
    check_choice(cut, CUTS, "cut")
    return Square(cluster) if cut == "square" else Bevelled(cluster)


def covering_diameter(joint: Joint) -> float:
    """The smallest saw in mm that cuts the whole of the branch at the joint's angle and offset."""
    trial = Pass(1.0, joint.offset, 0.0)  # any saw's rim says how far out it would have to be
    return trial.diameter + 2 * left_uncut(pass_face(joint, (trial,)))


def left_uncut(face: Bevelled) -> float:
    """How far in mm the worst of the branch's generators passes outside the nearest saw.

    Not above 0 where the passes reach all of them, which is where they cut the whole tube.
    """
    cluster = face.cluster

    def outside(clock: Floats) -> Floats:
        lines = cluster.branch.generators(clock)
        away: Floats = np.min([_passing(main, lines) for main in cluster.mains], axis=0)
        return away

    return -lowest_round(lambda clock: -outside(clock), even_clocks(STEPS))[1]


def _passing(saw: PlacedMain, lines: Lines) -> Floats:
    """How far (n,) in mm lines pass outside a saw, below 0 inside.

    The distance of two lines, the saw's axis (the third coordinate) one of them, is the part that
    is square to both.
    """
    inward = saw.pose.lines_inward(lines)
    (x, y), (dx, dy) = inward.points.T[:2], inward.directions.T[:2]
    away: Floats = np.abs(x * dy - y * dx) / np.hypot(dx, dy) + saw.shape.distance(np.zeros(3))
    return away


def raised(cluster: Cluster, by: Floats | float) -> Cluster:
    """The same branch with its mains moved ``by`` mm up its axis, (..., 1) for many joints."""
    up = by * np.array((0.0, 0.0, 1.0))
    return Cluster(cluster.branch, tuple(
        PlacedMain(main.shape, Pose(main.pose.origin + up, main.pose.axes))
        for main in cluster.mains))
