"""Where to read too, before any metal goes: where a gap goes unseen.

::

    gap |        .              between two readings a peak may stand that neither shows,
        |  o   .' '.  o     /   and where an end overhangs its gap opens towards the tip
        |__|__________|____/
          read       read   tip
"""

from __future__ import annotations

import math

import numpy as np

from coper.arrays import Floats
from coper.joint.edge import even_clocks
from coper.joint.fit.grid import break_clocks
from coper.joint.mountable import Mountable
from coper.joint.regrind.readings import MOST_READINGS
from coper.search import Flags

WIDE_DEG = 30.0
"""Readings further apart hide a peak: an uneven grind rises and falls again within 35 degrees."""
BY_KINK_DEG = 6.0
"""So near to where an end goes from one main to the next its gap says most of how it is turned."""
NEAR_DEG = 5.0
"""A tip with a reading so near is read."""
CLOCKS = 360
"""Even clocks, whole degrees, among which a tip is found."""


def _tips(meets: Flags) -> Floats:
    """The outermost whole clocks (n,) in degrees of every stretch that ``meets`` (CLOCKS,)."""
    return even_clocks(CLOCKS)[meets & ~(np.roll(meets, 1) & np.roll(meets, -1))]


def read_also(joint: Mountable, read: Floats, between: bool) -> Floats:
    """Whole clocks (n,) in degrees, rising, that are to be read besides those ``read`` (m,).

    The tips of an overhanging end, and ``between`` readings that are far apart, evenly, of an end
    on several mains by its kinks too; none where there would be more than are taken.
    """
    meets = ~np.isnan(joint.cluster().entry(even_clocks(CLOCKS)))
    ends = _tips(meets)
    ends = ends[[bool(_away(read, tip).min() > NEAR_DEG) for tip in ends.tolist()]]
    found = np.union1d(ends, _between(np.union1d(read, ends), meets) if between else ends)
    if between and joint.leans:
        near = _by_kinks(joint, np.union1d(read, ends), meets)
        more = np.union1d(ends, np.union1d(near, _between(np.union1d(read, near), meets)))
        if read.size + more.size <= MOST_READINGS:
            return more
    return found if read.size + found.size <= MOST_READINGS else ends


def _by_kinks(joint: Mountable, read: Floats, meets: Flags) -> Floats:
    """Clocks (n,) by either side of a kink of the end, but those near to one ``read`` (m,)."""
    sides = break_clocks(joint.cluster())[:, None] + np.array((-BY_KINK_DEG, BY_KINK_DEG))
    whole = np.unique(np.round(sides).astype(int) % CLOCKS)
    return np.array([at for at in whole.tolist()
                     if meets[at] and _away(read, at).min() > BY_KINK_DEG], dtype=np.float64)


def _between(read: Floats, meets: Flags) -> Floats:
    """Clocks (n,) between neighbours of ``read`` (m,) that are far apart and shut between."""
    found: list[float] = []
    for start, end in zip(read, np.append(read[1:], read[0] + 360), strict=True):
        parts = math.ceil((end - start) / WIDE_DEG)
        inside = np.round(np.linspace(start, end, parts + 1)[1:-1]).astype(int) % CLOCKS
        found.extend(inside[meets[inside]].tolist())
    return np.array(sorted(found), dtype=np.float64)


def _away(read: Floats, clock: float) -> Floats:
    """Degrees (m,) from a clock to those ``read`` (m,)."""
    away: Floats = np.abs((read - clock + 180) % 360 - 180)
    return away
