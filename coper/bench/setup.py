r"""How an end is cut on a saw fixture, and the gap to expect of it.

The tube is clamped with the heel line up, and the fixture is described as one looks at the end::

    from the side, heel up             looking at the end, heel up
                  \  saw's axis              |
     ______________\__                      _|_
    tube            \ )                   /  |  \     the saw's axis passes the tube's
     ________________\                    \ _|_ /     `sideways` to the right
                                             |
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

import numpy as np

from coper.bench.chop import ChopCut, chop_cut
from coper.bench.share import choose_for_share
from coper.errors import JointError
from coper.frame.end import TubeEnd, counted, main_shares
from coper.frame.equivalent import equivalent_joint
from coper.frame.piece import Piece
from coper.frame.stance import Stance
from coper.joint.cluster import Cluster
from coper.joint.cope import Cope
from coper.joint.fit.face import (
    Bevelled,
    covering_diameter,
    pass_face,
    raised,
    template_face,
)
from coper.joint.fit.fit import Fit, seat
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.saw.kit import USUAL_KIT_MM, SawChoice, choose_saws
from coper.joint.saw.setting import USUAL_DEPTH_MM, SawSetting, too_shallow
from coper.shapes.oval import Oval
from coper.shapes.round import Round
from coper.shapes.run import Run
from coper.shapes.shape import MainShape
from coper.shapes.tapered import Tapered
from coper.tolerances import TOUCH_MM

BENDS_AWAY = "a bent main curves away from a saw"
USE_TEMPLATE = "use the template"


@dataclass(frozen=True, slots=True)
class SawShop:
    """What the shop saws with.

    Attributes
    ----------
    saws : tuple of float, mm
        Diameters; the usual ones where it is empty.
    depth : float, mm
        How deep they cut.
    enough : float, mm
        A gap that needs no second pass: the shop's limit.
    """

    saws: tuple[float, ...] = ()
    depth: float = USUAL_DEPTH_MM
    enough: float = 0.0


KEY_PLACES = 8
"""Decimals of mm and degrees to which ends that are cut alike are equal: at 1 m from the joint a
hundred-millionth of a degree is 2e-7 mm."""

GAP_POINTS = 72
"""Even clocks of an expected gap: every 5 degrees."""


Stretch = tuple[float, float]
"""From one clock to another, degrees."""


@dataclass(frozen=True, slots=True)
class SawPass:
    """One pass of a saw.

    Attributes
    ----------
    setting : SawSetting
        Its long point is the finished end's.
    cut : Pass
        Where the saw stands on the joint.
    beyond_blank : float, mm
        From the blank's end to where the saw's axis passes the tube's, positive off the end.
    sideways : float, mm
        From the tube's axis to the saw's, to the right as one looks at the end, heel up.
    """

    setting: SawSetting
    cut: Pass
    beyond_blank: float
    sideways: float


@dataclass(frozen=True, slots=True)
class SawCut:
    """One cut of an end: on one of its mains.

    Attributes
    ----------
    main : int
        Which of the end's mains.
    share : float
        Of the way round the end that seats on it, 0 to 1.
    seat : Stance
    joint : Joint
        The end on this main alone.
    shift : float, mm
        What is added to an along of the end to get the joint's.
    turn : float, degrees
        What the tube is turned from the saw's cut before, clockwise as one looks at the end.
    passes : tuple of SawPass
        None where no saw cuts it.
    reason : str
        Why no saw does; empty where one does.
    slivers : tuple of (from, to), degrees
        Clocks, as the end counts them, that the saw does not reach.
    """

    main: int
    share: float
    seat: Stance
    joint: Joint = field(repr=False)
    shift: float
    turn: float
    passes: tuple[SawPass, ...] = ()
    reason: str = ""
    slivers: tuple[Stretch, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class EndSetup:
    """An end's cuts in the order of work, and the gaps to expect.

    Attributes
    ----------
    end : TubeEnd
    cuts : tuple of SawCut
        The main that takes the largest share first: its saw finds the tube's end still whole all
        round and starts steady where most is to be cut, and the later saws trim what it left.
    own : Fit
        Of the end's own cut, in the end's own clock.
    sawn : Fit or None
        As the chosen saws leave it; ``None`` where one of the cuts has none.
    chop : ChopCut or None
        How a saw with a fence cuts it, where the whole end is flat; in the end's own clock.
    """

    end: TubeEnd
    cuts: tuple[SawCut, ...]
    own: Fit
    sawn: Fit | None
    chop: ChopCut | None = None

    def clock(self, own: float) -> float:
        """A clock of the fits, degrees, as the tube counts it."""
        return counted(self.end.which, own)

    def stretches(self, own: Sequence[Stretch]) -> tuple[Stretch, ...]:
        """Stretches of the fits' clocks, degrees, as the tube counts them."""
        if self.end.which == "start":
            return tuple(own)
        return tuple((self.clock(to), self.clock(start)) for start, to in own)


