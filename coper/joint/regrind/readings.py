"""Gap readings of a dry fit: what a feeler gauge said at some clocks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.joint.mountable import Mountable
from coper.joint.sides import clock_name
from coper.units import format_size, plain

LEAST_READINGS = 3
"""One for each error of the mounting that has to be found."""
MOST_READINGS = 24
"""A reading every 15 degrees: a feeler gauge is no narrower on a tube of 28 mm."""
MOST_GAP_MM = 25.0
"""A larger one is a slip of the decimal point."""
GAUGE_MM = 0.05
"""Standard deviation of a reading with feeler gauges (common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class GapReadings:
    """Gaps on the outside of a seated end, sorted by clock.

    Attributes
    ----------
    clock : (n,) float, degrees
        As the branch is mounted.
    gap : (n,) float, mm
    """

    clock: Floats
    gap: Floats


def make_readings(pairs: Sequence[tuple[float, float]]) -> GapReadings:
    """Readings from pairs of clock (degrees) and gap (mm), in any order.

    Raises
    ------
    JointError
        Too few or too many, a clock twice or off the circle, a gap that is none.
    """
    if len(pairs) < LEAST_READINGS:
        raise JointError(f"{len(pairs)} readings are too few",
                         f"read the gap at {LEAST_READINGS} clocks or more; 8 are good", "gaps")
    if len(pairs) > MOST_READINGS:
        raise JointError(f"{len(pairs)} readings are too many",
                         f"give {MOST_READINGS} at most", "gaps")
    seen: set[float] = set()
    for clock, gap in pairs:
        _check_reading(clock, gap, seen)
        seen.add(clock)
    clocks, gaps = np.array(sorted(pairs), dtype=np.float64).T
    return GapReadings(clocks, gaps)


def _check_reading(clock: float, gap: float, seen: set[float]) -> None:
    place = f"gaps at clock {plain(clock)}"
    if not 0 <= clock < 360:
        raise JointError("there is no such clock", "write it from 0 to below 360", place)
    if clock in seen:
        raise JointError("read twice", "keep one reading for each clock", place)
    if not 0 <= gap <= MOST_GAP_MM:
        raise JointError(f"{format_size(gap)} is no gap",
                         f"give 0, where it touches, to {format_size(MOST_GAP_MM)}", place)


def check_meets(joint: Mountable, readings: GapReadings) -> None:
    """Refuse a reading where the design's end meets no main: there is no gap to read."""
    open_ones = readings.clock[np.isnan(joint.cluster().entry(readings.clock))]
    if open_ones.size:
        raise JointError("the end meets no main there, so there is no gap to read",
                         "leave this reading out",
                         f"gaps at clock {clock_name(joint, float(open_ones[0]))}")
