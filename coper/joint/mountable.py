"""What an end is put together with: one main, or all those of a placed tube's end."""

from __future__ import annotations

from typing import Protocol, Self

from coper.arrays import Floats
from coper.joint.cluster import Cluster
from coper.joint.sides import Sided
from coper.shapes.shape import BranchShape


class Mountable(Sided, Protocol):
    """A branch on what it was designed for, which can be mounted otherwise.

    Its angle and offset are those to one main; others are rigid with that one.
    """

    @property
    def branch(self) -> BranchShape:
        """The tube whose end is shaped."""

    @property
    def main_across(self) -> float | None:
        """Width of the main in mm, where it has one."""

    def cluster(self) -> Cluster:
        """The branch, and what it seats on in the branch's frame."""

    def clusters(self, angle: Floats, offset: Floats) -> Cluster:
        """Many at once, ``angle`` (m,) in degrees and ``offset`` (m,) in mm added to its own.

        Clocks and depths that are asked of it are broadcast against (m, depths, clocks).
        """

    def mounted(self, angle: float, offset: float) -> Self:
        """The same put together at an angle (degrees) and an offset (mm) that are more by this."""

    def grown(self, by: float) -> Self:
        """The same on a main ``by`` mm larger; see ``MainShape.grown``."""
