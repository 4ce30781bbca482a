"""Which saw of a kit cuts an end best, and how it is set."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from coper.arrays import OneLine
from coper.errors import JointError
from coper.joint.cope import EdgePoint, make_cope
from coper.joint.fit.face import covering_diameter, left_uncut, pass_face
from coper.joint.fit.fit import Fit
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.saw.aside import best_aside
from coper.joint.saw.place import Place, place_on
from coper.joint.saw.setting import MOST_SIDES, USUAL_DEPTH_MM, SawSetting, make_setting
from coper.joint.saw.trial import make_trial
from coper.joint.saw.two_pass import best_pair
from coper.joint.steps import Progress, silent
from coper.search import lowest_round
from coper.shapes.checks import check_size
from coper.tolerances import EVEN_MM, TOUCH_MM
from coper.units import INCH_MM, format_short, format_size

USUAL_KIT_MM = tuple(eighths * INCH_MM / 8 for eighths in range(5, 21))
"""Saws of 5/8 to 2-1/2 in by the eighth: the usual sizes."""

WORTH_MM = 0.1
"""What is harder to set has to close the gap by this much, or bring it under the limit: a bi-metal
saw's run-out blurs what is less. A saw level with the main is easiest to set, then one moved
sideways, then two passes, then a saw that leaves a sliver to file."""

ASIDE_SAWS = 4
"""Saws that are tried beside the main: those that leave the least gap level with it."""

SLIVER_MM = 2.5
"""The most that may stand outside a saw that is taken all the same: two or three walls, which a
file or a hacksaw goes through in a minute (common practice, no source)."""


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
    aside : float, mm
        By how much the only pass is moved off the main's axis, towards a positive offset.
    level : float or None, mm
        The gap that the same saw leaves in one pass level with the main; ``None`` where it would
        leave tube uncut, or this is that pass.
    slivers : tuple of (from, to), degrees
        Clocks that the saw does not reach, to be filed through; one over 0 has ``to < from``.
    """

    passes: tuple[SawSetting, ...]
    fit: Fit
    long_point: EdgePoint
    where: str
    aside: float = 0.0
    level: float | None = None
    slivers: tuple[tuple[float, float], ...] = ()

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
    enough: float | None = None, progress: Progress = silent,
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
        ``None``: a saw cuts in one pass, level with the main, or is left out. Otherwise, unless
        such a pass leaves no more than this, saws moved sideways are looked for too, then the best
        two passes of one saw, then saws that leave a sliver; each is taken where it is worth it.
    progress
        Hears of each step: on tapers the harder ways take seconds.

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
    level = [_choice(place, [Pass(diameter, joint.offset, 0.0)], depth) for diameter in fitting]
    choices = _ranked(level)
    if enough is not None:
        choices = _with_harder(_Wanted(place, saws, depth, enough), choices, progress)
    if not choices:
        raise JointError(
            f"no saw of the kit cuts the whole tube, the largest is {format_size(saws[-1])}",
            f"take one of {format_short(needed)} or more, or use the template", "kit")
    used = {choice.setting.diameter for choice in choices}
    return SawKit(tuple(choices), tuple(saw for saw in saws if saw not in used), needed)


def _ranked(choices: Iterable[SawChoice], enough: float = math.inf) -> list[SawChoice]:
    """Best first: what can be cut, what is within the limit, then by gap, then the smaller saw.

    A harder way counts as ``WORTH_MM`` wider, so that it comes first only where it is worth it.
    """

    def rank(choice: SawChoice) -> tuple[int, bool, float, float]:
        worth = choice.fit.largest + (WORTH_MM if _hard(choice) else 0.0)
        steps = round(worth / EVEN_MM)  # equal gaps: the smaller saw
        sides = min(choice.sides, MOST_SIDES + 1)
        return sides, not choice.fit.within(enough), steps, choice.setting.diameter

    return sorted(choices, key=rank)


def _hard(choice: SawChoice) -> bool:
    return bool(choice.aside or choice.passes[1:] or choice.slivers)


