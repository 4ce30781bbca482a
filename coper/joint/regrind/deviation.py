"""What the readings say beyond the errors that were found: a smooth curve once round.

Kriging (Cressie, Statistics for Spatial Data, 1993, section 3.2): the likeliest of all smooth
curves, the readings good to so much. Near a reading it follows that, far from all it returns to 0.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats

ALIKE_SPACES = 1.0
"""How far along the clock an uneven grind is alike, in spaces between two readings: what is finer
they cannot show."""


@dataclass(frozen=True, slots=True, eq=False)
class Deviation:
    """A smooth curve.

    Attributes
    ----------
    clock : (n,) float, degrees
        Of the readings.
    weight : (n,) float, mm
    alike : float, degrees
        How far along the clock it is alike.
    """

    clock: Floats
    weight: Floats
    alike: float

    def at(self, clock: Floats) -> Floats:
        """The curve (m,) in mm at clocks (m,)."""
        found: Floats = alike(clock, self.clock, self.alike) @ self.weight
        return found


def smooth(clock: Floats, off: Floats, size: float, noise: float) -> Deviation:
    """The likeliest curve through what is ``off`` (n,) in mm at clocks (n,).

    ``size`` and ``noise`` are the standard deviations in mm of the curve and of a reading.
    """
    wide = alike_width(clock)
    within = alike(clock, clock, wide) * size**2
    spread = within + np.eye(clock.size) * noise**2
    weight: Floats = np.multiply(np.linalg.solve(spread, off), size**2)
    return Deviation(clock, weight, wide)


def alike_width(clock: Floats) -> float:
    """How far along the clock, degrees, an uneven grind is alike, read at clocks (n,)."""
    return ALIKE_SPACES * float(np.median(np.diff(clock, append=clock[0] + 360)))


def alike(one: Floats, other: Floats, wide: float) -> Floats:
    """How alike (m, n) the curve is at two clocks: 1 at the same, nearly 0 far beyond ``wide``."""
    chord = np.sin(np.radians(one[:, None] - other) / 2)
    same: Floats = np.exp(-2 * np.square(chord / np.radians(wide)))
    return same
