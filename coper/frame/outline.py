"""The lines that a drawing of a placed tube is made of, seen from any side.

::

      up ^     .-----------.
         |    ( edge        ) outline: where the skin turns away from the eye
         |     '-----------'
         +------> right            the eye looks against right x up
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats
from coper.frame.piece import Piece
from coper.frame.sections import section_rows
from coper.frame.solid import solid
from coper.frame.tube import REMEMBERED
from coper.frame.view import View
from coper.joint.edge import even_clocks
from coper.shapes.bent import Bent
from coper.shapes.box import Box

CLOCKS = 180
"""Points of an edge: a chord of a 40 mm tube then misses its arc by 0.003 mm."""

END_ON = 1e-3
"""A tube whose axis is seen this short, as a share of its length, is seen end-on: no outline."""


TOWARDS = 0.05
"""A bend's end that is seen shorter than this share comes straight towards the eye: of a quarter
ring the last step does, being seen at half of 3 degrees."""

FLUSH_MM = 0.01
"""A line of sight that passes an edge by less is not drawn as passing it."""

Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A line of a drawing.

    Attributes
    ----------
    points : (n, 2) float, mm
    hidden : bool
        Whether the tube itself stands before it.
    existing : bool
        Whether it is of a tube that stands already.
    """

    points: Floats
    hidden: bool = False
    existing: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """An edge round an end.

    Attributes
    ----------
    points, normals : (n, 3) float
        In mm of the frame, and outward of the skin there.
    out : (3,) float
        The tube's axis there, away from the body.
    """

    points: Floats
    normals: Floats
    out: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """A straight or bent stretch of a piece.

    Attributes
    ----------
    sections : (k, n, 3) float, mm
        The skin round each of its sections.
    length : float, mm
    corners : (m, k, 3) float, mm
        The lines along a box where its flats meet its corners; none of another shape.
    normals : (m, 3) float
        Outward, at the start of each.
    """

    sections: Floats
    length: float
    corners: Floats
    normals: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Shell:
    """The skin of a piece at the places that its drawing needs, from whatever side it is seen.

    Attributes
    ----------
    stretches : tuple of Stretch
    edges : tuple of Edge
        Of the ends that are not broken off.
    line : (2, 3) float or None, mm
        All that is known of a plate without a width.
    existing : bool
        Whether it stands already.
    """

    stretches: tuple[Stretch, ...]
    edges: tuple[Edge, ...]
    line: Floats | None
    existing: bool


def outline(piece: Piece, view: View, low: float = -np.inf, high: float = np.inf) -> list[Stroke]:
    """The strokes of a piece between the alongs ``low`` and ``high`` in mm from its start point.

    An end that lies between them shows its edge; one that does not is left open, as broken off.
    Of a plate without a width only the line from point to point is known.
    """
    return shell_strokes(shell(piece, low, high), view)


@lru_cache(maxsize=REMEMBERED)
def shell(
    given: Piece, low: float = -np.inf, high: float = np.inf, count: int = CLOCKS
) -> Shell:
    """What :func:`outline` draws, before it is seen from anywhere; ``count`` points an edge."""
    piece, existing = solid(given), given.tube.existing
    if piece is None:
        return Shell((), (), np.stack((given.tube.start, given.tube.end)), existing)
    clocks = np.append(even_clocks(count), 360.0)
    start, end = (np.clip(one.edge_at(clocks), low, high) for one in piece.ends)
    every = section_rows(piece.tube, start, end)
    return Shell(
        tuple(stretch_between(piece, clocks, rows) for rows in every),
        tuple(_edge(piece, clocks, along, out)
              for along, end_of, out in ((start, piece.start.reach, -1), (end, piece.end.reach, 1))
              if low <= end_of <= high), None, existing)


def shell_strokes(one: Shell, view: View) -> list[Stroke]:
    """The strokes of a shell as it is seen."""
    if one.line is not None:
        return [Stroke(view.seen(one.line), existing=one.existing)]
    strokes: list[Stroke] = []
    for stretch in one.stretches:
        strokes += [*_flanks(stretch, view), *_corners(stretch, view)]
    for edge in one.edges:
        strokes += _edge_strokes(edge, view)
    return [replace(stroke, existing=True) for stroke in strokes] if one.existing else strokes


def stretch_between(piece: Piece, clocks: Floats, rows: Floats) -> Stretch:
    """That through sections at the alongs ``rows`` (k, n) in mm, each at clocks (n,) in degrees."""
    sections = np.stack([skin(piece, clocks, row) for row in rows])
    length = abs(float(np.mean(rows[-1] - rows[0])))
    if not isinstance(piece.tube.shape, Box):
        return Stretch(sections, length, np.empty((0, len(rows), 3)), np.empty((0, 3)))
    corners = piece.tube.shape.corners()
    alongs = np.stack([np.interp(corners, clocks, row) for row in rows])
    lines = np.stack([skin(piece, corners, along) for along in alongs], axis=1)
    return Stretch(sections, length, lines, _normals(piece, corners, alongs[0]))


