"""What happens inside the wall: the square cut, and the bevel of the other one."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from coper.arrays import Floats
from coper.joint.cluster import Cluster

DEPTHS = 9
"""Depths through the wall that are tried at a time."""

ROUNDS = 6
"""Times that the depths close in: a wall over 8 x 4**5 is a ten thousandth of it."""


def square_station(cluster: Cluster, clock: Floats) -> Floats:
    """Along (n,) in mm of a cut square to the wall that clears the mains through the whole wall.

    At each clock it is the furthest up that any point between the outside and the inside asks
    for; ``nan`` where the whole wall misses. Found by trying depths and closing in on the best.
    """
    return most_through(lambda depth: cluster.entry(clock, depth), clock, cluster.wall())


def most_through(value: Callable[[Floats], Floats], clock: Floats, wall: float) -> Floats:
    """The largest (n,) through the wall of ``value``, which gives (DEPTHS, n) for such depths.

    ``nan`` where it is ``nan`` at every depth that was tried.
    """
    low, high = np.zeros_like(clock), np.full_like(clock, wall)
    share = np.linspace(0.0, 1.0, DEPTHS)[:, None]
    best = np.full(clock.shape, -np.inf)
    for _ in range(ROUNDS):
        found = np.nan_to_num(value(low + (high - low) * share), nan=-np.inf)
        best = np.maximum(best, found.max(axis=0))
        at = np.argmax(found, axis=0)
        step = (high - low) / (DEPTHS - 1)
        middle = low + at * step
        low, high = np.maximum(middle - step, 0.0), np.minimum(middle + step, wall)
    return np.where(np.isneginf(best), np.nan, best)


def bevel(outer: Floats, inner: Floats, wall: float) -> Floats:
    r"""Degrees (n,) by which a cut face leans from square to the wall.

    Above 0 the inside edge is cut back further up the tube than the outside edge::

        outside  -----.            outside  ----------.
                       \                             /
        inside   ----------.       inside   -------'
                 below 0                    above 0
    """
    return np.degrees(np.arctan2(inner - outer, wall))
