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

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats
from coper.frame.piece import Piece
from coper.frame.sections import section_rows
from coper.frame.solid import solid
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
class View:
    """From where one looks: two unit directions of the paper, in the frame's axes.

    Attributes
    ----------
    right, up : (3,) float
    """

    right: Floats
    up: Floats

    @property
    def towards(self) -> Floats:
        """The direction (3,) towards the eye."""
        return np.cross(self.right, self.up)

    def seen(self, points: Floats) -> Floats:
        """Points (..., 3) of the frame as (..., 2) of the paper, mm."""
        return points @ np.stack((self.right, self.up), axis=-1)


def view_towards(towards: Floats, upright: Floats) -> View:
    """The view of an eye in the direction ``towards`` (3,), ``upright`` (3,) upwards on paper."""
    towards = towards / np.linalg.norm(towards)
    right = np.cross(upright, towards)
    right = right / np.linalg.norm(right)
    return View(right, np.cross(towards, right))


FROM_RIGHT = View(np.array((1.0, 0.0, 0.0)), np.array((0.0, 0.0, 1.0)))
"""From the frame's right side: forward is to the right, up is up."""

FROM_ABOVE = View(np.array((1.0, 0.0, 0.0)), np.array((0.0, 1.0, 0.0)))
"""From above: forward is to the right, the frame's left is up."""

FROM_FRONT = View(np.array((0.0, 1.0, 0.0)), np.array((0.0, 0.0, 1.0)))
"""From the front: the frame's left is to the right, up is up."""


def view_turned(round_: float, up: float) -> View:
    """What is seen of a frame turned by degrees: ``round_`` the upright, as the finger goes.

    ::

        from above:  back <--o--> front      round_ 0: from its right; -90: from the front;
                           right             180: from its left
                             ^ eye at 0      up 0: from the side; 90: from above

    Turned further round, what is near the eye goes to the right of the picture; looked at from
    further ``up``, it goes down.
    """
    turn, rise = np.radians((round_, up))
    level = np.array((-np.sin(turn), -np.cos(turn), 0.0))
    right = np.array((np.cos(turn), -np.sin(turn), 0.0))
    return View(right, np.array((0.0, 0.0, np.cos(rise))) - np.sin(rise) * level)


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


def outline(piece: Piece, view: View, low: float = -np.inf, high: float = np.inf) -> list[Stroke]:
    """The strokes of a piece between the alongs ``low`` and ``high`` in mm from its start point.

    An end that lies between them shows its edge; one that does not is left open, as broken off.
    Of a plate without a width only the line from point to point is known.
    """
    return [replace(stroke, existing=piece.tube.existing)
            for stroke in _strokes(piece, view, low, high)]


def _strokes(given: Piece, view: View, low: float, high: float) -> list[Stroke]:
    piece = solid(given)
    if piece is None:
        return [Stroke(view.seen(np.stack((given.tube.start, given.tube.end))))]
    clocks = np.append(even_clocks(CLOCKS), 360.0)
    start, end = (np.clip(one.edge_at(clocks), low, high) for one in piece.ends)
    strokes: list[Stroke] = []
    for rows in section_rows(piece.tube, start, end):
        strokes += [*_flanks(piece, view, clocks, rows), *_corners(piece, view, clocks, rows)]
    for along, end_of, out in ((start, piece.start.reach, -1), (end, piece.end.reach, 1)):
        if low <= end_of <= high:
            strokes += _edge_strokes(piece, view, clocks, along, out)
    return strokes


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


def _edge_strokes(
    piece: Piece, view: View, clocks: Floats, along: Floats, out: int
) -> Iterator[Stroke]:
    """An edge at clocks (n,) in degrees and alongs (n,) in mm, cut where it turns from the eye.

    ``out`` is 1 where the tube ends at larger alongs, else -1.
    """
    points = skin(piece, clocks, along)
    ahead = (skin(piece, clocks, along + 1.0) - skin(piece, clocks, along - 1.0)).mean(axis=0)
    facing = _normals(piece, clocks, along) @ view.towards > 0
    facing |= _through_opening(points, out * ahead, view.towards)
    seen = view.seen(points)
    turns = np.flatnonzero(facing[1:] != facing[:-1]) + 1
    for part in np.split(np.arange(clocks.size), turns):
        reach = np.arange(part[0], min(part[-1] + 2, clocks.size))
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


def _corners(piece: Piece, view: View, clocks: Floats, rows: Floats) -> Iterator[Stroke]:
    """The lines along a box where its flats meet its corners, those that are seen.

    They run through the sections at ``rows`` (k, n) in mm, each at ``clocks`` (n,) degrees.
    """
    if not isinstance(piece.tube.shape, Box):
        return
    corners = piece.tube.shape.corners()
    alongs = np.stack([np.interp(corners, clocks, row) for row in rows])
    near = _normals(piece, corners, alongs[0]) @ view.towards > 0
    lines = np.stack([view.seen(skin(piece, corners, along)) for along in alongs], axis=1)
    yield from (Stroke(line) for line in lines[near])


def _flanks(piece: Piece, view: View, clocks: Floats, rows: Floats) -> Iterator[Stroke]:
    """The two lines along the tube where its skin turns away from the eye.

    They run through the sections at ``rows`` (k, n) in mm, each at ``clocks`` (n,) degrees. Where
    a bend comes straight towards the eye, the section there bounds it as well.
    """
    count = len(rows)
    points = np.stack([view.seen(skin(piece, clocks, row)) for row in rows])
    middles = points.mean(axis=1)
    run = middles[-1] - middles[0]
    if np.hypot(*run) < END_ON * abs(float(np.mean(rows[-1] - rows[0]))):
        return
    ahead = np.gradient(middles, axis=0)
    square = np.stack((-ahead[:, 1], ahead[:, 0]), axis=-1)
    for row in np.flatnonzero((square[1:] * square[:-1]).sum(axis=-1) < 0):
        square[row + 1:] *= -1
        yield Stroke(points[row])
    step = np.abs((rows[-1] - rows[0]).mean()) / (count - 1)
    yield from (Stroke(points[row]) for row in (0, -1)
                if count > 2 and np.hypot(*ahead[row]) < TOWARDS * step)
    reach = np.einsum("ncd,nd->nc", points - middles[:, None], square)
    if count == 2:
        reach = np.broadcast_to(reach.sum(axis=0), reach.shape)
    at = np.arange(count)
    for line in (reach.argmax(axis=1), reach.argmin(axis=1)):
        yield Stroke(points[at, line])
