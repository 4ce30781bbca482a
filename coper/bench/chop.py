r"""How a flat end is cut on a chop saw, or another saw with a fence whose blade swings.

::

    from above                              from the end, along the tube
     ======================= fence          |  .---.
    |  tube                / the side at    |  |   |  the upper side
    |_____________________/  the fence      |  '---'
                blade ↗      is longer      fence

The blade stands upright and swings from straight across; where the cut is not upright however the
tube lies, it leans as well.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.joint.cope import Cope
from coper.joint.facing import clock_facing
from coper.shapes.round import Round
from coper.shapes.shape import BranchShape
from coper.shapes.tapered import Tapered

FLAT_MM = 1e-6
"""An edge that is this near to one plane is in it."""

UPRIGHT_DEG = 0.05
"""An angle that rounds to 0.0 degrees is none."""


@dataclass(frozen=True, slots=True)
class ChopCut:
    """What is set on a saw with a fence.

    Attributes
    ----------
    angle : float, degrees
        The blade's swing from straight across, 0 to 90.
    lean : float, degrees
        The blade's lean from upright, 0 where it stands upright; the upper side is then longer.
    fence : float, degrees
        The clock, as the end counts it, of the side that lies against the fence: the longer one.
    up : float, degrees
        The clock, as the end counts it, that is up.
    """

    angle: float
    lean: float
    fence: float
    up: float

    @property
    def square(self) -> bool:
        """Whether the cut is straight across."""
        return self.angle < UPRIGHT_DEG and not self.lean


def chop_cut(cope: Cope) -> ChopCut | None:
    """How to saw the end that ``cope`` gives; ``None`` where it is not in one plane."""
    normal = _normal(cope)
    if normal is None:
        return None
    branch = cope.cluster.branch
    first, second, along = normal.tolist()
    round_ = isinstance(branch, Round | Tapered)
    turns = [math.atan2(second, first)] if round_ else [k * math.pi / 2 for k in range(4)]
    # A round tube is turned until the cut is upright; another lies on one of its four sides, the
    # one that leaves the least lean.
    turn = max(turns, key=lambda turn: round(first * math.cos(turn) + second * math.sin(turn), 9))
    out = first * math.cos(turn) + second * math.sin(turn)
    upward = 0.0 if round_ else -first * math.sin(turn) + second * math.cos(turn)
    lean = math.degrees(math.asin(min(abs(upward), 1.0)))
    leans = lean >= UPRIGHT_DEG
    up = turn + (math.copysign(math.pi / 2, upward) if leans else math.pi / 2)
    return ChopCut(math.degrees(math.atan2(out, along)), lean if leans else 0.0,
                   _clock(branch, turn), _clock(branch, up))


def _clock(branch: BranchShape, turn: float) -> float:
    """The clock in degrees that faces the direction at ``turn``, radians from clock 0."""
    return round(clock_facing(branch, math.cos(turn), math.sin(turn)), 6) % 360


def _normal(cope: Cope) -> Floats | None:
    """Square to the plane of a cut (3,), of length 1, towards the tube's body.

    ``None`` where outside and inside edge are not in one plane, or part of them is open.
    """
    inside = cope.cluster.branch.generators(cope.clock, cope.cluster.wall(), cope.inner)
    points = np.concatenate((cope.points, inside.at(cope.inner)))
    if np.isnan(points).any():
        return None
    middle = points.mean(axis=0)
    # The direction in which the points spread least (singular value decomposition).
    normal: Floats = np.linalg.svd(points - middle, full_matrices=False)[2][2]
    if np.abs((points - middle) @ normal).max() > FLAT_MM:
        return None
    return normal if normal[2] >= 0 else -normal
