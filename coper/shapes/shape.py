"""What a tube has to answer to be a branch, and what to be a main.

Every shape stands in its own frame: its axis is the third coordinate, its section lies in the
first two, and its own reference line (clock 0) is on the side of the first::

        second
          |   . clock 45
          | .
          +------ first, clock 0          third axis: out of the page, along the tube
"""

from __future__ import annotations

from typing import Protocol, runtime_checkable

from coper.shapes.lines import Floats, Lines, Whole


@runtime_checkable
class BranchShape(Protocol):
    """A tube whose end can be coped: its surface is swept by straight generators."""

    @property
    def kind(self) -> str:
        """The shape's trade name, as in the tube grammar."""

    @property
    def wall(self) -> float | None:
        """Wall thickness in mm, ``None`` where it was not given."""

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""

    def reach(self) -> float:
        """The largest distance in mm of the section's outside from the axis, near the joint."""

    def generators(self, clock: Floats, depth: Floats | float = 0.0) -> Lines:
        """The generators at ``clock`` (degrees), ``depth`` mm inside the outside surface.

        The two are broadcast against each other; the lines have the shape of both.
        """

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) of the outside at the skin points nearest ``points``."""

    def girth(self) -> float:
        """The way round the outside in mm, where the joint is."""

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Skin points unrolled flat: x to the side of growing clock, y along the tube, in mm.

        ``clock`` may run past 360 or below 0, to unroll over a seam. ``lift`` is how far outside
        the skin the flat sheet's middle lies (half the paper).
        """


@runtime_checkable
class MainShape(Protocol):
    """A member that a branch can seat on, filled solid: only its outside counts."""

    @property
    def kind(self) -> str:
        """The shape's trade name, as in the tube grammar."""

    def words(self) -> str:
        """The member in the grammar of the command line, in mm."""

    @property
    def patches(self) -> int:
        """How many smooth pieces the skin has, 1 where it has no edge and no seam."""

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line, followed from large along down, first enters.

        ``nan`` where a line never enters.
        """

    def patch(self, points: Floats) -> Whole:
        """Which smooth piece of the skin each of ``points`` (..., 3) lies on, from 0."""

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` to the skin, negative inside."""

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at the skin points nearest ``points``."""

    def unrolled(self, points: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Skin points as (position along the member, way round the outside), in mm.

        The way round counts from the line at clock 90, where a branch lands, and grows towards
        clock 0; ``lift`` is how far outside the skin the flat sheet's middle lies.
        """
