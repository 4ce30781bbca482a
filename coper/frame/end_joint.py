"""An end of a placed tube as what it is put together with: all its mains, as one rigid thing."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats, Number
from coper.errors import JointError
from coper.frame.end import TubeEnd, counted, main_shares, own_ways
from coper.frame.equivalent import equivalent_joint
from coper.frame.tube import Tube
from coper.joint.cluster import Cluster, PlacedMain
from coper.joint.fit.face import raised
from coper.joint.joint import Joint
from coper.joint.mountable import Aside
from coper.joint.ordinates import Ordinates
from coper.shapes.pose import Pose
from coper.shapes.shape import BranchShape


@dataclass(frozen=True, slots=True, eq=False)
class EndJoint:
    """An end on all its mains; angle and offset are those to the one that takes most of it.

    Attributes
    ----------
    tube : Tube
    end : TubeEnd
    main : int
        Which of the end's mains that is.
    first : Joint
        The end on that main alone, as it is mounted.
    shift : float, mm
        What is added to an along of the end to get the joint's.
    mains : tuple of PlacedMain
        All of them, in the axes of that joint, where they stay.
    designed : bool
        Whether all is as the design has it.
    lean, along : float, degrees and mm
        How far it leans round that main, and stands along it, from where the design has it.
    """

    tube: Tube
    end: TubeEnd
    main: int
    first: Joint
    shift: float
    mains: tuple[PlacedMain, ...]
    designed: bool = True
    lean: float = 0.0
    along: float = 0.0

    @property
    def leans(self) -> bool:
        """Whether it has more mains than one: round one and along it nothing would show."""
        return len(self.mains) > 1

    @property
    def branch(self) -> BranchShape:
        """The tube as this end sees it."""
        return self._whole.branch

    @property
    def angle(self) -> float:
        """To the main that takes most, degrees."""
        return self.first.angle

    @property
    def main_across(self) -> float | None:
        """Width of that main in mm, where it has one."""
        return self.first.main_across

    @property
    def heel_clock(self) -> float:
        """Clock of the acute side, degrees, as the end counts."""
        return self.first.heel_clock

    @property
    def toe_clock(self) -> float:
        """Clock of the obtuse side, degrees, as the end counts."""
        return self.first.toe_clock

    def side_clock(self, quarters: int) -> float:
        """The clock, degrees, that stands so many quarter turns on from the heel."""
        return self.first.side_clock(quarters)

    def counted(self, clock: Number) -> Number:
        """Clocks of the end, degrees, as the tube counts them; the same the other way."""
        return counted(self.end.which, clock)

    def counted_along(self, along: Number) -> Number:
        """Alongs of the end, mm, from the tube's start point; the same the other way."""
        return own_ways(self.tube, self.end.which)[1](along)

    def cluster(self) -> Cluster:
        """The tube and all its mains, in the end's own frame."""
        if self.designed:
            return self._whole
        return self._placed(np.array(self.first.angle), np.array(self.first.offset),
                            Aside(np.array(self.lean), np.array(self.along)))

    def clusters(
        self, angle: Floats, offset: Floats, aside: Aside | None = None
    ) -> Cluster:
        """Many at once, ``angle`` (m,) in degrees and ``offset`` (m,) in mm added to its own.

        With ``aside`` each leans round the main, or stands along it, by as much too.
        """
        own = np.full(angle.shape, self.lean), np.full(angle.shape, self.along)
        more = (0.0, 0.0) if aside is None else (aside.lean, aside.along)
        return self._placed(self.first.angle + angle[:, None],
                            self.first.offset + offset[:, None, None],
                            Aside(own[0] + more[0], own[1] + more[1]))

    def mounted(
        self, angle: float, offset: float, lean: float = 0.0, along: float = 0.0
    ) -> EndJoint:
        """The same put together at an angle (degrees) and an offset (mm) that are more by this.

        It leans round the main by ``lean`` degrees more, and stands ``along`` mm further along it.
        """
        return replace(self, first=self.first.mounted(angle, offset),
                       lean=self.lean + lean, along=self.along + along,
                       designed=self.designed and not (angle or offset or lean or along))

    def grown(self, by: float) -> EndJoint:
        """The same, the main that takes most ``by`` mm larger."""
        mains = tuple(
            PlacedMain(one.shape.grown(by), one.pose) if index == self.main else one
            for index, one in enumerate(self.mains))
        return replace(self, first=self.first.grown(by), mains=mains, designed=False)

    def counted_table(self, table: Ordinates) -> Ordinates:
        """Lengths to set off, clocks and their line as the tube counts them."""
        clock = self.counted(table.clock)
        order = np.argsort(clock, kind="stable")
        round_there = self.branch.girth(along=table.line)
        return replace(table, clock=clock[order], way=clock[order] / 360 * round_there,
                       length=table.length[order], line=self.counted_along(table.line))

    @property
    def _whole(self) -> Cluster:
        assert self.end.cope is not None
        return self.end.cope.cluster

    def _placed(self, angle: Floats, offset: Floats, aside: Aside) -> Cluster:
        """The cluster at angles (...,) in degrees and offsets (...,) in mm."""
        branch = self.first.branch_pose(angle, offset)
        seen = tuple(PlacedMain(one.shape, aside.seen(one.pose).seen_from(branch))
                     for one in self.mains)
        return raised(Cluster(self.branch, seen), -self.shift)


def end_joint(tube: Tube, end: TubeEnd) -> EndJoint:
    """What a coped ``end`` of ``tube`` is put together with.

    Raises
    ------
    JointError
        Where it seats on nothing.
    """
    if end.cope is None:
        raise JointError("it seats on nothing", "name an end that is coped", end.which)
    main, _ = main_shares(end.cope.cluster)[0]
    equal = equivalent_joint(tube, end.which, end.mains[main])
    here = equal.joint.branch_pose(np.array(equal.joint.angle), np.array(equal.joint.offset))
    mains = tuple(
        PlacedMain(one.shape, Pose(here.outward(one.pose.origin), one.pose.axes @ here.axes))
        for one in raised(end.cope.cluster, equal.shift).mains)
    return EndJoint(tube, end, main, equal.joint, equal.shift, mains)
