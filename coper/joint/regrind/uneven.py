r"""How uneven the grind of an end may be, beyond errors of its mounting: what readings show of it.

::

    gap |      _                an uneven edge is smooth along the clock. Where the end goes from
        |  .--' `-.   .--.      one main to another its gap is not: the same metal opens it by
        |_/________`-'____`_    another share there.
            main 0  |  main 1

Errors that are fitted as if readings were wrong one by one follow such a wave, and put the place
where the mains meet on the wrong clock. Here what is off at two clocks is alike the nearer they
are (kriging: Cressie, Statistics for Spatial Data, 1993, section 3.2), and a proud place holds the
whole end off.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.joint.regrind.deviation import alike
from coper.joint.regrind.readings import GAUGE_MM

SIZES_MM = (0.0, 0.1, 0.2, 0.4)
"""Standard deviations of a grind that are tried: by template and file, in a hurry, and by eye."""
WIDE_DEG = 35.0
"""How far along the clock a grind is alike: it rises and falls again within as much."""
HELD_OFF = 2.0
"""What holds a whole end off is so many standard deviations of its grind: the proudest place."""


@dataclass(frozen=True, slots=True, eq=False)
class Uneven:
    """Readings of an end whose grind may be uneven.

    Attributes
    ----------
    clock : (n,) float, degrees
        Of the readings.
    share : (n,) float
        By how much the gap opens there for each mm that the end is shorter along the tube.
    """

    clock: Floats
    share: Floats

    def covariance(self, size: float) -> Floats:
        """Of what the readings are off (n, n) in mm^2, the grind ``size`` mm uneven."""
        within = np.outer(self.share, self.share) * self._grind(self.clock, size)
        return within + np.eye(self.clock.size) * GAUGE_MM**2

    def short(self, clock: Floats, off: Floats, size: float) -> Floats:
        """By how much (m,) in mm the end is shorter where readings are ``off`` (n,) mm."""
        weight = np.linalg.solve(self.covariance(size), off)
        found: Floats = self._grind(clock, size) @ (self.share * weight)
        return found

    def _grind(self, clock: Floats, size: float) -> Floats:
        """How the grind at clocks (m,) goes with that at the readings (m, n), mm^2."""
        smooth = alike(clock, self.clock, WIDE_DEG)
        together: Floats = size**2 * (smooth + HELD_OFF**2)
        return together
