"""What the readings say beyond the errors that were found: a smooth curve once round.

Kriging (Cressie, Statistics for Spatial Data, 1993, section 3.2): the likeliest of all smooth
curves, the readings good to so much. Near a reading it follows that, far from all it returns to 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats

ALIKE_DEG = 40.0
"""How far along the clock an uneven grind is alike: readings every 45 degrees show it, what is
finer they cannot."""


@dataclass(frozen=True, slots=True, eq=False)
class Deviation:
    """A smooth curve.

    Attributes
    ----------
    clock : (n,) float, degrees
        Of the readings.
    weight : (n,) float, mm
    """

    clock: Floats
    weight: Floats

    def at(self, clock: Floats) -> Floats:
        """The curve (m,) in mm at clocks (m,)."""
        found: Floats = _alike(clock, self.clock) @ self.weight
        return found


def smooth(clock: Floats, off: Floats, size: float, noise: float) -> Deviation:
    """The likeliest curve through what is ``off`` (n,) in mm at clocks (n,).

    ``size`` and ``noise`` are the standard deviations in mm of the curve and of a reading.
    """
    within = _alike(clock, clock) * size**2
    spread = within + np.eye(clock.size) * noise**2
    weight: Floats = np.multiply(np.linalg.solve(spread, off), size**2)
    return Deviation(clock, weight)


def _alike(one: Floats, other: Floats) -> Floats:
    """How alike (m, n) the curve is at two clocks: 1 at the same, falling to nearly 0."""
    chord = np.sin(np.radians(one[:, None] - other) / 2)
    alike: Floats = np.exp(-2 * np.square(chord / np.radians(ALIKE_DEG)))
    return alike
