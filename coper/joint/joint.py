"""A branch on one main, as a person measures it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from coper.arrays import Floats, Number
from coper.errors import JointError, ShapeError
from coper.joint.cluster import Cluster, PlacedMain
from coper.joint.cope import Cope, make_cope
from coper.joint.edge import STEPS
from coper.joint.facing import clock_facing
from coper.joint.mountable import Aside
from coper.shapes.arc import Arc
from coper.shapes.bent import Bent
from coper.shapes.pose import Pose, turned
from coper.shapes.shape import BranchShape, MainShape, as_branch, as_main
from coper.shapes.words import tube_words, walled_example
from coper.units import plain

SIDE = np.array((0.0, 1.0, 0.0))
"""The direction ``y``, to which a positive offset goes."""

CLOCK_PLACES = 9
"""Decimals of a side's clock, degrees: what lies behind them is the residue of sine and cosine."""


@dataclass(frozen=True, slots=True)
class Joint:
    """One branch on one main.

    ::

               b (branch, away from the joint)
              /
             /  angle
        ----o-------------> x (the main's + end)

    Attributes
    ----------
    branch, main : shapes
    angle : float, degrees
        From the main's ``+`` end to the branch, above 0 and below 180.
    offset : float, mm
        The branch's axis passes the main's at this distance, on the side of ``+y``.
    turn : float, degrees
        Turns the branch's reference line about ``b``, right-handed.
    main_turn : float, degrees
        Turns the main's section about ``x``, right-handed.
    main_at : float, mm
        Where on ``x`` the main's own start (a taper's first diameter) stands.
    """

    branch: BranchShape
    main: MainShape
    angle: float
    offset: float = 0.0
    turn: float = 0.0
    main_turn: float = 0.0
    main_at: float = 0.0

    def __post_init__(self) -> None:
        for name in ("angle", "offset", "turn", "main_turn", "main_at"):
            value = getattr(self, name)
            if not math.isfinite(value):
                raise JointError(f"{value} is no number to build on", "give a finite one", name)
        if not 0 < self.angle < 180:
            raise JointError(
                f"{plain(self.angle)} degrees between the axes is no joint",
                "give an angle above 0 and below 180, from the main's + end to the branch",
                "angle",
            )
        for check, name in ((as_branch, "branch"), (as_main, "main")):
            try:
                check(getattr(self, name))
            except ShapeError as error:
                raise error.at(name) from error
        if self.branch.wall is None:
            raise JointError(
                f"{tube_words(self.branch)} has no wall",
                f"say its wall thickness, such as {walled_example(self.branch)}", "branch")

    @property
    def heel_clock(self) -> float:
        """Clock of the acute side, degrees; at 90 degrees the side of the main's ``+`` end."""
        return self.side_clock(0)

    @property
    def toe_clock(self) -> float:
        """Clock of the obtuse side, degrees: across from the heel."""
        return self.side_clock(2)

    def side_clock(self, quarters: int) -> float:
        """The clock, degrees, that stands so many quarter turns on from the heel.

        A clock is a share of the way round: on an oval that is turned, quarter turns are not
        quarters of the clock.
        """
        ray = math.radians(90 * quarters - self.turn + (0 if self.angle <= 90 else 180))
        return round(clock_facing(self.branch, math.cos(ray), math.sin(ray)), CLOCK_PLACES) % 360

    @property
    def leans(self) -> bool:
        """Never: it has one main, and a round one looks the same all round and all along."""
        return False

    @property
    def main_across(self) -> float | None:
        """Width of the main in mm, where it has one."""
        return self.main.across

    def counted(self, clock: Number) -> Number:
        """Clocks, degrees, as the person counts them: a branch by itself counts as its joint."""
        return clock

    def mounted(self, angle: float, offset: float, lean: float = 0.0, along: float = 0.0) -> Self:
        """The joint as it is put together, its angle (degrees) and offset (mm) more by this.

        It leans round the main by ``lean`` degrees, and stands ``along`` mm further along it.
        """
        return replace(self, angle=self.angle + angle, offset=self.offset + offset,
                       main_turn=self.main_turn - lean, main_at=self.main_at - along)

    def grown(self, by: float) -> Self:
        """The joint on a main ``by`` mm larger; see ``MainShape.grown``."""
        return replace(self, main=self.main.grown(by))

    def cluster(self) -> Cluster:
        """The branch, and the main in the branch's frame."""
        return self._placed(np.array(self.angle), np.array(self.offset))

    def clusters(
        self, angle: Floats, offset: Floats, aside: Aside | None = None
    ) -> Cluster:
        """Many such joints at once, ``angle`` (m,) and ``offset`` (m,) added to each one's own.

        With ``aside`` each leans round the main, or stands along it, by as much too. Clocks and
        depths that are asked of it are broadcast against (m, depths, clocks).
        """
        return self._placed(self.angle + angle[:, None], self.offset + offset[:, None, None],
                            aside)

    def cope(self, points: int = STEPS) -> Cope:
        """The cope at ``points`` even clocks from 0, and at every break between them.

        Raises
        ------
        JointError
            Where every generator passes the main by, with the distance.
        """
        return make_cope(self.cluster(), points)

    def _placed(
        self, angle: Floats, offset: Floats, aside: Aside | None = None
    ) -> Cluster:
        """The cluster at angles (...,) in degrees and offsets (...,) in mm."""
        stands = self._main_pose()
        if aside is not None:
            stands = aside.seen(stands)
        pose = stands.seen_from(self.branch_pose(angle, offset))
        main = self.main
        if isinstance(main, Bent):
            main = Arc(main, math.pi, foot=0.0)
        return Cluster(self.branch, (PlacedMain(main, pose),))

    def branch_pose(self, angle: Floats, offset: Floats) -> Pose:
        """The branch's frame at angles (...,) in degrees and offsets (...,) in mm."""
        sin, cos = np.sin(np.radians(angle)), np.cos(np.radians(angle))
        none = np.zeros_like(sin)
        first, axis = (np.stack(row, axis=-1) for row in ((sin, none, -cos), (cos, none, sin)))
        second = np.broadcast_to(SIDE, first.shape)
        rows = (*turned(first, second, self.turn), axis)
        return Pose(offset[..., None] * SIDE, np.stack(rows, axis=-2))

    def _main_pose(self) -> Pose:
        along, side, up = np.eye(3)
        return Pose(self.main_at * along, np.stack((*turned(side, up, self.main_turn), along)))
