r"""A main unrolled, small, with what lands on it.

::

           12.4        34.0       55.6      distances from its long point at the start
        ____|___________|__________|____
    180 |   |           |          |   |    seen from outside, the start at the left:
    270 |..(1).........(2)........(4)..|    clocks grow downwards
      0 |   |           |          |   |
     90 |___|___________|__________|___|
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import inf

import numpy as np

from coper.arrays import Floats
from coper.drawing.bounds import bounds, leaves, text_corners
from coper.drawing.curves import pieces
from coper.drawing.marks import (
    CENTRE,
    FINE,
    GAP_MM,
    LINE,
    NOTE_HEIGHT,
    THIN,
    Group,
    Mark,
    Path,
    Text,
)
from coper.frame.main_landings import MainLanding
from coper.frame.outline import skin
from coper.frame.piece import Piece
from coper.pages.ink import ink_of
from coper.pages.labels import PointLabels
from coper.pages.spread import side_text, spread
from coper.pages.text import LINE_MM
from coper.shapes.bent import Bent
from coper.shapes.shape import as_branch
from coper.sheets.frame_picture import SCALES
from coper.telling.cells import bare
from coper.units import format_short

LONG_MM = 160.0
HIGH_MM = 60.0
"""The drawing is no longer and no higher: its table stands under it on the same page."""

QUARTERS = (180.0, 270.0, 90.0, 0.0)

CLOCK_STEP = 15.0
"""Clocks at which the main may be cut open, degrees: the quarters first."""

SEAM_OFF_DEG = 1e-6
"""So far beside the seam a point is on one side of the drawing for certain."""

CLEAR_SHARE = 1 / 60
"""A cut that is this share of the way round clear of every edge is clear enough."""

NUMBER_ROOM_MM = 6.0
"""A landing's number may stand this far outside the drawing."""

STEPS = 181
"""Places along each line of the drawing: a bend's are within a tenth of a mm on paper."""

FEET_UP_MM = 6.0
"""From the drawing up to the numbers: room for lines that spread."""

OVER_MM = 8.0
"""The numbers may spread so far beyond the longest drawing."""

CROSS_MM = 1.5
"""Half a cross at a foot."""

Unroll = Callable[[Floats], Floats]
"""From points (n, 3) of the frame to places (n, 2) of the drawing, mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Unrolled:
    """How a main is laid out.

    Attributes
    ----------
    main : Piece
    seam : float, degrees
        The clock that it is cut open at.
    along, round : float
        How many times smaller than it is, the two ways.
    """

    main: Piece
    seam: float
    along: float
    round: float

    def on(self, points: Floats) -> Floats:
        """Points (n, 3) of the frame on the main's skin, as places (n, 2) of the drawing, mm.

        From the main's long point at its start to the right, and from the line across from the
        seam upwards.
        """
        x, arc = _unrolled(self.main, self.seam + 180, points)
        return np.stack(((x - self.main.start.reach) / self.along, arc / self.round), axis=-1)

    def foot(self, one: MainLanding) -> Floats:
        """Where (2,) the lines of a landing cross, mm."""
        assert one.clock is not None  # only a plate has none
        at = skin(self.main, np.array((one.clock,)), np.array((one.along,)))
        foot: Floats = self.on(at)[0]
        return foot

    def line(self, clock: float, shift: float = 0.0) -> Floats:
        """The main's line at a clock (STEPS, 2), edge to edge; ``shift`` keeps off the seam."""
        at = np.full(STEPS, clock + shift)
        low, high = (float(end.edge_at(np.array(clock))) for end in self.main.ends)
        return self.on(skin(self.main, at, np.linspace(low, high, STEPS)))


def unrolled(main: Piece, landings: Sequence[MainLanding]) -> Unrolled:
    """How ``main`` is laid out so that few of ``landings`` are cut through."""
    girth = _girth(main)
    return Unrolled(main, _seam(main, landings, girth), _scale(main.shaped, LONG_MM),
                    _scale(girth, HIGH_MM))


def drawing(laid: Unrolled, landings: Sequence[MainLanding]) -> tuple[Mark, ...]:
    """The main and what lands on it, by number."""
    half = _girth(laid.main) / laid.round / 2
    lines = (Group(tuple(_outline(laid, half)), "main"),
             *(Group(tuple(_edge(laid, one, half)), one.words) for one in landings),
             Group(tuple(_feet(laid, landings, half)), "feet"))
    drawn = bounds(lines)
    beside = tuple(_clocks(laid, half, drawn.left - GAP_MM))
    return (*lines, Group(beside, "clocks"),
            Group(tuple(_numbers(laid, landings, (*lines, *beside))), "numbers"))


def _unrolled(main: Piece, clock: float, points: Floats) -> tuple[Floats, Floats]:
    """Along (n,) from the main's start point, and round (n,) from its ``clock`` to lower ones."""
    tube = main.tube
    there = as_branch(tube.shape).generators(np.array(clock)).points if not isinstance(
        tube.shape, Bent) else np.array((np.cos(np.radians(clock)), np.sin(np.radians(clock))))
    x, arc = tube.as_main.unrolled(tube.pose.inward(points), there[:2])
    return x + (tube.length / 2 if isinstance(tube.shape, Bent) else 0.0), arc


def _girth(main: Piece) -> float:
    """The way round the main at the middle of its length, mm."""
    shape = main.tube.shape
    if isinstance(shape, Bent):
        return float(np.pi * shape.diameter)
    return as_branch(shape).girth(along=main.tube.length / 2)


