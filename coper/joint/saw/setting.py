"""What to set on a hole-saw fixture or drill press."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.errors import JointError
from coper.joint.cope import Cope
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.shapes.round import Round
from coper.units import INCH_MM, format_short

MOST_SIDES = 2
"""A cut is begun from one side of the tube, or from two that meet: there is no third."""

SHOWN_MM = 0.01
"""Lengths are shown to a hundredth of a mm."""

USUAL_DEPTH_MM = 1.875 * INCH_MM
"""Cutting depth of the usual saw: 1-7/8 in (a saw maker's table)."""

RPM_AT_ONE_INCH = {"mild steel": 350, "stainless steel": 175, "aluminium": 525, "brass": 470}
"""Speed of a bi-metal saw of 1 in, in rpm (a saw maker's table); it falls as the saw grows."""


@dataclass(frozen=True, slots=True)
class SawSetting:
    """One saw's setting for one end.

    Attributes
    ----------
    diameter : float, mm
    set_angle : float, degrees
        From square: 0 with the saw's axis square to the tube.
    offset : float, mm
        Between the saw's axis and the tube's.
    centre_beyond_long_point : float, mm
        From the cut's long point to where the saw's axis meets the tube's, positive off the end.
    depth_needed, depth : float, mm
        Travel from first touch to cut through, and what the saw has.
    covers : bool
        Whether the saw is wide enough for the whole tube.
    rpm : mapping of material to whole rpm
    """

    diameter: float
    set_angle: float
    offset: float
    centre_beyond_long_point: float
    depth_needed: float
    depth: float
    covers: bool
    rpm: dict[str, int]

    @property
    def depth_ok(self) -> bool:
        """Whether the saw is deep enough."""
        return self.depth_needed <= self.depth

    @property
    def sides(self) -> int:
        """From how many sides it has to cut to come through; above ``MOST_SIDES`` it cannot."""
        return max(math.ceil(self.depth_needed / self.depth), 1)

    @property
    def reaches(self) -> bool:
        """Whether the cut can be made at all, from one side or from both."""
        return self.sides <= MOST_SIDES

    @property
    def ok(self) -> bool:
        """Whether the saw is deep enough and wide enough."""
        return self.depth_ok and self.covers


def too_shallow(needed: float, depth: float) -> JointError:
    """What is wrong with a saw of ``depth`` mm for a cut of ``needed`` mm that it cannot make."""
    least = math.ceil(needed / MOST_SIDES / SHOWN_MM) * SHOWN_MM  # what is printed has to do
    return JointError(
        f"the cut is {format_short(needed)} deep, and saws {format_short(depth)} deep reach "
        f"{format_short(MOST_SIDES * depth)} from both sides",
        f"use the template, or a saw {format_short(least)} deep or more", "depth")


def own_saw(joint: Joint, cope: Cope, depth: float = USUAL_DEPTH_MM) -> SawSetting:
    """The setting of a saw of the main's own diameter, which cuts the cope exactly.

    The saw's axis is then the main's axis. It travels along it, so the depth is the length of the
    edge seen along the main: ``D / sin A`` for axes that cross.

    Raises
    ------
    JointError
        Where the main is not round: no saw has its section.
    """
    if not isinstance(joint.main, Round):
        raise JointError(f"no saw has the section of a {joint.main.kind} main",
                         "use the template", "saw")
    own = Pass(joint.main.diameter, joint.offset, 0.0)
    return make_setting(joint, cope, own, cope.long_point.along, depth)


def make_setting(joint: Joint, cope: Cope, cut: Pass, long: float, depth: float) -> SawSetting:
    """The setting of one ``cut``, which by itself leaves ``cope``.

    ``long`` is the along in mm of the finished end's long point. Depth is what the teeth travel
    along the saw's axis, through the whole tube.
    """
    saw = cope.cluster.mains[0]
    travel = saw.pose.inward(cope.points)[..., 2]
    return SawSetting(
        diameter=cut.diameter,
        set_angle=90 - joint.angle,
        offset=cut.offset,
        centre_beyond_long_point=long - cut.at,
        depth_needed=float(np.nanmax(travel) - np.nanmin(travel)),
        depth=depth,
        covers=not cope.open,
        rpm=speeds(cut.diameter),
    )


def speeds(diameter: float) -> dict[str, int]:
    """Whole rpm for each material and a saw of ``diameter`` mm: surface speed kept."""
    return {name: round(rpm * INCH_MM / diameter) for name, rpm in RPM_AT_ONE_INCH.items()}
