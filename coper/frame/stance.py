"""How a tube stands on a main, as a person measures one joint."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.frame.tube import Tube, Which
from coper.joint.facing import clock_facing
from coper.shapes.arc import Arc
from coper.shapes.plate import Plate
from coper.shapes.run import Run
from coper.tolerances import PARALLEL_DEG, SQUARE_DEG


@dataclass(frozen=True, slots=True)
class Stance:
    """The equivalent of one joint: what ``Joint`` would be given for this end and this main.

    Attributes
    ----------
    name, side : str
        Of the main.
    angle : float, degrees
        From the main's end point's side to the branch, away from the joint.
    offset : float, mm
        Between the axes, in the convention of ``Joint``.
    heel_clock : float, degrees
        The side of the acute angle, in the branch's own clock.
    """

    name: str
    side: str
    angle: float
    offset: float
    heel_clock: float


def make_stance(tube: Tube, which: Which, main: Tube) -> Stance:
    """The seat of ``tube``'s end ``which`` on ``main``."""
    shape, pose = tube.seen_from(which)
    away = pose.axes[2]
    foot, ahead = axis_near(main, pose.origin, away)
    square = np.cross(away, ahead)
    sine, cosine = float(np.linalg.norm(square)), float(ahead @ away)
    if sine < math.radians(PARALLEL_DEG):
        raise JointError(f"{main.name} runs along the same direction",
                         "an end seats on a tube that it stands at an angle to")
    angle = math.degrees(math.atan2(sine, cosine))
    plus = (ahead - cosine * away) / sine
    heel = plus if angle <= 90 + SQUARE_DEG else -plus
    own = tube.pose.axes @ heel
    offset = 0.0 if isinstance(main.shape, Plate) else float((pose.origin - foot) @ square) / sine
    base = shape if which == "start" else tube.seen_from("start")[0]
    return Stance(main.name, main.side, angle, offset, clock_facing(base, own[0], own[1]))


def axis_near(main: Tube, point: Floats, away: Floats) -> tuple[Floats, Floats]:
    """A point of the main's axis and the axis's direction (3,), as a branch meets it.

    Of a bend it is the tangent where the centreline passes the branch's axis nearest; of a plate
    the line of the face that the branch leans along.
    """
    pose, shape = main.pose, main.as_main
    if main.course is not None:
        here = main.course.frames(np.array(main_foot(main, point, away)))
        return here.origin, here.axes[2]
    if isinstance(shape, Arc):
        near, ahead = shape.tangent_near(pose.inward(point), pose.axes @ away)
        return pose.outward(near), pose.turned_outward(ahead)
    if isinstance(shape, Plate):
        return point, _lean(pose.axes, away)
    return pose.origin, pose.axes[2]


def main_foot(main: Tube, point: Floats, away: Floats) -> float:
    """Where along ``main``, mm, its centreline passes a branch's axis nearest.

    That axis goes through ``point`` (3,) along the unit ``away`` (3,).
    """
    pose, shape = main.pose, main.as_main
    if isinstance(shape, Run):
        return shape.foot(pose.inward(point), pose.axes @ away)
    return float(main.station(axis_near(main, point, away)[0]))


def passing(main: Tube, point: Floats, away: Floats) -> tuple[Floats, Floats]:
    """Where a branch's axis and a main's pass each other nearest: points (3,) of either, mm.

    The branch's comes first; that axis goes through ``point`` (3,) along the unit ``away`` (3,).
    Derived: the way from the one axis to the other is square to both.
    """
    foot, ahead = axis_near(main, point, away)
    square, apart = away - (away @ ahead) * ahead, point - foot
    own = point - (apart @ square) / (square @ square) * away
    its: Floats = foot + ((own - foot) @ ahead) * ahead
    return own, its


def _lean(axes: Floats, away: Floats) -> Floats:
    """The direction (3,) in a plate's face that ``away`` (3,) leans along; ``axes`` (3, 3)."""
    normal = axes[1]
    along: Floats = away - (away @ normal) * normal
    size = float(np.linalg.norm(along))
    if size < math.radians(PARALLEL_DEG):
        ahead: Floats = axes[2]
        return ahead
    return along / math.copysign(size, float(along @ axes[2]))
