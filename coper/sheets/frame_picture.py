"""The frame as it will stand, from the right and from above, and each joint from near by."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from coper.drawing.bounds import bounds
from coper.drawing.changes import moved, scaled
from coper.drawing.letters import shortened, wrapped
from coper.drawing.marks import (
    FINE,
    GAP_MM,
    HIDDEN,
    LINE,
    NOTE_HEIGHT,
    Group,
    Mark,
    Path,
    Pen,
    Text,
)
from coper.errors import CoperError
from coper.frame.end import TubeEnd
from coper.frame.outline import FROM_ABOVE, FROM_RIGHT, Stroke, View, outline, view_towards
from coper.frame.piece import Piece
from coper.frame.tube import Tube
from coper.pages.boxes import box_path
from coper.pages.ink import ink_of
from coper.pages.labels import PointLabels
from coper.pages.text import LINE_MM, set_lines
from coper.units import plain

WIDE_MM = 180.0
HIGH_MM = 165.0
"""Both views together fit a page with a heading above them."""
APART_MM = 12.0
"""Between the two views."""

SCALES = (1.0, 2.0, 2.5, 4.0, 5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 50.0, 100.0)
"""How many times smaller a frame may be drawn: steps that a rule can follow."""

JOINT_MM = 32.0
"""Width and height of a joint's picture: five stand side by side on the narrowest page."""
CAPTION_LINES = 3
WITHIN_MM = 1.5
"""Its drawing keeps so far from its border."""
SHOWN_ROUND = 1.6
"""How much of each tube a joint's picture shows, in widths of the larger of the two."""

NAMED_OVER_MM = 5.0
"""Names may stand this much above and below the drawing."""
SHORT_NAME_MM = 25.0
"""What stands for a name that finds no room."""

EYES = tuple(np.array((x, y, 0.55)) for x, y in ((0.5, -1.0), (-0.5, -1.0), (1.0, -0.5),
                                                   (-1.0, -0.5), (0.5, 1.0), (-0.5, 1.0)))
"""Directions towards an eye that looks at a joint from a corner and from above."""
UPRIGHT = np.array((0.0, 0.0, 1.0))


def frame_marks(pieces: Sequence[Piece]) -> tuple[Mark, ...]:
    """The frame from the right, its tubes by name, and from above below it."""
    side = [stroke for piece in pieces for stroke in outline(piece, FROM_RIGHT)]
    plan = [stroke for piece in pieces for stroke in outline(piece, FROM_ABOVE)]
    scale = _scale(_size(side), _size(plan))
    upper = _drawn(side, 1 / scale)
    lower = _drawn(plan, 1 / scale)
    below = bounds(upper).bottom - APART_MM - bounds(lower).top
    thin = "; thin: stands already" if any(piece.tube.existing for piece in pieces) else ""
    words = (*_names(pieces, side, scale),
             *_way_words(lower, below, f"drawn 1:{plain(scale)}{thin}"))
    return (Group(upper, "from-right"), Group(moved(lower, 0.0, below), "from-above"),
            Group(words, "names"))


def joint_marks(
    piece: Piece, end: TubeEnd, others: Mapping[tuple[str, str], Piece], words: str
) -> tuple[Mark, ...]:
    """One end on its mains, from the corner that shows it best, its name below it."""
    view = _best_view(piece.tube, end.mains)
    reach = SHOWN_ROUND * max(_across(tube) for tube in (piece.tube, *end.mains))
    middle = (end.long_point.along + end.short_point.along) / 2
    strokes = outline(piece, view, middle - reach, middle + reach)
    foot = piece.tube.start if end.which == "start" else piece.tube.end
    for main in end.mains:
        at = float(main.station(foot))
        strokes += outline(others[main.name, main.side], view, at - reach, at + reach)
    drawn = _drawn(strokes, (JOINT_MM - 2 * WITHIN_MM) / max(_size(strokes)))
    box = bounds(drawn)
    put = moved(drawn, -(box.left + box.right) / 2, -(box.bottom + box.top) / 2)
    square = box_path(-JOINT_MM / 2, -JOINT_MM / 2, JOINT_MM, JOINT_MM, FINE)
    return (Group(put, "joint"), square, *_caption(words))