def _scale(size: float, room: float) -> float:
    """The least of the scales at which a size fits a room, both mm."""
    return next((scale for scale in SCALES if size <= scale * room), size / room)


def _seam(main: Piece, landings: Sequence[MainLanding], girth: float) -> float:
    """The clock furthest from all edges; of those that are clear enough the first quarter."""
    if not landings:
        return 180.0
    edges = np.concatenate([one.edge[np.isfinite(one.edge[:, 0])] for one in landings])
    share = _unrolled(main, 0.0, edges)[1] / girth
    best, clear = 0.0, -inf
    for clock in (*QUARTERS, *np.arange(0.0, 360.0, CLOCK_STEP).tolist()):
        off = float(np.abs((share + clock / 360 + 0.5) % 1 - 0.5).min())
        if min(off, CLEAR_SHARE) > clear:
            best, clear = clock, min(off, CLEAR_SHARE)
    return best


def _outline(laid: Unrolled, half: float) -> Iterator[Mark]:
    """Both edges of the main, and the line where it is cut open, on both sides."""
    clocks = laid.seam + np.linspace(0.0, 360.0, STEPS)
    for end in laid.main.ends:
        edge = laid.on(skin(laid.main, clocks, end.edge_at(clocks)))
        yield from (Path(run, THIN, name="end") for run in pieces(_parted(edge, half)))
    for shift in (SEAM_OFF_DEG, -SEAM_OFF_DEG):
        yield Path(laid.line(laid.seam, shift), THIN, name="seam")


def _parted(line: Floats, half: float) -> Floats:
    """A line (n, 2) with a gap wherever it runs over the seam, ``half`` the drawing's height."""
    jumps = np.flatnonzero(np.abs(np.diff(line[:, 1])) > half) + 1
    return np.insert(line, jumps, np.nan, axis=0)


def _edge(laid: Unrolled, one: MainLanding, half: float) -> Iterator[Mark]:
    edge = _parted(laid.on(np.concatenate((one.edge, one.edge[:1]))), half)
    yield from (Path(run, LINE, name="footprint") for run in pieces(edge))


def _feet(laid: Unrolled, landings: Sequence[MainLanding], half: float) -> Iterator[Mark]:
    """A cross at every foot that is on the main, and a line up to its distance from the start."""
    found: dict[str, list[Floats]] = {}
    for one in landings:
        if 0 <= one.at <= laid.main.shaped:
            foot = laid.foot(one)
            for way in (np.array((CROSS_MM, 0.0)), np.array((0.0, CROSS_MM))):
                yield Path(np.stack((foot - way, foot + way)), THIN, name="foot")
            found.setdefault(bare(format_short(one.at)), []).append(foot)
    places = _spread([float(feet[0][0]) for feet in found.values()])
    if not places:
        return
    for there, (words, feet) in zip(places, found.items(), strict=True):
        x, low = min(feet, key=lambda foot: float(foot[1])).tolist()
        up = half + FEET_UP_MM
        points = ((x, low), (x, half + GAP_MM), (there, up), (there, up + GAP_MM))
        yield Path(np.array(points), FINE, name="distance")
        yield side_text(np.array((there, up + 2 * GAP_MM)), words, "above")


def _spread(places: Sequence[float]) -> list[float]:
    """Where numbers stand over ``places``, mm; none where they are too many for the drawing.

    Clipped to the room that there is, the least squares of :func:`spread` stay the least.
    """
    low, high = -OVER_MM, LONG_MM + OVER_MM - LINE_MM * (len(places) - 1)
    if high < low:
        return []
    return [min(max(place - LINE_MM * at, low), high) + LINE_MM * at
            for at, place in enumerate(spread(places, LINE_MM))]


def _clocks(laid: Unrolled, half: float, left: float) -> Iterator[Mark]:
    """The main's lines at the quarters; their names, and that of the seam, end at ``left``, mm."""
    rows = {half: laid.seam, -half: laid.seam}
    for clock in QUARTERS:
        if abs((clock - laid.seam + 180) % 360 - 180) >= CLOCK_STEP / 2:
            line = laid.line(clock)
            rows[float(line[0, 1])] = clock
            yield Path(line, CENTRE, name="clock")
    places = sorted(rows)
    for y, place in zip(spread(places, NOTE_HEIGHT + GAP_MM), places, strict=True):
        yield Text((left, y - NOTE_HEIGHT / 2), f"{rows[place]:.0f}", NOTE_HEIGHT, "right")


def _numbers(
    laid: Unrolled, landings: Sequence[MainLanding], drawn: Sequence[Mark]
) -> Iterator[Mark]:
    """The number of every landing, at its edge and clear of all that is ``drawn``."""
    room = bounds(drawn)
    low, high = np.array((room.left, room.bottom)), np.array((room.right, room.top))
    low, high = low - NUMBER_ROOM_MM, high + NUMBER_ROOM_MM
    lines = [mark.points for mark in leaves(drawn) if isinstance(mark, Path)]
    words = [text_corners(mark) for mark in leaves(drawn) if isinstance(mark, Text)]
    labels = PointLabels(low, high, ink_of(lines, low, high),
                         [np.stack((box.min(axis=0), box.max(axis=0))) for box in words])
    for number, one in enumerate(landings, 1):
        edge = laid.on(one.edge[np.isfinite(one.edge[:, 0])])
        yield from labels.place(edge[edge[:, 1].argmin()], (str(number),))
