"""What is wrong with a dry fit, found from its gap readings."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats
from coper.joint.regrind.gap_model import NO_SPOT, GapModel
from coper.joint.regrind.least_squares import Solution, least_squares, student
from coper.joint.regrind.readings import GAUGE_MM, MOST_GAP_MM, GapReadings
from coper.joint.regrind.uneven import Uneven

TURN_DEG, ANGLE_DEG, OFFSET_SHARE = 15.0, 8.0, 0.15
"""Errors that are looked for, either way; the offset's as a share of the branch's size. Beyond
these the branch is on the wrong place, and no grinding mends it."""

USUAL = (1.5, 0.7, 0.5, 0.7, 0.5)
"""Errors of a mounting that a bench makes, degrees and mm, in the order of the gap's model: a fit
starts from such to all sides."""
PLAUSIBLE, PLAUSIBLE_MM = (3.0, 1.5, 1.0), 1.0
"""Errors that hardly ask for a reason, degrees, degrees and mm, and of a proud spot: larger ones
are believed where the readings leave no doubt."""
UNSPREAD = 1e-12
"""A variance below this is none: an error that the readings tell nothing of goes with no other."""
TRIED = 2
"""Starts that are followed to their end: the best ones; rarely does any but the best one win."""

KNOWN = 3
"""What is known of gauges (``GAUGE_MM``) counts as so many readings when theirs is estimated: few
readings that happen to fit well are no surer for it."""
ROUGH_MM = 2 * GAUGE_MM
"""Readings that stay this far off, root mean square, have more to them than the mounting."""
UNFIT_MM, UNFIT_SHARE = 3 * GAUGE_MM, 0.1
"""Readings that stay further off than both, in mm and as a share of the gaps, fit nothing."""
PROUD_MM, PROUD_SURE = 0.15, 2.0
"""A spot is told where it stands prouder than this, and by twice the half of its interval."""
SAME_MM = 1e-9
"""Rounding: a reading of one step of the gauge is not above it."""
LEAST_FOR_SPOT = 5
"""Readings from which a spot can be told from the three errors of the mounting."""
SPOTS = 3
"""Clocks of the smallest readings that are tried: a spot that holds the end off touches, and a
reading above one step of the gauge shows no contact."""


@dataclass(frozen=True, slots=True, eq=False)
class Finding:
    """What fits the readings best.

    Attributes
    ----------
    values : (k,) float
        As in the gap's model: the errors of the mounting, and what a spot stands proud, if any.
    spread : (k,) float
        Half of each one's 95 % interval.
    correlation : (k, k) float
    spot : float or None, degrees
    deviation : float, mm
        Standard deviation of a reading, from what is left over and what is known of gauges.
    explains : (k,) float
        Share of the readings' squares that each explains: the mean, over every order of putting
        the causes in, of what it adds (Shapley's value, Contributions to the Theory of Games II,
        1953), never below 0. They add up to the share that all explain together.
    left : (n,) float, mm
        What of each reading they leave.
    explained : bool
        Whether that is little enough.
    uneven : Uneven or None
        What says how uneven the grind is, of an end on several mains; ``None`` where it is even.
    size : float, mm
        Standard deviation of that grind.
    """

    values: Floats
    spread: Floats
    correlation: Floats
    spot: float | None
    deviation: float
    explains: Floats
    left: Floats
    explained: bool
    uneven: Uneven | None = None
    size: float = 0.0

    def with_grind(self, uneven: Uneven, size: float) -> Finding:
        """The same with a grind that is ``size`` mm uneven besides."""
        return replace(self, uneven=uneven, size=size)


def find_misfit(model: GapModel, readings: GapReadings) -> Finding:
    """The errors that explain ``readings`` best, of an end on one main."""
    best, spot = _fitted(model, readings, None), None
    if readings.gap.size > LEAST_FOR_SPOT and _deviation(best) > ROUGH_MM:
        best, spot = _with_spot(model, readings, best)
    return finding(model, readings, best, -best.residual, spot)


def finding(
    model: GapModel, readings: GapReadings, best: Solution, left: Floats, spot: float | None = None
) -> Finding:
    """What the ``best`` solution says, which leaves so much of each reading (n,), mm."""
    deviation, freedom = _gauged(best)
    covariance = best.covariance(deviation)
    size = np.sqrt(np.diagonal(covariance))
    return Finding(best.values + 0.0, student(freedom) * size,
                   covariance / np.outer(size, size).clip(min=UNSPREAD), spot, deviation,
                   _shares(model, readings, best.values, spot), left,
                   _explained(readings, left, best.values.size))


def limits(model: GapModel) -> Floats:
    """The largest errors of the mounting (3 or 5,) that are looked for, degrees and mm."""
    most = OFFSET_SHARE * model.joint.branch.girth(0.0) / math.pi
    return np.array((TURN_DEG, ANGLE_DEG, most, ANGLE_DEG, most)[:model.mounting])


def usual_starts(model: GapModel) -> Floats:
    """No error, and usual ones to all sides (m, k)."""
    count = model.mounting
    signs = np.array([(0.0,) * count, *itertools.product((-1.0, 1.0), repeat=count)])
    starts: Floats = signs * USUAL[:count]
    return starts


def predicted_off(
    model: GapModel, readings: GapReadings, values: Floats, spot: float | None = None
) -> Floats:
    """Gaps less readings (m, n) in mm for errors (m, k)."""
    gaps = model.gaps(values, NO_SPOT if spot is None else spot, readings.clock)
    off: Floats = np.nan_to_num(gaps, nan=MOST_GAP_MM) - readings.gap
    return off


def _fitted(
    model: GapModel, readings: GapReadings, spot: float | None, without: Floats | None = None
) -> Solution:
    """The least squares from the most promising starts.

    With a proud ``spot`` they are what is found ``without`` it, and nothing wrong but that.
    """
    most = limits(model)
    low, high = -most, most
    count, starts = model.mounting, usual_starts(model)
    pull = GAUGE_MM / np.array(PLAUSIBLE)
    if without is not None:
        low, high = np.append(low, 0.0), np.append(high, MOST_GAP_MM)
        starts = np.array([(*without, PROUD_MM), (*(0.0,) * count, readings.gap.max())])
        pull = np.append(pull, GAUGE_MM / PLAUSIBLE_MM)

    def off(values: Floats) -> Floats:
        return predicted_off(model, readings, values, spot)

    tried = starts[np.argsort(np.square(off(starts)).sum(axis=1), kind="stable")[:TRIED]]
    found = (least_squares(off, start, low, high, pull) for start in tried)
    return min(found, key=lambda solution: solution.squares)


def _deviation(solution: Solution) -> float:
    return math.sqrt(solution.squares / max(solution.freedom, 1))


def _gauged(solution: Solution) -> tuple[float, int]:
    """Standard deviation of a reading in mm, and the degrees of freedom behind it."""
    freedom = max(solution.freedom, 0) + KNOWN
    return math.sqrt((solution.squares + KNOWN * GAUGE_MM**2) / freedom), freedom


def _proud(solution: Solution) -> bool:
    """Whether the last unknown, what a spot stands proud, is surely there."""
    deviation, freedom = _gauged(solution)
    size = math.sqrt(solution.covariance(deviation)[-1, -1])
    return float(solution.values[-1]) > max(PROUD_MM, PROUD_SURE * student(freedom) * size)


def _with_spot(
    model: GapModel, readings: GapReadings, without: Solution
) -> tuple[Solution, float | None]:
    """The fit with the best proud spot, if one is surely there; else ``without`` any."""
    order = np.argsort(readings.gap, kind="stable")[:SPOTS]
    clocks = readings.clock[order[readings.gap[order] <= GAUGE_MM + SAME_MM]]
    if not clocks.size:
        return without, None
    tried = [(_fitted(model, readings, clock, without.values), clock)
             for clock in clocks.tolist()]
    best, spot = min(tried, key=lambda pair: pair[0].squares)
    return (best, spot) if _proud(best) and best.squares < without.squares else (without, None)


def _explained(readings: GapReadings, left: Floats, unknowns: int) -> bool:
    usual = math.sqrt(float(np.square(readings.gap).mean()))
    rough = math.sqrt(float(np.square(left).sum()) / max(left.size - unknowns, 1))
    return rough <= max(UNFIT_MM, UNFIT_SHARE * usual)


def _shares(model: GapModel, readings: GapReadings, values: Floats, spot: float | None) -> Floats:
    """What each cause explains (k,), from the gaps of every set of causes."""
    count = values.size
    sets = list(itertools.product((0.0, 1.0), repeat=count))
    left = _squares(model, readings, values * np.array(sets), spot)
    bare = left[0]
    explained = np.maximum(0.0, 1.0 - left / bare) if bare > 0 else np.zeros_like(left)
    worth = dict(zip(sets, explained.tolist(), strict=True))
    shares = np.zeros(count)
    for index, (chosen, value) in itertools.product(range(count), worth.items()):
        if chosen[index]:
            before = worth[(*chosen[:index], 0.0, *chosen[index + 1:])]
            others = round(sum(chosen)) - 1
            weight = 1.0 / (count * math.comb(count - 1, others))
            shares[index] += weight * (value - before)
    shares = shares.clip(min=0.0)
    together = worth[(1.0,) * count]
    return shares * (together / shares.sum()) if shares.sum() > 0 else shares


def _squares(
    model: GapModel, readings: GapReadings, values: Floats, spot: float | None
) -> Floats:
    """The readings' squares (m,) that causes (m, k) leave."""
    off = model.gaps(values, NO_SPOT if spot is None else spot, readings.clock) - readings.gap
    squares: Floats = np.nansum(np.square(off), axis=1)
    return squares
