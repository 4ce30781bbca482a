"""By how much a branch misses."""

from __future__ import annotations

from typing import NoReturn

import numpy as np

from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks
from coper.search import lowest
from coper.tolerances import FOLLOWED, NEVER_MM

CLOCKS = 72
"""Generators that are looked at, every 5 degrees: between two of them a tube of 28.6 mm comes
nearer by ``r (1 - cos 2.5 deg)`` at most, 0.014 mm."""

SEARCHED_MM = np.linspace(-1e4, 1e4, 9)
"""Where each generator is looked at first for its nearest point: over 10 m either way."""


def nearest_miss(cluster: Cluster) -> float:
    """The least distance in mm between a generator and a main, where none enters one.

    A distance to a convex main falls and then grows along a line.
    """
    lines = cluster.branch.generators(even_clocks(CLOCKS)[:, None])
    return min(float(lowest(lambda at, main=main: main.distance(lines.at(at)), SEARCHED_MM,
                            FOLLOWED)
                     .least.min()) for main in cluster.mains)


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


def furthest_entry(cluster: Cluster) -> float | None:
    """Where in mm a generator enters a main further off than any tube reaches, else ``None``."""
    lines = cluster.branch.generators(even_clocks(CLOCKS))
    entries = np.concatenate([np.atleast_1d(main.first_entry(lines)) for main in cluster.mains])
    far = entries[np.abs(entries) >= NEVER_MM]
    return float(far[0]) if far.size else None


def refuse_miss(cluster: Cluster) -> NoReturn:
    """Raise the error of a branch that never meets its mains."""
    closes = closing_station(cluster)
    if closes is not None:
        raise JointError(
            f"the taper closes at along {closes:.2f} mm, before it reaches the main",
            "check its two diameters and the length between them", "branch")
    far = furthest_entry(cluster)
    if far is not None:
        raise JointError(f"the branch would meet the main only {abs(far) / 1000:.0f} m off",
                         "check the diameters, the angle and the unit", "main")
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
