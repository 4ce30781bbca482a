r"""A branch on the inside of a bend, which comes round to it again if it goes on far enough.

::

        .---'  '---.     far side: met by the branch's body, if the bend goes on so far
       /     ||     \
      |      ||      |
       \     ||     /
        '---.__.---'     near side: what the branch seats on
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import STEPS, even_clocks, grid_edges
from coper.shapes.shape import Returning
from coper.tolerances import EVEN_MM
from coper.units import format_short, format_size, plain


def comes_round(cluster: Cluster, main: int, clock: Floats, outer: Floats) -> Floats:
    """Along (n,) in mm where main number ``main`` comes round to the outside again, or ``nan``.

    ``outer`` (n,) is the cope at ``clock`` (n,); the body is what lies beyond.
    """
    lines = cluster.branch.generators(clock, 0.0, np.nan_to_num(outer))
    again = np.broadcast_to(cluster.mains[main].again(lines), clock.shape)
    passed: Floats = np.where(again < outer - EVEN_MM, np.nan, again)
    return passed


def check_room(cluster: Cluster) -> None:
    """Refuse a branch that has no room on the inside of a bend, before anything is asked of it."""
    if any(isinstance(main.shape, Returning) for main in cluster.mains):
        refuse_blocked(cluster, even_clocks(STEPS), grid_edges(cluster))


def refuse_blocked(cluster: Cluster, clock: Floats, edges: Floats) -> None:
    """Refuse a branch that has no room on the inside of a bend.

    Some of its generators then run from the near side to the far one within the main, and what
    they enter is the far one. ``edges`` (2, n) in mm are outside and inside at ``clock`` (n,).
    """
    for depth, along in zip((0.0, cluster.wall()), edges, strict=True):
        lines = cluster.branch.generators(clock, depth, np.nan_to_num(along))
        for main in cluster.mains:
            blocked = np.abs(main.again(lines) - along) <= EVEN_MM
            if blocked.any():
                first = float(clock[blocked.argmax()])
                raise JointError(
                    f"the bend has no room for the branch on its inside: at clock {plain(first)} "
                    f"its side comes to {format_size(round(float(along[blocked][0]), 2))} up the "
                    "branch", "give a smaller branch or offset, a wider bend, or an angle nearer "
                    "90 degrees", "branch")


def ring_cautions(cluster: Cluster, clock: Floats, outer: Floats) -> Iterator[str]:
    """Where a ring comes round to the branch again, of which it is not known where it ends."""
    again = np.stack([comes_round(cluster, main, clock, outer)
                      for main in range(len(cluster.mains))])
    if np.isfinite(again).any():
        yield (f"The ring of the bend comes round to the branch again "
               f"{format_short(float(np.nanmin(again)), 0)} up: it must end, or run straight on, "
               "before that.")