@dataclass(frozen=True, slots=True, eq=False)
class _Wanted:
    """What harder ways are looked for: an end, the saws rising, their depth, the limit, mm."""

    place: Place
    saws: Sequence[float]
    depth: float
    enough: float

    def choice(self, *passes: Pass) -> SawChoice:
        """The choice of these passes."""
        return _choice(self.place, passes, self.depth)

    def worth(self, new: SawChoice, old: SawChoice) -> bool:
        """Whether a way that is harder to set is worth it."""
        gain = old.fit.largest - new.fit.largest
        reaches_limit = new.fit.within(self.enough) and not old.fit.within(self.enough)
        return new.sides <= old.sides and (gain >= WORTH_MM or reaches_limit)


def _with_harder(
    wanted: _Wanted, level: list[SawChoice], progress: Progress
) -> list[SawChoice]:
    """The choices with those that are harder to set, where the easier ones gape."""
    choices, good = level, max(wanted.enough, WORTH_MM)
    for step, harder in HARDER.items():
        if choices and choices[0].reaches and choices[0].fit.largest <= good:
            break
        progress(step)
        found = harder(wanted, choices)
        again = {one.setting.diameter for one in found if one.aside}
        kept = [one for one in choices if one.setting.diameter not in again]
        choices = _ranked([*kept, *found], wanted.enough)
    return choices


def _aside(wanted: _Wanted, choices: Sequence[SawChoice]) -> list[SawChoice]:
    """Single saws moved sideways, each worth it beside the same saw level with the main."""
    trial, found = make_trial(wanted.place), []
    for old in choices[:ASIDE_SAWS]:
        cut = best_aside(trial, old.setting.diameter, old.fit.largest)
        if cut is not None:
            new = replace(wanted.choice(cut), aside=cut.offset - wanted.place.joint.offset,
                          level=old.fit.largest)
            found += [new] if wanted.worth(new, old) else []
    return found


def _two_passes(wanted: _Wanted, choices: Sequence[SawChoice]) -> list[SawChoice]:
    """The best two passes of one saw, where they are worth the trouble; best single first."""
    saws, single = wanted.saws, None
    if choices:
        best = choices[0].setting
        saws = [saw for saw in saws if saw <= best.diameter]
        single = Pass(best.diameter, best.offset, 0.0)
    passes = best_pair(wanted.place, saws, single)
    if passes is None:
        return []
    pair = wanted.choice(*passes)
    return [pair] if not choices or wanted.worth(pair, choices[0]) else []


def _with_sliver(wanted: _Wanted, choices: Sequence[SawChoice]) -> list[SawChoice]:
    """The best saw that is a little too narrow for the tube, where it is worth the filing."""
    joint, found = wanted.place.joint, []
    for diameter in wanted.saws:
        cut = Pass(diameter, joint.offset, 0.0)
        if TOUCH_MM < left_uncut(pass_face(joint, (cut,))) <= SLIVER_MM:
            found.append(wanted.choice(cut))
    return [new for new in _ranked(found)[:1] if not choices or wanted.worth(new, choices[0])]


HARDER = {"saws moved sideways": _aside, "two passes": _two_passes,
          "saws that leave a sliver": _with_sliver}
"""What is tried where the easier ways gape, in this order."""


def _choice(place: Place, passes: Sequence[Pass], depth: float) -> SawChoice:
    joint, cut = place.joint, place.cut(passes)
    long_point = EdgePoint(*lowest_round(cut.face.cluster.entry, cut.fit.clock))
    copes = [make_cope(pass_face(joint, (one,)).cluster) for one in cut.passes]
    settings = tuple(make_setting(joint, cope, one, long_point.along, depth)
                     for one, cope in zip(cut.passes, copes, strict=True))
    where = "" if cut.fit.largest <= EVEN_MM else _where(joint, cut.fit.largest_clock)
    slivers = copes[0].open if len(copes) == 1 else ()  # two passes have to cut the whole tube
    return SawChoice(settings, cut.fit, long_point, where, slivers=slivers)


def _where(joint: Joint, clock: float) -> str:
    """Throat towards heel or toe, ears at the sides between them."""
    away = math.cos(math.radians(2 * (clock - joint.heel_clock)))
    return "throat" if away >= 0 else "ears"