def _edge(piece: Piece, clocks: Floats, along: Floats, out: int) -> Edge:
    """The edge at clocks (n,) in degrees and alongs (n,) in mm.

    ``out`` is 1 where the tube ends at larger alongs, else -1.
    """
    ahead = (skin(piece, clocks, along + 1.0) - skin(piece, clocks, along - 1.0)).mean(axis=0)
    return Edge(skin(piece, clocks, along), _normals(piece, clocks, along), out * ahead)


def skin(piece: Piece, clock: Floats, along: Floats) -> Floats:
    """Points (n, 3) in mm of the frame on the outside of a piece; of a bend, along its arc."""
    tube = piece.tube
    if isinstance(tube.shape, Bent):
        return _bent_skin(piece, tube.shape, clock, along)
    shape, pose = tube.seen_from("start")
    own = shape.generators(clock, 0.0, along).at(along)
    if tube.course is None:
        return pose.outward(own)
    there = tube.course.frames(np.broadcast_to(along, own.shape[:-1]))
    across: Floats = own[..., 0, None] * there.axes[..., 0, :] + (
        own[..., 1, None] * there.axes[..., 1, :])
    return there.origin + across


def _bent_skin(piece: Piece, bent: Bent, clock: Floats, along: Floats) -> Floats:
    """Points (..., 3) in mm of a bend's skin at clocks in degrees and alongs in mm, both (...,).

    Clock 90 of a bend is its outside; along 0 is its start, the crown half its length on.
    """
    angle = (along - piece.tube.length / 2) / bent.radius
    ray = np.radians(clock)
    out = bent.radius + bent.diameter / 2 * np.sin(ray)
    own = np.stack((bent.diameter / 2 * np.cos(ray), out * np.cos(angle) - bent.radius,
                    out * np.sin(angle)), axis=-1)
    return piece.tube.pose.outward(own)


def _edge_strokes(edge: Edge, view: View) -> Iterator[Stroke]:
    """An edge, cut where it turns from the eye."""
    towards = view.towards
    facing = edge.normals @ towards > 0
    facing |= _through_opening(edge.points, edge.out, towards)
    seen = view.seen(edge.points)
    turns = np.flatnonzero(facing[1:] != facing[:-1]) + 1
    for part in np.split(np.arange(len(seen)), turns):
        reach = np.arange(part[0], min(part[-1] + 2, len(seen)))
        if reach.size > 1:
            yield Stroke(seen[reach], hidden=not facing[part[0]])


def _through_opening(points: Floats, outwards: Floats, towards: Floats) -> Flags:
    """Whether the eye sees points (n, 3) of an edge from within, through the open end.

    A line from a point ``towards`` (3,) the eye crosses the bore; it is open if it is then past
    the edge on the other side. ``outwards`` (3,) is the tube's axis, away from the body.
    """
    axis = outwards / np.linalg.norm(outwards)
    rise, height = float(towards @ axis), points @ axis
    across = towards - rise * axis
    slope = float(np.linalg.norm(across))
    if slope < END_ON:
        return np.full(len(points), rise > 0)
    ahead, aside = points @ (across / slope), points @ np.cross(axis, across / slope)
    reach = ahead[None] - ahead[:, None]
    length = np.hypot(reach, aside[None] - aside[:, None])
    other = np.where(length > 0, reach / np.where(length > 0, length, 1.0), -1.0).argmax(axis=1)
    met = height + reach[np.arange(len(points)), other] * rise / slope
    seen: Flags = met > height[other] + FLUSH_MM
    return seen


def _normals(piece: Piece, clocks: Floats, along: Floats) -> Floats:
    """Outward, (n, 3), good enough to tell the near side from the far one."""
    step = 360.0 / CLOCKS / 2
    round_ = skin(piece, clocks + step, along) - skin(piece, clocks - step, along)
    ahead = skin(piece, clocks, along + 1.0) - skin(piece, clocks, along - 1.0)
    return np.cross(round_, ahead)


def _corners(stretch: Stretch, view: View) -> Iterator[Stroke]:
    """The lines along a box where its flats meet its corners, those that are seen."""
    near = stretch.normals @ view.towards > 0
    yield from (Stroke(view.seen(line)) for line in stretch.corners[near])


def _flanks(stretch: Stretch, view: View) -> Iterator[Stroke]:
    """The two lines along the tube where its skin turns away from the eye.

    Where a bend comes straight towards the eye, the section there bounds it as well.
    """
    points = view.seen(stretch.sections)
    count = len(points)
    middles = points.mean(axis=1)
    run = middles[-1] - middles[0]
    if np.hypot(*run) < END_ON * stretch.length:
        return
    ahead = np.gradient(middles, axis=0)
    square = np.stack((-ahead[:, 1], ahead[:, 0]), axis=-1)
    for row in np.flatnonzero((square[1:] * square[:-1]).sum(axis=-1) < 0):
        square[row + 1:] *= -1
        yield Stroke(points[row])
    step = stretch.length / (count - 1)
    yield from (Stroke(points[row]) for row in (0, -1)
                if count > 2 and np.hypot(*ahead[row]) < TOWARDS * step)
    reach = np.einsum("ncd,nd->nc", points - middles[:, None], square)
    if count == 2:
        reach = np.broadcast_to(reach.sum(axis=0), reach.shape)
    at = np.arange(count)
    for line in (reach.argmax(axis=1), reach.argmin(axis=1)):
        yield Stroke(points[at, line])
