"""Each joint from near by, from the corner that shows it best."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.letters import wrapped
from coper.drawing.marks import FINE, GAP_MM, NOTE_HEIGHT, Group, Mark
from coper.errors import CoperError
from coper.frame.end import TubeEnd
from coper.frame.outline import outline
from coper.frame.piece import Piece
from coper.frame.tube import Tube
from coper.frame.view import View, view_towards
from coper.pages.boxes import box_path
from coper.pages.text import LINE_MM, set_lines
from coper.sheets.strokes import drawn, stroke_size

JOINT_MM = 30.6
"""Width and height of a joint's picture: five stand side by side on the narrowest page."""
CAPTION_LINES = 3
WITHIN_MM = 1.5
"""Its drawing keeps so far from its border."""
SHOWN_ROUND = 1.6
"""How much of each tube a joint's picture shows, in widths of the larger of the two."""

EYES = tuple(np.array((x, y, 0.55)) for x, y in ((0.5, -1.0), (-0.5, -1.0), (1.0, -0.5),
                                                   (-1.0, -0.5), (0.5, 1.0), (-0.5, 1.0)))
"""Directions towards an eye that looks at a joint from a corner and from above."""
UPRIGHT = np.array((0.0, 0.0, 1.0))


def joint_marks(
    piece: Piece, end: TubeEnd, others: Mapping[tuple[str, str], Piece], words: str
) -> tuple[Mark, ...]:
    """One end on its mains, from the corner that shows it best, its name below it."""
    view = _best_view(piece.tube, end.mains)
    reach = SHOWN_ROUND * max(_across(tube) for tube in (piece.tube, *end.mains))
    middle = (end.long_point.along + end.short_point.along) / 2
    strokes = outline(piece, view, middle - reach, middle + reach)
    foot = piece.tube.point(end.which)
    for main in end.mains:
        other = others.get((main.name, main.side))
        if other is not None:  # the plane of a face is no tube
            at = float(other.tube.station(foot))
            strokes += outline(other, view, at - reach, at + reach)
    lines = drawn(strokes, (JOINT_MM - 2 * WITHIN_MM) / max(stroke_size(strokes)))
    box = bounds(lines)
    put = moved(lines, -(box.left + box.right) / 2, -(box.bottom + box.top) / 2)
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
