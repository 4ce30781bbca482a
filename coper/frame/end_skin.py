"""A coped end as it is cut: its two edges in space, and what of them the wall hides.

::

              out ^    .--.
                  |   |    '-.     the edge outside, and that of the bore within it;
                  |   |      |     the body goes on downwards
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats
from coper.frame.end import counted, own_ways
from coper.frame.outline import Stretch, stretch_between
from coper.frame.piece import Piece
from coper.frame.sections import section_rows
from coper.frame.tube import Tube, Which
from coper.joint.cluster import Cluster
from coper.joint.cope import Cope
from coper.joint.edge import even_clocks, merged
from coper.joint.template import Cut, cut_line
from coper.shapes.pose import Pose

CLOCKS = 180
"""Even clocks of an edge, its breaks besides."""

SHOWN_ROUND = 1.3
"""How much of the tube behind its edge is drawn, in widths of it."""

ANGLES = 1440
"""Directions round the axis at which the wall is known: a quarter of a degree."""

RAY_STEPS = 96
"""Places on the way to the eye at which it is looked for the wall: less than a wall apart."""

CLEAR_MM = 0.25
"""What is nearer than this to the cut is not in the metal."""

SKIN_MM = 0.02
"""What is nearer than this to the skin or the bore is not in it: they are known by chords."""

Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class EndSkin:
    """A coped end, in its own frame: along from its point into the body, clock 0 on the first axis.

    Attributes
    ----------
    tube : Tube
    which : ``start`` or ``end``
    pose : Pose
        Where that frame stands.
    clock : (n,) float, degrees
        The end's own; the last is the first again, a turn on.
    outer, inner : (n, 3) float, mm
        The edge outside and the edge of the bore, straight across where the end is open.
    open : (n,) bool
        Where the outside misses every main.
    stretches : tuple of Stretch
        The body, from the edge as far as it is drawn.
    wall : Wall
    """

    tube: Tube
    which: Which
    pose: Pose
    clock: Floats
    outer: Floats
    inner: Floats
    open: Flags
    stretches: tuple[Stretch, ...]
    wall: Wall

    def behind_edge(self, clock: Floats, back: Floats) -> Floats:
        """Points (n, 3) of the end's frame on the skin, ``back`` (n,) mm behind the edge.

        ``clock`` (n,) is in degrees as the tube counts.
        """
        own = counted(self.which, clock) % 360
        along = np.interp(own, self.clock, self.outer[:, 2], period=360) + back
        shape, _ = self.tube.seen_from(self.which)
        return shape.generators(own, 0.0, along).at(along)

    def hidden(self, points: Floats, towards: Floats) -> Flags:
        """Whether (n,) the wall stands between points (n, 3) of its frame and the eye.

        ``towards`` (3,) is the way to the eye in the frame's axes.
        """
        return self.wall.hides(points, self.pose.axes @ towards)


@dataclass(frozen=True, slots=True, eq=False)
class Wall:
    """The metal of the end by the direction round its axis, every quarter of a degree.

    Attributes
    ----------
    skins : (2, 2, ANGLES) float, mm
        From the axis to the outside and to the bore, at ``low`` and at ``high``.
    edges : (2, ANGLES) float, mm
        Along of the outer and of the inner edge.
    low, high : float, mm
    """

    skins: Floats
    edges: Floats
    low: float
    high: float

    def hides(self, points: Floats, way: Floats) -> Flags:
        """Whether (n,) a line from points (n, 3) the ``way`` (3,) runs into it."""
        level, rise = float(np.hypot(way[0], way[1])), -float(way[2])
        reach = self.high - self.low
        if level > 0:  # further on it is out of the tube, aside or at its open end
            reach = min(reach, 2 * float(self.skins.max()) / level)
        if rise > 0:
            reach = min(reach, (float(np.ptp(self.edges)) + CLEAR_MM) / rise)
        steps = np.linspace(min(CLEAR_MM, reach / 2), reach, RAY_STEPS)
        return np.asarray(self.holds(points[:, None] + steps[:, None] * way).any(axis=1))

    def holds(self, points: Floats) -> Flags:
        """Whether points (..., 3) are in the metal."""
        turn = np.arctan2(points[..., 1], points[..., 0]) / (2 * np.pi) * ANGLES
        at = np.rint(turn).astype(np.int64) % ANGLES
        share = (points[..., 2] - self.low) / (self.high - self.low)
        outside, bore = (skin[0][at] + share * (skin[1][at] - skin[0][at])
                         for skin in self.skins.swapaxes(0, 1))
        off = np.hypot(points[..., 0], points[..., 1])
        deep = np.clip((outside - off) / np.maximum(outside - bore, CLEAR_MM), 0.0, 1.0)
        outer, inner = self.edges[:, at]
        behind = points[..., 2] > outer + deep * (inner - outer) + CLEAR_MM
        held: Flags = behind & (off < outside - SKIN_MM) & (off > bore + SKIN_MM)
        return held


def end_skin(piece: Piece, which: Which, cut: Cut) -> EndSkin:
    """The end of a piece that is coped, cut ``bevelled`` or ``square``."""
    tube, end, other = piece.tube, piece.end_at(which), piece.end_at(
        "end" if which == "start" else "start")
    cope = end.cope
    assert cope is not None
    cluster = cope.cluster
    own = merged(even_clocks(CLOCKS), cope.breaks.all, cope.inner_breaks.all)
    clock = np.append(own, own[0] + 360)
    outer, inner, missed = _edges(cope, clock, cut)
    shape, pose = tube.seen_from(which)
    _, along = own_ways(tube, which)
    wide = float(shape.girth(along=float(outer.max()))) / np.pi
    last = min(float(outer.max()) + SHOWN_ROUND * wide,
               max(float(along(other.short_point.along)), float(outer.max()) + 1.0))
    low, high = (outer, np.full(clock.size, last)) if which == "start" else (
        along(np.full(clock.size, last)), along(outer))
    turned = counted(which, clock)
    return EndSkin(
        tube, which, pose, clock, _at(cluster, clock, outer, 0.0),
        _at(cluster, clock, inner, cluster.wall()), missed,
        tuple(stretch_between(piece, turned, rows) for rows in section_rows(tube, low, high)),
        _wall(cluster, clock, (outer, inner), last))


def _edges(cope: Cope, clock: Floats, cut: Cut) -> tuple[Floats, Floats, Flags]:
    """The alongs (n,) in mm of both edges, and where (n,) the outside misses every main."""
    cluster = cope.cluster
    outer = cut_line(cluster, clock, cut)
    inner = outer if cut == "square" else cluster.entry(clock, cluster.wall())
    missed = np.isnan(cluster.entry(clock))
    outer = _bridged(clock, outer)
    return outer, outer if np.isnan(inner).all() else _bridged(clock, inner), missed


def _bridged(clock: Floats, along: Floats) -> Floats:
    """The alongs (n,) with straight ways over what is open."""
    known = np.isfinite(along)
    bridged: Floats = np.interp(clock, clock[known], along[known], period=360)
    return bridged


def _at(cluster: Cluster, clock: Floats, along: Floats, depth: float) -> Floats:
    return cluster.branch.generators(clock, depth, along).at(along)


def _wall(
    cluster: Cluster, clock: Floats, edges: tuple[Floats, Floats], high: float
) -> Wall:
    low = float(min(edges[0].min(), edges[1].min())) - 1.0
    around = np.arange(ANGLES) * (2 * np.pi / ANGLES)

    def by_angle(points: Floats, values: Floats) -> Floats:
        turn = np.arctan2(points[:, 1], points[:, 0])
        found: Floats = np.interp(around, turn, values, period=2 * np.pi)
        return found

    skins = []
    for along in (low, high):
        for depth in (0.0, cluster.wall()):
            points = _at(cluster, clock, np.full(clock.size, along), depth)
            skins.append(by_angle(points, np.hypot(points[:, 0], points[:, 1])))
    depths = (0.0, cluster.wall())
    lines = [by_angle(_at(cluster, clock, edge, depth), edge)
             for edge, depth in zip(edges, depths, strict=True)]
    return Wall(np.array(skins).reshape(2, 2, ANGLES), np.array(lines), low, high)
