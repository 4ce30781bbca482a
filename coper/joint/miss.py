"""By how much a branch misses."""

from __future__ import annotations

from typing import NoReturn

import numpy as np

from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks

CLOCKS = 72
"""Generators that are looked at, every 5 degrees: between two of them a tube of 28.6 mm comes
nearer by ``r (1 - cos 2.5 deg)`` at most, 0.014 mm."""

SEARCH_MM = 1e4
"""Half the stretch of each generator that is searched for its nearest point: 10 m."""

THIRDS = 80
"""Times that the stretch loses a third: 20 m times (2/3)**80 is under a ten thousandth of a mm."""


def nearest_miss(cluster: Cluster) -> float:
    """The least distance in mm between a generator and a main, where none enters one.

    A distance to a convex main falls and then grows along a line, so that thirds can be dropped.
    """
    lines = cluster.branch.generators(even_clocks(CLOCKS))
    least = np.inf
    for main in cluster.mains:
        low, high = np.full(CLOCKS, -SEARCH_MM), np.full(CLOCKS, SEARCH_MM)
        for _ in range(THIRDS):
            left, right = low + (high - low) / 3, high - (high - low) / 3
            nearer = main.distance(lines.at(left)) < main.distance(lines.at(right))
            low, high = np.where(nearer, low, left), np.where(nearer, right, high)
        least = min(least, float(main.distance(lines.at((low + high) / 2)).min()))
    return least


def closing_station(cluster: Cluster) -> float | None:
    """Where in mm a taper closes that would meet a main further on; ``None`` if none would."""
    lines = cluster.branch.generators(even_clocks(CLOCKS))
    for main in cluster.mains:
        entry = main.first_entry(lines)
        for closed, bound in zip((np.less_equal, np.greater_equal), cluster.branch.extent(),
                                 strict=True):
            if closed(entry, bound).any():
                return float(bound)
    return None


def refuse_miss(cluster: Cluster) -> NoReturn:
    """Raise the error of a branch that never meets its mains."""
    closes = closing_station(cluster)
    if closes is not None:
        raise JointError(
            f"the taper closes at along {closes:.2f} mm, before it reaches the main",
            "check its two diameters and the length between them", "branch")
    miss = nearest_miss(cluster)
    if miss > 0:
        raise JointError(
            f"the branch misses the main by {miss:.2f} mm all the way round",
            "make the offset smaller or check the diameters", "offset")
    if any(main.shape.kind == "plate" for main in cluster.mains):
        raise JointError("the branch lies behind the plate's face",
                         "turn the plate's face to the branch", "main")
    raise JointError("the branch lies inside the main all the way",
                     "check the angle and the diameters", "angle")
