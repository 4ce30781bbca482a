"""Branches that miss their mains, or run along them."""

from __future__ import annotations

import math
from typing import NoReturn

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import even_clocks
from coper.search import lowest
from coper.shapes.arc import Arc
from coper.tolerances import FOLLOWED, LEAST_LEAN_DEG, NEVER_MM
from coper.units import format_short, plain

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


def check_meets(cluster: Cluster, outer: Floats) -> None:
    """Refuse a branch that meets no main, or one that it runs along.

    Parameters
    ----------
    cluster
        The branch and its mains.
    outer : (n,) float, mm
        Its outside edge at ``n`` even clocks.

    Raises
    ------
    JointError
        It says by how much the branch misses, or where it runs along the main.
    """
    clock = even_clocks(outer.size)
    _refuse_level(cluster, clock, outer)
    if np.isnan(outer).all():
        _refuse_miss(cluster)
    if np.isnan(outer).any():
        _refuse_far(cluster, clock, outer)


def _refuse_level(cluster: Cluster, clock: Floats, outer: Floats) -> None:
    """Refuse a branch with a side that runs along a plate that it would seat on."""
    winner = cluster.winner(clock, outer)
    ways = cluster.branch.generators(clock).directions
    ways = ways / np.linalg.norm(ways, axis=-1, keepdims=True)
    for index, main in enumerate(cluster.mains):
        if main.shape.kind != "plate":
            continue
        sines = (ways * main.normal(np.zeros(3))).sum(axis=-1)
        lean = np.where((winner == index) | np.isnan(outer), np.abs(np.degrees(np.arcsin(sines))),
                        np.inf)
        least = int(lean.argmin())
        if lean[least] < LEAST_LEAN_DEG:
            raise JointError(
                f"the branch runs along the plate: its side at clock {plain(clock[least])} stands "
                f"at {lean[least]:.2f} degrees to the face",
                f"change the angle or the turn until it stands at {plain(LEAST_LEAN_DEG)} or more",
                "angle")


def _refuse_far(cluster: Cluster, clock: Floats, outer: Floats) -> None:
    """Refuse a branch with a side that would meet its main, but only where no tube reaches."""
    far = np.isnan(outer) & np.isfinite(cluster.entry(clock, never=np.inf))
    if far.any():
        raise JointError(
            f"the branch runs along the main: its side at clock {plain(clock[far.argmax()])} meets "
            f"it only beyond {NEVER_MM / 1000:.0f} m", "give an angle further from 0 and 180",
            "angle")


def _furthest_entry(cluster: Cluster) -> float | None:
    """Where in mm a generator enters a main further off than any tube reaches, else ``None``."""
    lines = cluster.branch.generators(even_clocks(CLOCKS))
    entries = np.concatenate([np.atleast_1d(main.first_entry(lines)) for main in cluster.mains])
    far = entries[np.abs(entries) >= NEVER_MM]
    return float(far[0]) if far.size else None


def _refuse_miss(cluster: Cluster) -> NoReturn:
    """Raise the error of a branch that never meets its mains."""
    closes = closing_station(cluster)
    if closes is not None:
        raise JointError(
            f"the taper closes at along {format_short(closes)}, before it reaches the main",
            "check its two diameters and the length between them", "branch")
    far = _furthest_entry(cluster)
    if far is not None:
        raise JointError(f"the branch would meet the main only {abs(far) / 1000:.0f} m off",
                         "check the diameters, the angle and the unit", "main")
    miss = nearest_miss(cluster)
    if miss > 0:
        raise JointError(
            f"the branch misses the main by {format_short(miss)} all the way round",
            "make the offset smaller or check the diameters", "offset")
    if any(main.shape.kind == "plate" for main in cluster.mains):
        raise JointError("the branch lies behind the plate's face",
                         "turn the plate's face to the branch", "main")
    if any(isinstance(main.shape, Arc) and main.shape.half < math.pi for main in cluster.mains):
        raise JointError("the bend ends before the branch's sides come to it",
                         "make the bend longer, or the branch smaller", "bend")
    raise JointError("the branch lies inside the main all the way",
                     "check the angle and the diameters", "angle")