Known: TypeAlias = dict[Hashable, EndSetup]
"""Set-ups that were found already, with one shop's saws."""


def piece_setups(
    piece: Piece, shop: SawShop = SawShop(), known: Known | None = None
) -> tuple[EndSetup, ...]:
    """The set-up of every shaped end of ``piece`` with the saws of ``shop``.

    An end that is the same as one of ``known`` takes that one's cuts, a new one is added to it.
    """
    known = {} if known is None else known
    found: list[EndSetup] = []
    for end in piece.ends:
        if end.cope is None:
            continue
        key = _key(piece, end)
        if key not in known:
            known[key] = set_up(piece, end, shop)
        found.append(_taken(known[key], end))
    return tuple(found)


def _key(piece: Piece, end: TubeEnd) -> Hashable:
    """What is equal of ends that are cut alike."""
    return (sawn_alike(piece, end) or piece.label, end.which, end.cut,
            _rounded(_blank_end(piece, end)))


def sawn_alike(piece: Piece, end: TubeEnd) -> Hashable | None:
    """What is equal of ends that one saw cuts alike, whatever their blanks and their own cuts.

    On other mains than such that bend or stop, for which there is ``None``, the joints and their
    shifts say all, whatever the place along the mains.
    """
    assert end.cope is not None
    equal = [equivalent_joint(piece.tube, end.which, main) for main in end.mains]
    if any(placed.shape != one.joint.main
           for placed, one in zip(end.cope.cluster.mains, equal, strict=True)):
        return None
    return (end.which, end.cope.cluster.branch,
            *((one.joint.branch, one.joint.main, *map(_rounded, (
                one.joint.angle, one.joint.offset, one.joint.turn, one.joint.main_turn,
                one.joint.main_at, one.shift))) for one in equal))


def _rounded(value: float) -> float:
    """A mm or degree without the residue of another place: what is left is below any promise."""
    return round(value, KEY_PLACES) + 0.0


def _taken(known: EndSetup, end: TubeEnd) -> EndSetup:
    """The set-up of ``end``, which is cut as ``known`` is."""
    if known.end is end:
        return known
    return replace(known, end=end, cuts=tuple(
        replace(cut, seat=end.stances[cut.main]) for cut in known.cuts))


def _blank_end(piece: Piece, end: TubeEnd) -> float:
    """Where the blank begins or ends, mm, as the end itself counts along."""
    low, high = piece.blank_ends
    return low if end.which == "start" else piece.tube.length - high


def set_up(piece: Piece, end: TubeEnd, shop: SawShop) -> EndSetup:
    """The set-up of one shaped end of ``piece``."""
    assert end.cope is not None
    tube, whole, blank = piece.tube, end.cope.cluster, _blank_end(piece, end)
    own = seat(template_face(whole, end.cope_cut), whole, points=GAP_POINTS)
    cuts: list[SawCut] = []
    for index, share in main_shares(whole):
        equal = equivalent_joint(tube, end.which, end.mains[index])
        cut = SawCut(index, share, end.stances[index], equal.joint, equal.shift,
                     _turn([one.joint for one in cuts if one.passes], equal.joint))
        try:
            _check_straight(end, index)
            passes, slivers = _passes(cut, end.cope, shop)
        except JointError as error:
            cuts.append(replace(cut, reason=f"{error.fault}: {error.cure}"))
            continue
        cuts.append(replace(cut, slivers=slivers, passes=tuple(
            replace(one, beyond_blank=blank + cut.shift - one.cut.at) for one in passes)))
    return EndSetup(end, tuple(cuts), own, _sawn(cuts, whole), chop_cut(end.cope))


def _check_straight(end: TubeEnd, index: int) -> None:
    """Refuse a main that bends where the end lands on it."""
    assert end.cope is not None
    main, cope = end.mains[index], end.cope
    if main.course is None:
        return
    placed = cope.cluster.mains[index]
    points = placed.pose.inward(cope.points[cope.main == index])
    assert isinstance(placed.shape, Run)
    course = placed.shape.course
    on = course.number(course.straightened(points)[..., 2])
    if any(course.stretches[number].is_bend for number in np.unique(on)):
        raise JointError(BENDS_AWAY, USE_TEMPLATE)


