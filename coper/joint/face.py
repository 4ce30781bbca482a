"""Cut faces: what is left of a tube's end, through the whole wall, by each way of cutting it.

A face says where it lies along the tube at a clock and a depth in the wall. Where it is ``nan``
there is nothing to seat: an open stretch is taken as trimmed away.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from coper.errors import JointError
from coper.joint.cluster import Cluster, PlacedMain
from coper.joint.edge import STEPS, even_clocks, extreme
from coper.joint.joint import Joint
from coper.joint.wall import square_along
from coper.shapes.checks import check_size, plain
from coper.shapes.lines import Floats
from coper.shapes.pose import Pose
from coper.shapes.round import Round
from coper.tolerances import TOUCH_MM


class Face(Protocol):
    """A cut through the wall of a tube."""

    @property
    def cluster(self) -> Cluster:
        """The branch, and what its cut follows."""

    def along(self, clock: Floats, depth: Floats) -> Floats:
        """Along in mm of the cut, in the common shape of ``clock`` and ``depth``."""


@dataclass(frozen=True, slots=True)
class Bevelled:
    """A face that follows the mains through the wall: the end fits with no gap at all."""

    cluster: Cluster

    def along(self, clock: Floats, depth: Floats) -> Floats:
        """Where each generator enters the mains, mm."""
        return self.cluster.along(clock, depth)


@dataclass(frozen=True, slots=True)
class Square:
    """A face square to the wall that clears the mains through the whole of it."""

    cluster: Cluster

    def along(self, clock: Floats, depth: Floats) -> Floats:
        """The same at every depth, mm."""
        flat = square_along(self.cluster, np.ravel(clock)).reshape(np.shape(clock))
        return np.broadcast_to(flat, np.broadcast_shapes(flat.shape, np.shape(depth)))


@dataclass(frozen=True, slots=True)
class Sawn:
    """A face cut by a hole saw or a drum: where each generator enters the saw."""

    cluster: Cluster

    def along(self, clock: Floats, depth: Floats) -> Floats:
        """Where each generator enters the saw, mm."""
        return self.cluster.along(clock, depth)


def sawn(joint: Joint, diameter: float, at: float = 0.0) -> Sawn:
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
            f"a saw of {plain(diameter)} mm leaves part of the tube uncut",
            f"take one of {needed:.2f} mm or more, or use the template", "saw")
    return Sawn(_saw_cluster(joint, Round(diameter), at))


def cut_face(joint: Joint, cut: str, saw: float | None = None) -> Face:
    """The face of a ``bevelled`` or ``square`` cut, or of a ``saw`` of so many mm."""
    if saw is not None:
        return sawn(joint, saw)
    return Square(joint.cluster()) if cut == "square" else Bevelled(joint.cluster())


def covering_diameter(joint: Joint) -> float:
    """The smallest saw in mm that cuts the whole of the branch at the joint's angle and offset.

    It has to reach the generator that passes furthest from its axis.
    """
    cluster = _saw_cluster(joint, Round(1.0), 0.0)
    pose = cluster.mains[0].pose

    def reach(clock: Floats) -> Floats:
        lines = pose.lines_inward(cluster.branch.generators(clock))
        (x, y), (dx, dy) = lines.points.T[:2], lines.directions.T[:2]
        # Distance of two lines, the other one the saw's axis (the third): the part square to both.
        away: Floats = np.abs(x * dy - y * dx) / np.hypot(dx, dy)
        return away

    return -2 * extreme(lambda clock: -reach(clock), even_clocks(STEPS))[1]


def _saw_cluster(joint: Joint, saw: Round, at: float) -> Cluster:
    cluster = replace(joint, main=saw, main_turn=0.0, main_at=0.0).cluster()
    return raised(cluster, at)


def raised(cluster: Cluster, by: float) -> Cluster:
    """The same branch with its mains moved ``by`` mm up its axis."""
    up = np.array((0.0, 0.0, by))
    return Cluster(cluster.branch, tuple(
        PlacedMain(main.shape, Pose(main.pose.origin + up, main.pose.axes))
        for main in cluster.mains))
