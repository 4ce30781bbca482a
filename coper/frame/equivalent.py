"""The joint that an end and one of its mains make, as a person would measure it at a bench.

::

              b   branch, away from the joint          P  the end's point
             /
        P   o                P = F + offset y + shift b
           /
    ------F-------> x        F  foot on the main's axis
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats
from coper.frame.stance import axis_near, main_foot, make_stance
from coper.frame.tube import Tube, Which
from coper.joint.joint import Joint
from coper.shapes.bent import Bent
from coper.shapes.course import Course
from coper.shapes.flipped import Flipped
from coper.shapes.plate import Plate
from coper.shapes.read import Shape
from coper.shapes.round import Round
from coper.shapes.shape import BranchShape, MainShape, as_branch, as_main
from coper.shapes.shifted import Shifted
from coper.shapes.tapered import Tapered
from coper.tolerances import SQUARE_DEG


@dataclass(frozen=True, slots=True)
class Equivalent:
    """An end on one main as a ``Joint``; both tell the same clock.

    Attributes
    ----------
    joint : Joint
    shift : float, mm
        What is added to an along of the end to get the joint's.
    """

    joint: Joint
    shift: float


def equivalent_joint(tube: Tube, which: Which, main: Tube) -> Equivalent:
    """``tube``'s end ``which`` on ``main``, alone.

    Derived: with ``d`` from a point of the main's axis to the end's point,
    ``d = t x + offset y + shift b`` and ``b = x cos A + z sin A``, so that ``shift = d.z / sin A``
    and ``t = d.x - shift cos A``.

    Raises
    ------
    JointError
        Where the tube runs along the main.
    """
    seat = make_stance(tube, which, main)
    angle_deg = 90.0 if abs(seat.angle - 90) <= SQUARE_DEG else seat.angle
    _, pose = tube.seen_from(which)
    angle = math.radians(angle_deg)
    sin, cos = math.sin(angle), math.cos(angle)
    shape, origin, second, x = _main_frame(main, pose.origin, pose.axes[2])
    z = (pose.axes[2] - cos * x) / sin
    y = np.cross(z, x)
    to_point = pose.origin - origin
    shift = float(to_point @ z) / sin
    along = shift * cos - float(to_point @ x)
    if isinstance(shape, Tapered):
        along, shape = along + shape.first_at, replace(shape, first_at=0.0)
    return Equivalent(
        Joint(
            _seen(tube, which, shift), shape, angle_deg, seat.offset,
            turn=_degrees(pose.axes[0], sin * x - cos * z, y),
            main_turn=0.0 if isinstance(shape, Round | Tapered) else _degrees(second, z, -y),
            main_at=along if isinstance(shape, Tapered | Bent) else 0.0),
        shift)


def _degrees(direction: Floats, ahead: Floats, aside: Floats) -> float:
    """How far ``direction`` (3,) is turned from ``ahead`` towards ``aside``."""
    return math.degrees(math.atan2(direction @ aside, direction @ ahead))


def _main_frame(
    main: Tube, point: Floats, away: Floats
) -> tuple[MainShape, Floats, Floats, Floats]:
    """What is seated on, a point of its axis, its second coordinate's direction and its axis (3,).

    Of a tube with bends it is the leg or the bend that the branch's axis passes nearest.
    """
    shape = as_main(main.shape)
    if main.course is not None:
        return _on_course(shape, main.course, main_foot(main, point, away))
    first, second, _ = main.pose.axes
    foot, ahead = axis_near(main, point, away)
    if isinstance(shape, Bent):
        return shape, foot, np.cross(ahead, first), ahead
    if isinstance(shape, Plate):
        return shape, point - ((point - main.pose.origin) @ second) * second, second, ahead
    return shape, foot, second, ahead


def _on_course(
    shape: MainShape, course: Course, foot: float
) -> tuple[MainShape, Floats, Floats, Floats]:
    """The same of a leg, from the tube's own start, or of a bend, from the station ``foot``, mm."""
    here, part = course.frames(np.array(foot)), course.stretches[int(course.number(np.array(foot)))]
    _, second, ahead = here.axes
    if part.is_bend and isinstance(shape, Round):
        return (Bent(shape.diameter, part.radius, shape.wall), here.origin,
                -(part.inward @ here.axes[:2]), ahead)
    return shape, here.origin - foot * ahead, second, ahead


def _seen(tube: Tube, which: Which, shift: float) -> BranchShape:
    """The tube as the joint sees it: along 0 is ``shift`` mm before the end's own."""
    shape: Shape = tube.shape
    if isinstance(shape, Tapered):
        cone = _tapered(shape, tube.length, which, shift)
        if cone is not None:
            return cone
    elif shape.kind != "tapered oval":
        return as_branch(shape)  # one section, and the same from either end
    if which == "start":
        return Shifted(as_branch(shape), shift)
    return Flipped(as_branch(shape), tube.length + shift)


def _tapered(shape: Tapered, length: float, which: Which, shift: float) -> Tapered | None:
    """The same cone, its stations counted from the joint's axis; ``None`` where it closes there."""
    low, body = (-shift, 1) if which == "start" else (length + shift, -1)
    start, end = (2 * float(shape.radius(at)) for at in (low, low + body * shape.length))
    if min(start, end) <= 2 * (shape.wall or 0.0):
        return None
    return replace(shape, start=start, end=end, first_at=0.0)