def _sawn(cuts: Sequence[SawCut], whole: Cluster) -> Fit | None:
    """The gap that all passes together leave; ``None`` where a main has none."""
    if not all(cut.passes for cut in cuts):
        return None
    saws = tuple(
        saw for cut in cuts
        for saw in raised(pass_face(cut.joint, [one.cut for one in cut.passes]).cluster,
                          -cut.shift).mains)
    return seat(Bevelled(Cluster(whole.branch, saws)), whole, points=GAP_POINTS)


def _turn(before: Sequence[Joint], joint: Joint) -> float:
    """From the last of the joints that were sawn ``before``, clockwise looking at the end."""
    turn = _heel_ray(before[-1]) - _heel_ray(joint) if before else 0.0
    return (turn + 180) % 360 - 180


def _heel_ray(joint: Joint) -> float:
    """Degrees, right-handed about the branch away from the joint, from its own line to the heel."""
    return (0.0 if joint.angle <= 90 else 180.0) - joint.turn


def sideways(angle: float, offset: float) -> float:
    """From the branch's axis to the main's in mm, to the right looking at the end, heel up.

    Derived: one looks along ``b`` with the heel ``h`` up, so that ``b x h`` is to the right; for
    ``h = e1`` that is ``e2``, the side of the branch's offset, for ``h = -e1`` the other.
    """
    return (-offset if angle <= 90 else offset) + 0.0


def _passes(
    cut: SawCut, cope: Cope, shop: SawShop
) -> tuple[tuple[SawPass, ...], tuple[Stretch, ...]]:
    """The passes for one main, for a blank that ends at the long point, and what they leave."""
    joint, kit = cut.joint, sorted(set(shop.saws or USUAL_KIT_MM))
    span = _span(joint.main)
    if len(cope.cluster.mains) > 1:
        whole = Cluster(joint.branch, raised(cope.cluster, cut.shift).mains)
        long = cope.long_point.along + cut.shift
        setting = choose_for_share(
            joint, whole, cut.main, kit, near_saws(kit, *span), long, shop.depth)
        return (saw_pass(joint, setting, long),), ()
    needed = covering_diameter(joint)
    small = [saw for saw in kit if saw < needed - TOUCH_MM]
    near = (*small, *near_saws(kit[len(small):], *span))
    choices = choose_saws(joint, near, shop.depth, shop.enough).choices
    if not all(choice.depth_ok for choice in choices):
        choices = choose_saws(joint, kit, shop.depth, shop.enough).choices
    if not choices[0].reaches:
        raise too_shallow(choices[0].depth_needed, shop.depth)
    return choice_passes(joint, choices[0]), choices[0].slivers


def choice_passes(joint: Joint, choice: SawChoice) -> tuple[SawPass, ...]:
    """The passes of a choice on ``joint``, for a blank that ends at the long point."""
    return tuple(saw_pass(joint, one, choice.long_point.along) for one in choice.passes)


def saw_pass(joint: Joint, setting: SawSetting, long: float) -> SawPass:
    """A setting on ``joint``, for a blank that ends at the long point, at along ``long`` mm."""
    beyond = setting.centre_beyond_long_point
    cut = Pass(setting.diameter, setting.offset, long - beyond)
    return SawPass(setting, cut, beyond, sideways(joint.angle, setting.offset))


def near_saws(kit: Sequence[float], low: float, high: float) -> list[float]:
    """The saws of a sorted kit between two sizes (mm), and the next one either way.

    The further a saw's size is from the main's, the larger its gap: where these are deep enough,
    no other saw can be the best.
    """
    below = [saw for saw in kit if saw <= low + TOUCH_MM][-1:]
    above = [saw for saw in kit if saw >= high - TOUCH_MM][:1]
    return sorted({*below, *(saw for saw in kit if low < saw < high), *above})


def _span(main: MainShape) -> tuple[float, float]:
    """Between which sizes, in mm, a saw of a main's curvature lies.

    Raises
    ------
    JointError
        Where no saw has its form.
    """
    match main:
        case Round():
            return main.diameter, main.diameter
        case Tapered():
            return min(main.start, main.end), max(main.start, main.end)
        case Oval():  # the ellipse's radii of curvature: b^2 / a and a^2 / b
            return main.minor**2 / main.major, main.major**2 / main.minor
    why = BENDS_AWAY if main.kind == "bent" else f"no hole saw cuts the flat of a {main.kind}"
    raise JointError(why, USE_TEMPLATE)
