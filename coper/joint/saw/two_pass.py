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
from collections.abc import Sequence
from dataclasses import replace
from itertools import product

import numpy as np

from coper.arrays import Floats
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import left_uncut, pass_face
from coper.joint.fit.passes import Pass
from coper.joint.saw.place import Place
from coper.joint.saw.trial import Trial, make_trial
from coper.search import lowest
from coper.shapes.round import Round
from coper.tolerances import EVEN_MM, FLATNESS, TOUCH_MM

SAWS = 3
"""Sizes that are tried on a main that is not round, the largest first: the gap grows as the saw
shrinks, but the largest may already be too flat."""

FLATTEST = 0.999
"""A main a thousand times as large as the saw is as good as flat."""

SCANNED = 9
"""Even flatnesses that are tried before the best is closed in on: the gap falls, then rises."""

FIRST_NUDGE, LAST_NUDGE_MM = 12, 0.03
"""Passes are moved by a twelfth of the saw at first, and by no less than anybody can set."""

NUDGES = [ways for ways in product((-1, 0, 1), repeat=3) if any(ways)]
"""Both sideways, the first up the branch: every way of moving them a step."""

PassPair = tuple[Pass, Pass]


def best_pair(
    place: Place, saws: Sequence[float], single: Pass | None = None
) -> PassPair | None:
    """The two passes that leave the smallest gap, of one of ``saws`` (mm, rising).

    Their places along the branch are right to each other only. ``None`` where no saw can do it: on
    a round main that takes a saw smaller than the main. ``single`` is the best single pass: where
    the main is not round, two that begin as that one are tried too.
    """
    reach = _reach(place)
    main = place.joint.main
    if isinstance(main, Round):
        below = [saw for saw in reversed(saws) if saw < main.diameter - EVEN_MM]
        known = (_pair(place, reach, saw, main.diameter / 2) for saw in below)
        return next((pair for pair in known if pair and _cuts(place, pair)), None)
    trial = make_trial(place)
    found = [*filter(None, (_searched(place, trial, reach, saw) for saw in saws[-SAWS:]))]
    starts = sorted(found, key=lambda one: one[0])[:1]
    if single is not None:
        pair = (single, single)
        starts.append((float(trial.gaps([pair])[0]), pair))
    nudged = [_nudged(trial, *start) for start in starts]
    whole = [one for one in (*nudged, *starts) if _cuts(place, one[1])]
    return min(whole, key=lambda one: one[0], default=(0.0, None))[1]


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


def _searched(
    place: Place, trial: Trial, reach: tuple[float, float], diameter: float
) -> tuple[float, PassPair] | None:
    """The smallest gap in mm of two passes of one saw on a main of any section, and the passes.

    They are looked for among those that are best for a round main, from one of the saw's own size
    (flatness 0, where both passes are one) to a flat one.
    """

    def pair(flatness: float) -> PassPair | None:
        return _pair(place, reach, diameter, diameter / 2 / (1 - flatness))

    def gaps(flatness: Floats) -> Floats:
        pairs = [pair(one) for one in flatness[0].tolist()]
        known = [index for index, one in enumerate(pairs) if one]
        found = np.full(flatness.shape, np.inf)
        if known:
            found[0, known] = trial.gaps([one for one in pairs if one])
        return found

    best = lowest(gaps, np.linspace(0.0, FLATTEST, SCANNED), FLATNESS)
    passes = pair(float(best.first[0][0]))
    return (float(best.least[0]), passes) if passes and _cuts(place, passes) else None


def _nudged(trial: Trial, least: float, pair: PassPair) -> tuple[float, PassPair]:
    """The pair, of gap ``least`` mm, moved to where it leaves less, each pass by itself.

    What is best for a round main is even-sided; another section is not, nor lies its middle where
    the branch's does. Only where the passes stand to each other along the branch matters.
    """
    step = pair[0].diameter / FIRST_NUDGE
    while step > LAST_NUDGE_MM:
        tried = [_moved(pair, *(step * way for way in ways)) for ways in NUDGES]
        gaps = trial.gaps(tried)
        best = int(gaps.argmin())
        if gaps[best] < least - EVEN_MM:
            least, pair = float(gaps[best]), tried[best]
        else:
            step /= 2
    return least, pair


def _moved(pair: PassPair, one: float, other: float, up: float) -> PassPair:
    """Both passes moved sideways, and the first up the branch, mm."""
    first, second = pair
    return (replace(first, offset=first.offset + one, at=first.at + up),
            replace(second, offset=second.offset + other))
