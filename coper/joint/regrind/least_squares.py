"""Nonlinear least squares for a handful of unknowns, and how sure each of them is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats

ROUNDS = 30
"""Steps at most: a fit that has not settled by then is not going to."""
DAMPING = 1e-3
HARDER = 4.0
"""A step that makes things worse is tried again with that many times the damping (Marquardt's
rule, J. Soc. Ind. Appl. Math. 11, 1963)."""
SETTLED = 1e-3
"""A step this small, in degrees or mm, changes no reading."""
NUDGE = 0.02
"""Step of the differences, degrees or mm: an error that no bench can see."""
REST = 1e-3
"""Pull of every unknown towards 0 in its covariance, mm for each degree or mm: fifty times weaker
than a reading, it shows what no reading tells."""

STUDENT = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179,
    2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064,
)
"""Student's t at 0.975 for 1 to 24 degrees of freedom (NIST/SEMATECH e-Handbook, 1.3.6.7.2)."""

Residual = Callable[[Floats], Floats]
"""Prediction less reading (m, n) for m sets of unknowns (m, k)."""


@dataclass(frozen=True, slots=True, eq=False)
class Solution:
    """Where the sum of squares is least.

    Attributes
    ----------
    values : (k,) float
    residual : (n,) float
        Prediction less reading.
    slopes : (n, k) float
        Derivatives of the residual.
    """

    values: Floats
    residual: Floats
    slopes: Floats

    @property
    def squares(self) -> float:
        """Sum of squares of the residual."""
        return float(self.residual @ self.residual)

    @property
    def freedom(self) -> int:
        """Readings beyond those that the unknowns use up."""
        return self.residual.size - self.values.size

    def covariance(self, deviation: float) -> Floats:
        """Covariance (k, k) for readings of standard ``deviation``; huge where none tells."""
        normal = self.slopes.T @ self.slopes + np.diag(np.full(self.values.size, REST**2))
        result: Floats = np.multiply(np.linalg.inv(normal), deviation**2)
        return result


def least_squares(
    residual: Residual, start: Floats, low: Floats, high: Floats, pull: Floats
) -> Solution:
    """The least sum of squares that is downhill from ``start`` (k,), between two bounds (k,).

    ``pull`` (k,) is what draws each unknown towards 0, as a reading that is so many mm off for
    each degree or mm.
    """
    square = np.square(pull)

    def cost(values: Floats, off: Floats) -> float:
        return float(off @ off + square @ np.square(values))

    values: Floats = np.clip(start, low, high)
    damping = DAMPING
    now = residual(values[None])[0]
    slopes = _slopes(residual, values, low, high)
    for _ in range(ROUNDS):
        normal: Floats = slopes.T @ slopes + np.diag(square)
        downhill = -slopes.T @ now - square * values
        step = np.linalg.solve(normal + damping * np.diag(np.diagonal(normal)), downhill)
        tried: Floats = np.clip(values + step, low, high)
        found = residual(tried[None])[0]
        moved = float(np.abs(tried - values).max())
        if cost(tried, found) < cost(values, now):
            values, now, damping = tried, found, damping / HARDER
            slopes = _slopes(residual, values, low, high)
        else:
            damping *= HARDER
        if moved < SETTLED:
            break
    return Solution(values, now, slopes)


def _slopes(residual: Residual, values: Floats, low: Floats, high: Floats) -> Floats:
    """Derivatives (n, k), from one side where a bound is near."""
    nudge = NUDGE * np.eye(values.size)
    before, after = np.maximum(values - nudge, low), np.minimum(values + nudge, high)
    off = residual(np.concatenate((before, after)))
    wide = np.diagonal(after - before)[:, None]
    slopes: Floats = ((off[values.size:] - off[:values.size]) / wide).T
    return slopes


def student(freedom: int) -> float:
    """Half of a 95 % interval, in standard deviations with ``freedom`` degrees of freedom."""
    return STUDENT[freedom - 1]
