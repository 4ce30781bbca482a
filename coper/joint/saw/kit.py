"""Which saw of a kit cuts an end best, and how it is set."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from coper.arrays import OneLine
from coper.errors import JointError
from coper.joint.cope import EdgePoint, make_cope
from coper.joint.fit.face import covering_diameter, pass_face
from coper.joint.fit.fit import Fit
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.saw.place import Place, place_on
from coper.joint.saw.setting import MOST_SIDES, USUAL_DEPTH_MM, SawSetting, make_setting
from coper.joint.saw.two_pass import best_pair
from coper.search import lowest_round
from coper.shapes.checks import check_size, plain
from coper.tolerances import EVEN_MM, TOUCH_MM
from coper.units import INCH_MM

USUAL_KIT_MM = tuple(eighths * INCH_MM / 8 for eighths in range(5, 21))
"""Saws of 5/8 to 2-1/2 in by the eighth: the usual sizes."""

WORTH_MM = 0.1
"""A second pass has to close the gap by this much: a bi-metal saw's run-out blurs what is less."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class SawChoice(OneLine):
    """A way to cut the whole tube, set so that the seated branch is where the design puts it.

    Attributes
    ----------
    passes : tuple of SawSetting
        One, or two of the same saw; either of two may come first.
    fit : Fit
    long_point : EdgePoint
        Of the cut: clock, and along from the main's axis.
    where : str
        Where the gap is largest: ``throat`` (towards heel or toe) or ``ears`` (at the sides);
        empty where there is none.
    """

    passes: tuple[SawSetting, ...]
    fit: Fit
    long_point: EdgePoint
    where: str

    @property
    def setting(self) -> SawSetting:
        """The setting of the only pass, or of the first of two."""
        return self.passes[0]

    @property
    def depth_needed(self) -> float:
        """What the deepest pass needs, mm."""
        return max(one.depth_needed for one in self.passes)

    @property
    def depth_ok(self) -> bool:
        """Whether the saw is deep enough for every pass."""
        return all(one.depth_ok for one in self.passes)

    @property
    def sides(self) -> int:
        """From how many sides the deepest pass has to cut; above ``MOST_SIDES`` it cannot."""
        return max(one.sides for one in self.passes)

    @property
    def reaches(self) -> bool:
        """Whether every pass can be made, from one side or from both."""
        return all(one.reaches for one in self.passes)

    def ok(self, limit: float | None = None) -> bool:
        """Whether the saw is deep enough, and leaves no gap above ``limit`` mm."""
        return self.depth_ok and (limit is None or self.fit.within(limit))


@dataclass(frozen=True, slots=True, repr=False)
class SawKit(OneLine):
    """The saws of a kit for one end.

    Attributes
    ----------
    choices : tuple of SawChoice
        What cuts the whole tube, best first: deep enough, from both sides at least, then by gap.
    too_small : tuple of float, mm
        The saws that leave part of it uncut in one pass, unless they are chosen for two.
    needed : float, mm
        The smallest saw that would cut the whole tube in one pass.
    """

    choices: tuple[SawChoice, ...]
    too_small: tuple[float, ...]
    needed: float


def choose_saws(
    joint: Joint, kit: Sequence[float] = USUAL_KIT_MM, depth: float = USUAL_DEPTH_MM,
    enough: float | None = None,
) -> SawKit:
    """Every saw of a kit on one joint.

    Parameters
    ----------
    joint
        What the end is for.
    kit : sequence of float, mm
        The saws' diameters.
    depth : float, mm
        How deep every one of them cuts.
    enough : float or None, mm
        ``None``: a saw cuts in one pass or is left out. Otherwise the best two passes of one saw
        are looked for too, unless one pass leaves no more than this.

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
    place = place_on(joint)  # refuses a joint that misses, before any saw is blamed
    needed = covering_diameter(joint)
    saws = sorted(set(kit))
    fitting = [diameter for diameter in saws if diameter >= needed - TOUCH_MM]
    choices = sorted((_choice(place, [Pass(diameter, joint.offset, 0.0)], depth)
                      for diameter in fitting), key=_rank)
    if enough is not None:
        choices = sorted([*choices, *_second(place, choices, saws, depth, enough)], key=_rank)
    if not choices:
        raise JointError(
            f"no saw of the kit cuts the whole tube, the largest is {plain(saws[-1])} mm",
            f"take one of {needed:.2f} mm or more, or use the template", "kit")
    used = {choice.setting.diameter for choice in choices}
    return SawKit(tuple(choices), tuple(saw for saw in saws if saw not in used), needed)


def _rank(choice: SawChoice) -> tuple[int, float, float]:
    steps = round(choice.fit.largest / EVEN_MM)  # equal gaps: the smaller saw
    return min(choice.sides, MOST_SIDES + 1), steps, choice.setting.diameter


def _second(
    place: Place, choices: Sequence[SawChoice], saws: Sequence[float], depth: float, enough: float
) -> list[SawChoice]:
    """The best two passes of one saw, where they are worth the trouble; best single first."""
    if not choices:
        return _pair(place, saws, depth)
    best = choices[0]
    if best.fit.largest <= max(enough, WORTH_MM):
        return []
    smaller = [saw for saw in saws if saw <= best.setting.diameter]
    return [pair for pair in _pair(place, smaller, depth)
            if pair.fit.largest <= best.fit.largest - WORTH_MM and _rank(pair) < _rank(best)]


def _pair(place: Place, saws: Sequence[float], depth: float) -> list[SawChoice]:
    passes = best_pair(place, saws)
    return [] if passes is None else [_choice(place, passes, depth)]


def _choice(place: Place, passes: Sequence[Pass], depth: float) -> SawChoice:
    joint, cut = place.joint, place.cut(passes)
    long_point = EdgePoint(*lowest_round(cut.face.cluster.entry, cut.fit.clock))
    settings = tuple(
        make_setting(joint, make_cope(pass_face(joint, (one,)).cluster), one, long_point.along,
                     depth) for one in cut.passes)
    where = "" if cut.fit.largest <= EVEN_MM else _where(joint, cut.fit.largest_clock)
    return SawChoice(settings, cut.fit, long_point, where)


def _where(joint: Joint, clock: float) -> str:
    """Throat towards heel or toe, ears at the sides between them."""
    away = math.cos(math.radians(2 * (clock - joint.heel_clock)))
    return "throat" if away >= 0 else "ears"