def _caption(words: str) -> Iterator[Mark]:
    """Under the square, of the same height whatever the words, so that a row of them is even."""
    top = LINE_MM - JOINT_MM / 2 - GAP_MM - NOTE_HEIGHT
    return set_lines(wrapped(words, JOINT_MM, NOTE_HEIGHT, CAPTION_LINES), 0.0, top, "middle")


def _best_view(tube: Tube, mains: Sequence[Tube]) -> View:
    """Of the eyes that look from a corner, the one that sees the two axes widest apart."""
    views = [view_towards(eye, UPRIGHT) for eye in EYES]
    return max(views, key=lambda view: _apart(view, tube, mains[0]))


def _apart(view: View, tube: Tube, main: Tube) -> float:
    one, other = (view.seen(part.ways[0]) if part.course else
                  view.seen((part.end - part.start) / part.chord) for part in (tube, main))
    return abs(float(one[0] * other[1] - one[1] * other[0]))


def _across(tube: Tube) -> float:
    """About how wide a tube is, mm; of a plate nothing is known."""
    try:
        girth = tube.seen_from("start")[0].girth()
    except CoperError:
        return 0.0
    return float(girth / np.pi)


def _drawn(strokes: Sequence[Stroke], factor: float) -> tuple[Mark, ...]:
    paths = tuple(Path(stroke.points, _pen(stroke)) for stroke in strokes)
    return scaled(paths, factor, factor)


def _pen(stroke: Stroke) -> Pen:
    """What stands already is drawn thin."""
    if stroke.existing:
        return Pen(FINE.width, HIDDEN.dash) if stroke.hidden else FINE
    return HIDDEN if stroke.hidden else LINE


def _size(strokes: Sequence[Stroke]) -> tuple[float, float]:
    points = np.concatenate([stroke.points for stroke in strokes])
    wide, high = points.max(axis=0) - points.min(axis=0)
    return float(wide), float(high)


def _scale(side: tuple[float, float], plan: tuple[float, float]) -> float:
    """The first of ``SCALES`` at which both views fit; beyond them, the next whole hundred."""
    wide = max(side[0], plan[0])
    high = side[1] + plan[1]
    needed = max(wide / WIDE_MM, high / (HIGH_MM - APART_MM))
    return next((scale for scale in SCALES if scale >= needed),
                100.0 * float(np.ceil(needed / 100.0)))


def _names(pieces: Sequence[Piece], strokes: Sequence[Stroke], scale: float) -> Iterator[Mark]:
    """Each tube's name once, twins that lie behind each other too."""
    lines = [stroke.points / scale for stroke in strokes]
    points = np.concatenate(lines)
    low, high = points.min(axis=0), points.max(axis=0)
    room = np.array((WIDE_MM - (high - low)[0], 2 * NAMED_OVER_MM)) / 2
    labels = PointLabels(low - room, high + room, ink_of(lines, low - room, high + room))
    tubes = {piece.tube.name: piece.tube for piece in reversed(pieces)}
    for name, tube in tubes.items():
        middle = FROM_RIGHT.seen(tube.middle) / scale
        yield from labels.place(middle, (name, shortened(name, SHORT_NAME_MM, NOTE_HEIGHT)))


def _way_words(plan: tuple[Mark, ...], below: float, scale_words: str) -> Iterator[Text]:
    """What is where in the view from above, and the scale."""
    box = bounds(plan)
    middle = below + (box.bottom + box.top) / 2 - NOTE_HEIGHT / 2
    yield Text((box.right + 2.0, middle), "front →", NOTE_HEIGHT)
    words = f"from above, its left side up; {scale_words}"
    yield Text((box.left, below + box.top + GAP_MM), words, NOTE_HEIGHT)

