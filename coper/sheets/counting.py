"""From an end's own clocks and alongs to those that stand on its tube's paper."""

from __future__ import annotations

from dataclasses import dataclass

from coper.arrays import Floats
from coper.frame.end import own_ways
from coper.frame.end_joint import EndJoint
from coper.frame.tube import Tube, Which
from coper.joint.mountable import Mountable
from coper.shapes.shape import BranchShape
from coper.sheets.strip import CutEdge


@dataclass(frozen=True, slots=True, eq=False)
class Counting:
    """How a tube counts.

    Attributes
    ----------
    branch : shape
        As its paper has it: a placed tube from its start.
    end : EndJoint or None
        The end whose clocks and alongs are its own; ``None`` of a branch by itself.
    """

    branch: BranchShape
    end: EndJoint | None = None

    def edge(self, clock: Floats, along: Floats) -> CutEdge:
        """A cut (n,), degrees and mm, whose clocks grow from the seam once round."""
        if self.end is None:
            return CutEdge(clock, along, 1)
        return counted_edge(self.end.tube, self.end.end.which, clock, along)


def counted_edge(tube: Tube, which: Which, clock: Floats, along: Floats) -> CutEdge:
    """A cut (n,), degrees and mm, of an end's own from some seam once round, as ``tube`` counts."""
    if which == "start":
        return CutEdge(clock, along, 1)
    _, counted_along = own_ways(tube, which)
    back = -clock[::-1]
    return CutEdge(back - back[0] + back[0] % 360, counted_along(along[::-1]), -1)


def counting_of(joint: Mountable) -> Counting:
    """How the tube counts whose end is put together so."""
    if isinstance(joint, EndJoint):
        return Counting(joint.tube.seen_from("start")[0], joint)
    return Counting(joint.branch)
