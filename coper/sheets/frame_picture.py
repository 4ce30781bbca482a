r"""The frame as it will stand: from the right, from above and from the front.

::

    from the right    from the front        or, where that is larger, one below the other
    .------------.    .------.
    |            |    |      |
    '------------'    '------'
    from above
    .------------.
    '------------'
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.drawing.changes import moved
from coper.drawing.letters import shortened
from coper.drawing.marks import GAP_MM, NOTE_HEIGHT, Group, Mark, Text
from coper.frame.outline import Stroke, outline
from coper.frame.piece import Piece
from coper.frame.view import FROM_ABOVE, FROM_FRONT, FROM_RIGHT, View
from coper.pages.gapped import gapped
from coper.pages.ink import ink_of
from coper.pages.labels import PointLabels
from coper.sheets.strokes import drawn, stroke_size
from coper.units import plain

WIDE_MM = 177.0
HIGH_MM = 165.0
"""The views together fit a page with a heading above them."""

NAMED_OVER_MM = 5.0
"""Names may stand this much above and below a view."""

APART_MM = 2 * NAMED_OVER_MM + NOTE_HEIGHT + 2 * GAP_MM
"""Between two views: room for the names of both, and for the words above one."""

BESIDE_MM = 40.0
"""A view beside another has at least this width: its words need it."""

SCALES = (1.0, 2.0, 2.5, 4.0, 5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 50.0, 100.0)
"""How many times smaller a frame may be drawn: steps that a rule can follow."""

SHORT_NAME_MM = 25.0
"""What stands for a name that finds no room."""

SEEN_SHARE = 0.5
"""A tube is named in a view that shows this share of it, as it is seen at its largest."""


@dataclass(frozen=True, slots=True, eq=False)
class FrameView:
    """One of the views: its name in the file, from where it is, and the words above it."""

    name: str
    view: View
    words: str


VIEWS = (FrameView("from-right", FROM_RIGHT, "from the right: front →"),
         FrameView("from-above", FROM_ABOVE, "from above: front →, its left ↑"),
         FrameView("from-front", FROM_FRONT, "from the front: its left →"))
RIGHT, ABOVE, FRONT = range(3)

Outlines = list[list[Stroke]]
"""The strokes of each piece in one view."""


def frame_marks(pieces: Sequence[Piece], flat: bool = False) -> tuple[Mark, ...]:
    """The three views, every tube named once.

    A tube is named in the view from the right, of a frame that is built ``flat`` in that from
    above, unless it is seen end-on there.
    """
    seen = [[outline(piece, one.view) for piece in pieces] for one in VIEWS]
    boxes = [_corners(outlines) for outlines in seen]
    sizes = np.array([high - low for low, high in boxes])
    scale, stacked = _scale(sizes)
    places = _places(sizes / scale, stacked)
    room = _room_aside(sizes / scale, stacked)
    named = _named_in(pieces, seen, (ABOVE, RIGHT, FRONT) if flat else (RIGHT, ABOVE, FRONT))
    thin = "; thin: stands already" if any(piece.tube.existing for piece in pieces) else ""
    marks: list[Mark] = []
    for index, one in enumerate(VIEWS):
        low, high = (corner / scale for corner in boxes[index])
        lines = drawn([stroke for strokes in seen[index] for stroke in strokes], 1 / scale)
        words = one.words + (f"; drawn 1:{plain(scale)}{thin}" if index == ABOVE else "")
        over = high[1] + NAMED_OVER_MM + GAP_MM
        names = _names(named[index], one.view, seen[index], scale, room[index])
        shift = places[index] - low
        marks += (Group(moved(lines, *shift), one.name),
                  Group(moved((*names, Text((float(low[0]), float(over)), words, NOTE_HEIGHT)),
                              *shift), f"names-{one.name}"))
    return gapped(marks)


def _corners(outlines: Outlines) -> tuple[Floats, Floats]:
    """The lower left and the upper right corner (2,) of a view, mm of the frame."""
    points = np.concatenate([stroke.points for strokes in outlines for stroke in strokes])
    return points.min(axis=0), points.max(axis=0)


def _scale(sizes: Floats) -> tuple[float, bool]:
    """How many times smaller views of ``sizes`` (3, 2) in mm are drawn; whether all are stacked.

    The first of ``SCALES`` at which they fit, beyond them the next whole hundred, whichever way
    they stand larger.
    """
    (wide, high), (_, deep), (across, _) = sizes.tolist()
    beside = max((wide + across) / (WIDE_MM - APART_MM), wide / (WIDE_MM - APART_MM - BESIDE_MM),
                 (high + deep) / (HIGH_MM - APART_MM))
    below = max(max(wide, across) / WIDE_MM, (2 * high + deep) / (HIGH_MM - 2 * APART_MM))
    one, other = _step(beside), _step(below)
    return min(one, other), other < one


def _step(needed: float) -> float:
    return next((scale for scale in SCALES if scale >= needed),
                100.0 * float(np.ceil(needed / 100.0)))


def _places(sizes: Floats, stacked: bool) -> Floats:
    """The lower left corner (3, 2) of each view of ``sizes`` (3, 2), mm on paper."""
    places = np.zeros((3, 2))
    places[ABOVE, 1] = -APART_MM - sizes[ABOVE, 1]
    if stacked:
        places[FRONT, 1] = places[ABOVE, 1] - APART_MM - sizes[FRONT, 1]
    else:
        places[FRONT, 0] = sizes[RIGHT, 0] + APART_MM
    return places


def _room_aside(sizes: Floats, stacked: bool) -> Floats:
    """How far names may reach to the left and to the right of each view (3, 2), mm on paper."""
    free = WIDE_MM - sizes[:, 0]
    room = np.stack((np.zeros(3), free), axis=-1)
    if not stacked:
        between = APART_MM / 2 - GAP_MM
        room[RIGHT] = 0.0, between
        room[FRONT] = between, free[FRONT] - sizes[RIGHT, 0] - APART_MM
    return room


def _named_in(
    pieces: Sequence[Piece], seen: Sequence[Outlines], order: Sequence[int]
) -> list[dict[str, Piece]]:
    """The pieces that are named in each view, by name, twins once."""
    named: list[dict[str, Piece]] = [{} for _ in VIEWS]
    for index, piece in reversed(list(enumerate(pieces))):
        sizes = [np.hypot(*stroke_size(outlines[index])) for outlines in seen]
        view = next(one for one in order if sizes[one] >= SEEN_SHARE * max(sizes))
        for others in named:
            others.pop(piece.tube.name, None)
        named[view][piece.tube.name] = piece
    return named


def _names(
    named: dict[str, Piece], view: View, outlines: Outlines, scale: float, room: Floats
) -> Iterator[Mark]:
    """The names of some tubes in a view, clear of each other and of its lines."""
    if not named:
        return
    lines = [stroke.points / scale for strokes in outlines for stroke in strokes]
    points = np.concatenate(lines)
    low = points.min(axis=0) - np.array((room[0], NAMED_OVER_MM))
    high = points.max(axis=0) + np.array((room[1], NAMED_OVER_MM))
    labels = PointLabels(low, high, ink_of(lines, low, high))
    for name, piece in named.items():
        middle = view.seen(piece.tube.middle) / scale
        yield from labels.place(middle, (name, shortened(name, SHORT_NAME_MM, NOTE_HEIGHT)))
