"""By how much a branch misses."""

from __future__ import annotations

from typing import NoReturn

import numpy as np

from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks

SEARCH_MM = 1e4
"""Half the stretch of each generator that is searched for its nearest point: 10 m."""

THIRDS = 80
"""Times that the stretch loses a third: 20 m times (2/3)**80 is under a ten thousandth of a mm."""


def nearest_miss(cluster: Cluster) -> float:
    """The least distance in mm between a generator and a main, where none enters one.

    A distance to a convex main falls and then grows along a line, so that thirds can be dropped.
    """
    lines = cluster.branch.generators(even_clocks(72))
    least = np.inf
    for main in cluster.mains:
        low, high = np.full(72, -SEARCH_MM), np.full(72, SEARCH_MM)
        for _ in range(THIRDS):
            left, right = low + (high - low) / 3, high - (high - low) / 3
            nearer = main.distance(lines.at(left)) < main.distance(lines.at(right))
            low, high = np.where(nearer, low, left), np.where(nearer, right, high)
        least = min(least, float(main.distance(lines.at((low + high) / 2)).min()))
    return least


def refuse_miss(cluster: Cluster) -> NoReturn:
    """Raise the error of a branch that never meets its mains."""
    raise JointError(
        f"the branch misses the main by {nearest_miss(cluster):.2f} mm all the way round",
        "make the offset smaller or check the diameters",
        "offset",
    )
