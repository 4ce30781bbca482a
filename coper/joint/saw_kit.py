"""Which saw of a kit cuts an end best, and how it is set."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from coper.errors import JointError
from coper.joint.cope import EdgePoint, make_cope
from coper.joint.face import Sawn, covering_diameter, sawn
from coper.joint.fit import Fit, seat
from coper.joint.joint import Joint
from coper.joint.saw import USUAL_DEPTH_MM, SawSetting, make_setting
from coper.shapes.checks import check_size, plain
from coper.tolerances import EVEN_MM, SEATED_MM, TOUCH_MM
from coper.units import INCH_MM

USUAL_KIT_MM = tuple(eighths * INCH_MM / 8 for eighths in range(5, 21))
"""Saws of 5/8 to 2-1/2 in by the eighth: the usual sizes."""

SHIFTS = 20
"""Times that a cut through a taper is moved: each leaves at most a tenth of what was left."""


@dataclass(frozen=True, slots=True, eq=False)
class SawChoice:
    """A saw that cuts the whole tube, set so that the seated branch is where the design puts it.

    Attributes
    ----------
    setting : SawSetting
    fit : Fit
    long_point : EdgePoint
        Of the cut: clock, and along from the main's axis.
    where : str
        Where the gap is largest: ``throat`` (towards heel or toe) or ``ears`` (at the sides);
        empty where there is none.
    """

    setting: SawSetting
    fit: Fit
    long_point: EdgePoint
    where: str

    def ok(self, limit: float | None = None) -> bool:
        """Whether the saw is deep enough, and leaves no gap above ``limit`` mm."""
        return self.setting.ok and (limit is None or self.fit.within(limit))


@dataclass(frozen=True, slots=True)
class SawKit:
    """The saws of a kit for one end.

    Attributes
    ----------
    choices : tuple of SawChoice
        The saws that cut the whole tube, best first: deep enough, then by their gap.
    too_small : tuple of float, mm
        The others.
    needed : float, mm
        The smallest saw that would cut the whole tube.
    """

    choices: tuple[SawChoice, ...]
    too_small: tuple[float, ...]
    needed: float


def choose_saws(
    joint: Joint, kit: Sequence[float] = USUAL_KIT_MM, depth: float = USUAL_DEPTH_MM
) -> SawKit:
    """Every saw of ``kit`` (mm) on ``joint``, each with a cutting depth of ``depth`` mm.

    Raises
    ------
    JointError
        Where the kit is empty, or no saw of it cuts the whole tube.
    """
    if not kit:
        raise JointError("the kit holds no saw", "give one or more, such as 1in,1-1/4in", "kit")
    check_size(depth, "depth")
    for diameter in kit:
        check_size(diameter, "saw")
    joint.cope()  # refuses a joint that misses, before any saw is blamed
    needed = covering_diameter(joint)
    saws = sorted(set(kit))
    fitting = [diameter for diameter in saws if diameter >= needed - TOUCH_MM]
    if not fitting:
        raise JointError(
            f"no saw of the kit cuts the whole tube, the largest is {plain(saws[-1])} mm",
            f"take one of {needed:.2f} mm or more, or use the template", "kit")
    choices = sorted((_choice(joint, diameter, depth) for diameter in fitting), key=_rank)
    return SawKit(tuple(choices), tuple(d for d in saws if d not in fitting), needed)


def _rank(choice: SawChoice) -> tuple[bool, float, float]:
    steps = round(choice.fit.largest / EVEN_MM)  # equal gaps: the smaller saw
    return not choice.setting.ok, steps, choice.setting.diameter


def _choice(joint: Joint, diameter: float, depth: float) -> SawChoice:
    face, fit, at = _placed(joint, diameter)
    cope = make_cope(face.cluster)
    where = "" if fit.largest <= EVEN_MM else _where(joint, fit.largest_clock)
    return SawChoice(make_setting(joint, cope, diameter, depth, at), fit, cope.long_point, where)


def _placed(joint: Joint, diameter: float) -> tuple[Sawn, Fit, float]:
    """The face, moved along the branch by its slide until there is none; and by how much."""
    at, mounted = 0.0, joint.cluster()
    for _ in range(SHIFTS):
        face = sawn(joint, diameter, at)
        fit = seat(face, mounted)
        if abs(fit.slide) <= SEATED_MM:
            break
        at += fit.slide
    return face, fit, at


def _where(joint: Joint, clock: float) -> str:
    """Throat towards heel or toe, ears at the sides between them."""
    away = math.cos(math.radians(2 * (clock - joint.heel_clock)))
    return "throat" if away >= 0 else "ears"
