"""What an end is put together with: one main, or all those of a placed tube's end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol, Self

import numpy as np

from coper.arrays import Floats
from coper.joint.cluster import Cluster
from coper.joint.sides import Sided
from coper.shapes.pose import Pose
from coper.shapes.shape import BranchShape


@dataclass(frozen=True, slots=True, eq=False)
class Aside:
    """How branches stand otherwise round a main and along it: what one round main does not show.

    Attributes
    ----------
    lean : (...,) float, degrees
        Right-handed about the main's ``+`` way, ``x``.
    along : (...,) float, mm
        Towards its ``+`` end.
    """

    lean: Floats
    along: Floats

    def seen(self, pose: Pose) -> Pose:
        """Where what stands at ``pose``, in the main's axes, is for a branch that stands so.

        Derived: the branch turned about ``x`` and moved along it sees all else turned and moved
        the other way. Of many, (m,), the frames are those of m clusters, (m, 1, ...).
        """
        angle = np.radians(self.lean)
        cos, sin, one, none = np.cos(angle), np.sin(angle), np.ones_like(angle), 0 * angle
        rows = ((one, none, none), (none, cos, -sin), (none, sin, cos))
        back = np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)
        origin = pose.origin @ back
        origin = origin - self.along[..., None] * np.array((1.0, 0.0, 0.0))
        if angle.ndim:
            return Pose(origin[:, None, None], pose.axes @ back[:, None])
        return Pose(origin, pose.axes @ back)


class Mountable(Sided, Protocol):
    """A branch on what it was designed for, which can be mounted otherwise.

    Its angle and offset are those to one main; others are rigid with that one.
    """

    @property
    def branch(self) -> BranchShape:
        """The tube whose end is shaped."""

    @property
    def leans(self) -> bool:
        """Whether a lean round its main and a place along it show: it has other mains too."""

    @property
    def main_across(self) -> float | None:
        """Width of the main in mm, where it has one."""

    def cluster(self) -> Cluster:
        """The branch, and what it seats on in the branch's frame."""

    def clusters(
        self, angle: Floats, offset: Floats, aside: Aside | None = None
    ) -> Cluster:
        """Many at once, ``angle`` (m,) in degrees and ``offset`` (m,) in mm added to its own.

        With ``aside`` each leans round the main, or stands along it, by as much too.

        Clocks and depths that are asked of it are broadcast against (m, depths, clocks).
        """

    def mounted(self, angle: float, offset: float, lean: float = 0.0, along: float = 0.0) -> Self:
        """The same put together at an angle (degrees) and an offset (mm) that are more by this.

        The branch leans round the main by ``lean`` degrees, right-handed about its ``+`` way, and
        stands ``along`` mm further towards its ``+`` end.
        """

    def grown(self, by: float) -> Self:
        """The same on a main ``by`` mm larger; see ``MainShape.grown``."""
