"""How far a shaped end can be pushed towards its mains: the first touch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import STEPS, even_clocks, find_breaks, grid_edges, merged
from coper.joint.fit.face import Face, raised
from coper.joint.miss import refuse_miss
from coper.joint.wall import DEPTHS
from coper.tolerances import EVEN_MM, SEATED_MM, TOUCH_MM

Value = Callable[[Floats, Floats], Floats]
"""Of clocks in degrees and depths in mm, broadcast against each other: mm."""

PUSHES = 60
"""Times that a taper is pushed on: each leaves at most a few tenths of what was left."""

CANDIDATES = 8
"""Places that may be the first touch; more than a joint has that touch within half a degree."""

TRIED = 17
"""Clocks and depths round a candidate that are tried at a time."""

CLOSER = 4
"""The window then shrinks to two steps either way."""

ROUNDS = 20
"""Half a degree over 4**20 is 5e-13 degrees: at a tip, where the edge is steep, still 1e-6 mm."""


@dataclass(frozen=True, slots=True)
class Touch:
    """Where a pushed end first touches.

    Attributes
    ----------
    slide : float, mm
        How far along the branch, away from the mains, it then is from where the design puts it.
    clock, depth : float, degrees, mm
        The place on the cut: clock as the branch is mounted, depth below the outside.
    """

    slide: float
    clock: float
    depth: float


def first_touch(face: Face, mounted: Cluster, turned: float, breaks: Floats) -> Touch:
    """Push an end with ``face``, turned by ``turned`` degrees, along its axis to first touch.

    At slide 0 the overlap of a generator is how far it enters the mains above its cut; the
    largest overlap pushes the end off. That is all for a tube of one section; a taper meets other
    generators then, and is pushed again until nothing overlaps and something touches. ``breaks``
    (k,) are the clocks in degrees where an edge of the cut or of the cope is not smooth.
    """
    slide, clocks = 0.0, merged(even_clocks(STEPS), breaks)
    for _ in range(PUSHES):
        overlap, clock, depth = largest_overlap(face, raised(mounted, -slide), turned, clocks)
        slide += overlap
        if abs(overlap) <= SEATED_MM or mounted.is_prismatic:
            return Touch(slide, clock, depth)
    raise JointError("the end cannot be pushed along its axis onto the main",
                     "check the angle and the taper", "branch")


def break_clocks(cluster: Cluster) -> Floats:
    """Breaks (k,) in degrees of the outside and of the inside edge."""
    outer, inner = grid_edges(cluster)
    if np.isnan(outer).all():
        refuse_miss(cluster)
    return merged(find_breaks(cluster, outer).all,
                  find_breaks(cluster, inner, cluster.wall()).all)


def overlaps(
    face: Face, mounted: Cluster, turned: float, clock: Floats, depth: Floats
) -> Floats:
    """How far in mm each generator enters the mains above its cut; below 0 it stands clear."""
    return mounted.entry(clock, depth) - face.station(clock - turned, depth)


def largest_overlap(
    face: Face, mounted: Cluster, turned: float, clocks: Floats
) -> tuple[float, float, float]:
    """The largest overlap in mm, its clock and its depth; of equal ones the first clock's."""

    def value(clock: Floats, depth: Floats) -> Floats:
        found = overlaps(face, mounted, turned, clock, depth)
        return np.nan_to_num(found, nan=-np.inf)

    best, clock, depth = _closed_in(value, *_peaks(value, clocks, mounted.wall()), mounted.wall())
    first = int(np.flatnonzero(best >= best.max() - EVEN_MM)[0])
    return float(best.max()), float(clock[first] % 360), float(depth[first])


def _peaks(value: Value, clocks: Floats, wall: float) -> tuple[Floats, Floats, Floats]:
    """The highest peaks (k,) of ``value`` on a grid: how high, clock and depth, by their clock."""
    depths = np.linspace(0.0, wall, DEPTHS)
    grid = value(clocks[:, None], depths)
    most = grid.max(axis=1)
    if np.isneginf(most).all():
        raise JointError("nothing of the cut meets the main", "make the mounting errors smaller",
                         "fit")
    peaks = (most >= np.roll(most, 1)) & (most >= np.roll(most, -1)) & np.isfinite(most)
    highest = np.argsort(-most[peaks], kind="stable")[:CANDIDATES]
    chosen = np.sort(np.flatnonzero(peaks)[highest])
    return most[chosen], clocks[chosen], depths[grid[chosen].argmax(axis=1)]


def _closed_in(
    value: Value, best: Floats, clock: Floats, depth: Floats, wall: float
) -> tuple[Floats, Floats, Floats]:
    """The same peaks, each followed in a window that shrinks about the best place in it."""
    half, deep = 360.0 / STEPS, wall / (DEPTHS - 1)
    step, row = np.linspace(-1.0, 1.0, TRIED), np.arange(best.size)
    for _ in range(ROUNDS):
        tried = clock[:, None] + half * step
        deeper = np.clip(depth[:, None] + deep * step, 0.0, wall)
        found = value(tried[:, :, None], deeper[:, None, :]).reshape(best.size, -1)
        at = found.argmax(axis=1)
        one, other = np.divmod(at, TRIED)
        better = found[row, at] > best + TOUCH_MM
        clock = np.where(better, tried[row, one], clock)
        depth = np.where(better, deeper[row, other], depth)
        best = np.where(better, found[row, at], best)
        half, deep = half / CLOSER, deep / CLOSER
    return best, clock, depth
