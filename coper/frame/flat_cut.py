r"""Ends that are cut in one plane: mitred with another tube, or along a face of their own.

::

      own body |   / mitre              the mitre halves the corner: its plane holds the corner's
               |  /   __                bisector, and is square to the plane of both axes
               | / __/  other body
               |/_/
               o  the point of both ends
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.frame.tube import Side, Tube, Which
from coper.shapes.plate import Plate
from coper.units import plain

How = Literal["face", "mitre", "twin"]

FLATTEST_DEG = 5.0
"""A cut that lies flatter to its tube is eleven times as long as the tube is wide, and no saw with
a fence makes it."""

TURNED_BACK = 1e-9
"""Two ways into two tubes that differ by less are one."""

PLANE_MM = 100.0
"""How long the line is that stands for a plane: any length would do."""


@dataclass(frozen=True, slots=True, eq=False)
class FlatCut:
    """What makes an end flat.

    Attributes
    ----------
    how : ``face``, ``mitre`` or ``twin``
    partner : str
        The other tube and its side, as it is called; empty for a face.
    from_square : float, degrees
        Between the cut and one straight across, as saws are marked.
    normal : (3,) float
        Square to the cut, towards the tube's body.
    """

    how: How
    partner: str
    from_square: float
    normal: Floats


def mitre_normal(own: Floats, other: Floats) -> Floats:
    """Square to the plane (3,) that halves the corner of two tubes, towards the first one.

    Derived: both ways in, (3,) of length 1, are as far from the plane, on its two sides, so their
    difference is square to it.

    Raises
    ------
    JointError
        Where one tube lies in the other.
    """
    apart = own - other
    length = float(np.linalg.norm(apart))
    if length < TURNED_BACK:
        raise JointError("both tubes leave the corner the same way", "move one of their points")
    normal: Floats = apart / length
    return normal


def from_square(tube: Tube, which: Which, normal: Floats) -> float:
    """Degrees between a plane square to ``normal`` (3,) and one straight across an end."""
    sine = float(np.linalg.norm(np.cross(tube.way_in(which), normal)))
    return math.degrees(math.asin(min(sine, 1.0)))


def cut_plane(tube: Tube, which: Which, normal: Floats, name: str, side: Side) -> Tube:
    """The plane through an end's point as a plate that the end seats on.

    Its face looks the way of ``normal`` (3,), of length 1, into the tube, and its line runs the
    way that the tube leans over it.

    Raises
    ------
    JointError
        Where it lies flatter to the tube than ``FLATTEST_DEG``.
    """
    flat = 90 - from_square(tube, which, normal)
    if flat < FLATTEST_DEG:
        raise JointError(
            f"the cut would lie at {plain(round(flat, 2))} degrees to the tube, too flat to saw",
            f"{plain(FLATTEST_DEG)} degrees or more can be cut: move a point, or turn its plane",
            which)
    point = tube.point(which)
    away = tube.way_in(which)
    along = away - (away @ normal) * normal
    if np.linalg.norm(along) < TURNED_BACK:
        along = tube.pose.axes[0]
    bare = Tube(Plate(1.0), point, point + PLANE_MM * along / np.linalg.norm(along), name, side)
    first, second, _ = bare.pose.axes
    turn = math.degrees(math.atan2(-float(normal @ first), float(normal @ second)))
    return Tube(bare.shape, bare.start, bare.end, name, side, turn)


def stands_over(points: Floats, partner: Tube) -> float:
    """How far the outside edge (n, 3) of a mitre stands over its partner's outside, mm.

    Below 0 where all of it lies inside; 0 where the outlines are one.
    """
    return float(partner.as_main.distance(partner.pose.inward(points)).max())
