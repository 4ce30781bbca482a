"""Whether a tube can be bent along a course."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from coper.arrays import Floats
from coper.errors import ShapeError
from coper.shapes.bent import Bent
from coper.shapes.box import Box
from coper.shapes.checks import check_size
from coper.shapes.course import Course, Stretch
from coper.shapes.oval import Oval
from coper.shapes.plate import Plate
from coper.shapes.read import Shape
from coper.shapes.shape import BranchShape, as_branch
from coper.shapes.tapered_oval import TaperedOval
from coper.shapes.words import tube_words
from coper.units import format_size, plain

TIGHT = 1.5
"""Bent to less than so many times its diameter a tube needs a mandrel, and its wall thins: common
practice, without a source."""

IN_PLANE_DEG = 0.1
"""Nobody sets a plane of bending more closely."""

CLOCKS = np.arange(0.0, 360.0, 2.5)
"""Where a section is looked at for how far it reaches."""


def check_bends(shape: Shape, corners: Floats, radii: tuple[float, ...]) -> None:
    """Refuse corners (k, 3) of what is not bent on a bender, and radii that do not fit them."""
    if isinstance(shape, Plate | Bent):
        what = "a plate" if isinstance(shape, Plate) else f"{tube_words(shape)}, itself a bend,"
        raise ShapeError(f"{what} cannot have corners", "give the straight tube as shape, such as "
                         '"38.1 x 1.6", or take out corners', "shape")
    if len(corners) != len(radii):
        raise ShapeError(f"{len(radii)} radii for {len(corners)} corners",
                         "give one radius, or one for each corner", "bend")
    for radius in radii:
        check_size(radius, "bend radius")


def check_course(shape: Shape, course: Course) -> None:
    """Refuse a course that the tube cannot be bent along."""
    branch = as_branch(shape)
    for number, bend in enumerate(course.bends, 1):
        deep = _deep(branch, bend)
        if bend.radius <= deep / 2:
            raise ShapeError(
                f"bend {number}: radius {format_size(bend.radius)} is too tight for a tube "
                f"{format_size(round(deep, 2))} deep",
                f"give the radius of the centreline, above {format_size(round(deep / 2, 2))}",
                "bend")
    if isinstance(shape, Oval | TaperedOval | Box):
        _check_plane(shape, course)


def _check_plane(shape: Shape, course: Course) -> None:
    """Refuse bends in different planes of a tube that is not round."""
    for number, turn in enumerate(plane_turns(course), 2):
        off = min(abs(turn), 180 - abs(turn))
        if off > IN_PLANE_DEG:
            raise ShapeError(
                f"bend {number} is {plain(round(off, 2))} degrees out of the plane of the bend "
                f"before it: {tube_words(shape)} bends in one plane",
                "move the corners into one plane", "corners")


def plane_turns(course: Course) -> tuple[float, ...]:
    """From each bend's plane to the next one's, degrees, above -180 to 180.

    Right-handed about the tube, clockwise as seen from the start. A section is carried along
    without a twist, so that it is the turn of the two ways inward in it.
    """
    inward = [math.degrees(math.atan2(bend.inward[1], bend.inward[0])) for bend in course.bends]
    return tuple(180 - (before - after + 180) % 360
                 for before, after in pairwise(inward))


def tight_bends(shape: Shape, course: Course) -> Iterator[str]:
    """A caution for each bend that is tight for its tube."""
    branch = as_branch(shape)
    for number, bend in enumerate(course.bends, 1):
        times = bend.radius / _deep(branch, bend)
        if times < TIGHT:
            yield (f"Bend {number} is tight, {plain(round(times, 2))} times what is bent: ask "
                   "whether your bender does it without a kink.")


def _deep(branch: BranchShape, bend: Stretch) -> float:
    """How deep the section is in the plane of a bend, mm: the deeper of the bend's two ends."""
    lines = branch.generators(CLOCKS)
    return max(float(np.ptp(lines.at(np.full(CLOCKS.shape, along))[:, :2] @ bend.inward))
               for along in (bend.low, bend.high))
