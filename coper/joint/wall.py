"""What happens inside the wall: the square cut, and the bevel of the other one."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from coper.arrays import Floats
from coper.joint.cluster import Cluster
from coper.search import lowest
from coper.tolerances import THROUGH

DEPTHS = 9
"""Even depths through the wall that are tried at first."""


def square_station(cluster: Cluster, clock: Floats) -> Floats:
    """Along (n,) in mm of a cut square to the wall that clears the mains through the whole wall.

    At each clock it is the furthest up that any point between the outside and the inside asks
    for; ``nan`` where the whole wall misses.
    """
    return -least_through(lambda depth: -cluster.entry(clock[:, None], depth), cluster.wall())


def least_through(value: Callable[[Floats], Floats], wall: float) -> Floats:
    """The least (n,) through the wall of ``value``, a number (n, d) for depths (1, d) or (n, d).

    ``nan`` where it is ``nan`` at every depth that was tried.
    """
    least = lowest(value, np.linspace(0.0, wall, DEPTHS), THROUGH).least
    return np.where(np.isinf(least), np.nan, least)


def bevel(outer: Floats, inner: Floats, wall: float) -> Floats:
    r"""Degrees (n,) by which a cut face leans from square to the wall.

    Above 0 the inside edge is cut back further up the tube than the outside edge::

        outside  -----.            outside  ----------.
                       \                             /
        inside   ----------.       inside   -------'
                 below 0                    above 0
    """
    return np.degrees(np.arctan2(inner - outer, wall))
