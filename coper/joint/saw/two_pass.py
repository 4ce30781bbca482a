"""Two cuts of one saw that is smaller than the main, moved apart sideways.

Seen along the main, whatever the angle, a round main is a circle, each cut another, and the branch
takes up an arc of the main from ear to ear. The upper halves of the two cuts::

             .  - ~ -  . _ .  - ~ -  .
         . '             V             ' .
       ear              cusp              ear

Derived: a circle smaller than the main leaves, on the arc that it cuts, a gap that is largest in
the middle and has to close at both ends, for the cut must not bite below the main. Of two circles
one has at least half of the branch's arc to cut, and its gap grows with the arc; so the best is
half for each, both closing at the ear and at the cusp. With ``q`` a quarter of the branch's arc,
an axis ``c = R cos q - sqrt(s^2 - R^2 sin^2 q)`` from the main's puts the saw's circle through
both ends of its half, and the gap is ``c + s - R``: about a quarter of what one pass of that saw
leaves.

Both passes go right through the tube. A generator is severed where it enters either cylinder, so
together they have to hold every generator. A cylinder's side that ends inside the tube has to end
inside the other cylinder: past it the wall would be left standing between the two cuts, and the
end would hang on by that. What is left between the cuts on the far side of the cusp hangs on to
the end alone and falls with it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import left_uncut, pass_face
from coper.joint.fit.passes import Pass
from coper.joint.regrind.gap_model import CLOCKS, SHARES
from coper.joint.saw.place import Place
from coper.shapes.round import Round
from coper.tolerances import EVEN_MM, TOUCH_MM

SAWS = 3
"""Sizes that are tried on a main that is not round, the largest first: the gap grows as the saw
shrinks, but the largest may already be too flat."""

FLATTEST = 0.999
"""A main a thousand times as large as the saw is as good as flat."""

SCANNED = 9
"""Flatnesses that are tried before the best is closed in on: the gap falls, then rises."""

CLOSE = 1e-4
"""A flatness is found when it is known this well: the gap then is to a hundredth of a mm."""

GOLDEN = (math.sqrt(5) - 1) / 2
"""The golden section: of two places inside a span one stays when the span shrinks by it."""

PassPair = tuple[Pass, Pass]


def best_pair(place: Place, saws: Sequence[float]) -> PassPair | None:
    """The two passes that leave the smallest gap, of one of ``saws`` (mm, rising).

    Their places along the branch are right to each other only. ``None`` where no saw can do it: on
    a round main that takes a saw smaller than the main.
    """
    reach = _reach(place)
    main = place.joint.main
    if isinstance(main, Round):
        below = [saw for saw in reversed(saws) if saw < main.diameter - EVEN_MM]
        known = (_pair(place, reach, saw, main.diameter / 2) for saw in below)
        return next((pair for pair in known if pair and _cuts(place, pair)), None)
    trial = _trial(place)
    found = [pair for saw in saws[-SAWS:] if (pair := _searched(place, trial, reach, saw))]
    return min(found, key=trial.gap, default=None)


def _cuts(place: Place, pair: PassPair) -> bool:
    """Whether the end comes off when both passes have gone right through."""
    return _severs(place, pair) and left_uncut(pass_face(place.joint, pair)) <= TOUCH_MM


def _severs(place: Place, pair: PassPair) -> bool:
    """Whether the near side of each cylinder ends inside the other.

    Derived: the side of the one at ``(y - s, z)`` lies inside the other at ``(y', z')`` where
    ``(y - s - y')^2 + (z - z')^2 <= s^2``.
    """
    one, other = pair
    across = abs(one.offset - other.offset)
    up = (one.at - other.at) * math.sin(math.radians(place.joint.angle))
    return across * across + up * up <= across * one.diameter


def _reach(place: Place) -> tuple[float, float]:
    """From where to where in mm the edge lies beside the main's axis, towards a positive offset."""
    cluster = place.mounted
    saw = pass_face(place.joint, (Pass(1.0, place.joint.offset, 0.0),)).cluster.mains[0]
    clock = merged(even_clocks(STEPS), place.breaks)
    beside = saw.pose.inward(cluster.skin(clock, cluster.entry(clock)))[:, 0]
    return float(np.nanmin(beside)), float(np.nanmax(beside))


def _pair(
    place: Place, reach: tuple[float, float], diameter: float, radius: float
) -> PassPair | None:
    """The best two passes for a round main of ``radius`` mm, the one further up first."""
    low, high = (math.asin(min(max(side / radius, -1.0), 1.0)) for side in reach)
    quarter = (high - low) / 4
    inside = (diameter / 2) ** 2 - (radius * math.sin(quarter)) ** 2
    if inside <= 0:
        return None
    away = radius * math.cos(quarter) - math.sqrt(inside)
    rise = math.sin(math.radians(place.joint.angle))
    one, other = (
        Pass(diameter, place.joint.offset - away * math.sin(turn), away * math.cos(turn) / rise)
        for turn in ((low + high) / 2 - quarter, (low + high) / 2 + quarter))
    return (one, other) if one.at >= other.at - EVEN_MM else (other, one)


@dataclass(frozen=True, slots=True, eq=False)
class _Trial:
    """A light seating: the design's cope is looked up instead of computed each time."""

    place: Place
    clock: Floats
    depths: Floats
    target: Floats

    def gap(self, passes: Sequence[Pass]) -> float:
        """The largest gap in mm on the grid, infinite where the passes leave tube uncut."""
        mounted = self.place.mounted
        cut = pass_face(self.place.joint, passes).station(self.clock[:, None], self.depths)
        if np.isnan(cut).any():
            return math.inf
        edge = cut[:, 0] + np.nanmax(self.target - cut)
        away = mounted.mains[0].distance(mounted.skin(self.clock, edge))
        return float(np.max(away, where=~np.isnan(self.target[:, 0]), initial=0.0))


def _trial(place: Place) -> _Trial:
    clock = merged(even_clocks(CLOCKS), place.breaks)
    depths = np.array(SHARES) * place.mounted.wall()
    return _Trial(place, clock, depths, place.mounted.entry(clock[:, None], depths))


def _searched(
    place: Place, trial: _Trial, reach: tuple[float, float], diameter: float
) -> PassPair | None:
    """The best two passes of one saw on a main of any section.

    They are looked for among those that are best for a round main, from one of the saw's own size
    (flatness 0, where both passes are one) to a flat one.
    """

    def pair(flatness: float) -> PassPair | None:
        return _pair(place, reach, diameter, diameter / 2 / (1 - flatness))

    def gap(flatness: float) -> float:
        passes = pair(flatness)
        return math.inf if passes is None else trial.gap(passes)

    best = pair(lowest(gap, 0.0, FLATTEST, CLOSE))
    return best if best and _cuts(place, best) else None


def lowest(value: Callable[[float], float], low: float, high: float, within: float) -> float:
    """Where ``value`` is lowest between ``low`` and ``high``, found to ``within``.

    ``SCANNED`` even places first, then golden section between the neighbours of the best.
    """
    places = np.linspace(low, high, SCANNED).tolist()
    best = min(range(SCANNED), key=lambda index: value(places[index]))
    low, high = places[max(best - 1, 0)], places[min(best + 1, SCANNED - 1)]
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = value(left), value(right)
    while high - low > within:
        if at_left < at_right:
            high, right, at_right = right, left, at_left
            left = high - GOLDEN * (high - low)
            at_left = value(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + GOLDEN * (high - low)
            at_right = value(right)
    return left if at_left < at_right else right
