"""What is wrong with a dry fit on several mains: five errors, and a grind that may be uneven.

Where the end goes from one main to the next its edge stands out as a horn, and an error that moves
the horn aside leaves it to hold off the whole end. So errors must not be put down to what is only
an uneven grind: of the sizes that this may have the likeliest counts (the evidence of Laplace's
approximation: MacKay, Neural Computation 4, 1992, p. 415; from memory).
"""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.joint.regrind.gap_model import GapModel
from coper.joint.regrind.least_squares import Solution, least_squares
from coper.joint.regrind.misfit import (
    TRIED,
    USUAL,
    Finding,
    finding,
    limits,
    predicted_off,
    usual_starts,
)
from coper.joint.regrind.readings import GAUGE_MM, GapReadings
from coper.joint.regrind.uneven import SIZES_MM, Uneven


def find_uneven(model: GapModel, readings: GapReadings) -> Finding:
    """The errors that explain ``readings`` best, and how uneven the grind is besides."""
    uneven = Uneven(readings.clock, model.shares(readings.clock))
    starts = usual_starts(model)
    found: list[tuple[float, float, Solution]] = []
    for size in SIZES_MM:
        solutions = _solutions(model, readings, uneven.covariance(size), starts)
        found += [(worth, size, solution) for worth, solution in solutions]
        starts = np.stack([np.zeros(model.mounting), *(one.values for _, _, one in found)])
    _, size, best = max(found, key=lambda one: one[0])
    left = -predicted_off(model, readings, best.values[None])[0]
    result = finding(model, readings, best, left)
    return result if not size else result.with_grind(uneven, size)


def _solutions(
    model: GapModel, readings: GapReadings, covariance: Floats, starts: Floats
) -> list[tuple[float, Solution]]:
    """The least squares from the best of ``starts`` (m, k), and the evidence of each.

    Readings that are off together by a ``covariance`` (n, n) in mm^2 are weighed so that they are
    as if each were off by itself, as a gauge is.
    """
    root = np.linalg.cholesky(covariance)
    weigh = GAUGE_MM * np.linalg.inv(root)
    most, pull = limits(model), GAUGE_MM / np.array(USUAL[:model.mounting])

    def off(values: Floats) -> Floats:
        weighed: Floats = predicted_off(model, readings, values) @ weigh.T
        return weighed

    order = np.argsort(np.square(off(starts)).sum(axis=1), kind="stable")[:TRIED]
    solutions = [least_squares(off, start, -most, most, pull) for start in starts[order]]
    spread = float(np.log(np.diagonal(root)).sum())
    return [(_evidence(one, pull) - spread, one) for one in solutions]


def _evidence(found: Solution, pull: Floats) -> float:
    """How likely such readings are, but for a constant; ``pull`` (k,) is that of each unknown."""
    cost = (found.squares + float(np.square(pull * found.values).sum())) / GAUGE_MM**2
    normal = found.slopes.T @ found.slopes + np.diag(np.square(pull))
    return -cost / 2 - float(np.linalg.slogdet(normal)[1]) / 2
