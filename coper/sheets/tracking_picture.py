r"""Which way a rear end is out: its dropouts as they stand and where they belong, on a screen.

::

    from above, front to the right         from behind, its left at the left
      [=] as it stands                        :=:  :=:        where they belong
      :=: where it belongs                   [=]  [=]         as they stand
    - - - - - - - - - - - middle plane         |  middle plane
      :=:        seat tube   head tube        -->             which way each has to go
      [=]

What is out is drawn larger than it is: which way it is counts, the numbers stand beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.bicycle.tracking.rear_end import LeftRight
from coper.bicycle.tracking.tracking import Tracking
from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.marks import (
    CENTRE,
    FINE,
    HIDDEN,
    LINE,
    NOTE_HEIGHT,
    THIN,
    Group,
    Hatch,
    Mark,
    Path,
    Text,
)
from coper.drawing.page import Page
from coper.joint.edge import even_clocks
from coper.pages.gapped import gapped
from coper.telling.cells import SHOWN_MM
from coper.units import format_short

ALONG_MM: Final = 80.0
"""From the dropouts to the head tube."""

HALF_MM: Final = 16.0
"""From the middle plane to a dropout that stands where it belongs."""

PLATE_MM, LONG_MM = 2.5, 9.0
"""A dropout's plate: how thick, and how long."""

OUT_MM: Final = 8.0
"""What is furthest out is drawn so far out at most."""

MOST_TIMES: Final = 50.0
"""Mm of paper for one of what is out, at most: what cannot be measured is not blown up."""

RIM_MM: Final = 26.0
"""Half the length of the rim's line."""

APART_MM: Final = 8.0
"""Between the two views."""

BEHIND_MM: Final = 27.0
"""From the middle plane to such a dropout as it is seen from behind: its words stand below."""

HATCH_MM: Final = 0.8
EDGE_MM: Final = 3.0
ROUND_STEPS: Final = 48
TIP_MM: Final = 2.0


@dataclass(frozen=True, slots=True)
class _Out:
    """What is out, and how many mm of paper stand for one of it."""

    found: Tracking
    moves: LeftRight
    times: float

    def of(self, mm: float) -> float:
        """So far out to the left on paper."""
        return self.times * mm


def tracking_picture(found: Tracking) -> Page | None:
    """Which way the dropouts and the rim are out; ``None`` where nothing was read of it."""
    moves, rim = found.moves, found.rim
    if moves is None and rim is None:
        return None
    moves = moves or LeftRight(0.0, 0.0)
    most = max(map(abs, (moves.left, moves.right, *(
        () if rim is None else (rim.front, rim.rear)))))
    out = _Out(found, moves, OUT_MM / max(most, OUT_MM / MOST_TIMES))
    above = gapped(tuple(_from_above(out)))
    behind = gapped(tuple(_from_behind(out)))
    lower = bounds(above).bottom - APART_MM - bounds(behind).top
    marks = (Group(above, "from above"), Group(moved(behind, ALONG_MM / 3, lower), "from behind"))
    box = bounds(marks)
    words = (Text((box.left, box.top + NOTE_HEIGHT), "from above: front →, its left ↑",
                  NOTE_HEIGHT),
             Text((box.left, box.bottom - 3 * NOTE_HEIGHT),
                  "dashed: where it belongs; how far it is out is not to scale", NOTE_HEIGHT))
    box = bounds((*marks, *words))
    return Page("A", box.width + 2 * EDGE_MM, box.height + 2 * EDGE_MM,
                moved((*marks, *words), EDGE_MM - box.left, EDGE_MM - box.bottom))


def _from_above(out: _Out) -> Iterator[Mark]:
    """Middle plane, tubes, dropouts and rim; left is up."""
    rear = out.found.rear
    scale = ALONG_MM / rear.reach
    yield Path(np.array(((-RIM_MM - 4, 0.0), (ALONG_MM + 8.0, 0.0))), CENTRE)
    for name, at, radius in (("seat tube", rear.seat_to_dropout, rear.seat_radius),
                             ("head tube", rear.reach, rear.head_radius)):
        yield _ring(at * scale, radius * scale)
        yield Text((at * scale, -radius * scale - 2 * NOTE_HEIGHT), name, NOTE_HEIGHT, "middle")
    for side, way, move in (("left", 1, out.moves.left), ("right", -1, out.moves.right)):
        true = np.array((0.0, way * HALF_MM))
        stands = true - np.array((0.0, out.of(move)))
        yield from _dropout(side, true, stands, np.array((LONG_MM, PLATE_MM)))
        beside = np.array((LONG_MM / 2 + 2.0, 0.0))
        yield from _move(side, stands + beside, true + beside, move)
        yield Text((-LONG_MM / 2 - 2.0, float(true[1]) - NOTE_HEIGHT / 2), side, NOTE_HEIGHT,
                   "right")
    yield from _rim(out)


def _rim(out: _Out) -> Iterator[Mark]:
    """The rim's middle line, from its rearmost point to its foremost."""
    rim = out.found.rim
    if rim is None:
        return
    ends = np.array(((-RIM_MM, out.of(rim.rear)), (RIM_MM, out.of(rim.front))))
    at = ends[1] + (1.0, NOTE_HEIGHT if rim.front >= 0 else -2 * NOTE_HEIGHT)
    yield Group((Path(ends, LINE), Text((float(at[0]), float(at[1])), "rim", NOTE_HEIGHT)), "rim")


def _from_behind(out: _Out) -> Iterator[Mark]:
    """Both dropouts as one sees them standing behind; the frame's left is at the left."""
    yield Path(np.array(((0.0, -LONG_MM), (0.0, LONG_MM + 2.0))), CENTRE)
    yield Text((0.0, LONG_MM + 2 * NOTE_HEIGHT), "from behind: its left ←", NOTE_HEIGHT, "middle")
    for side, way, move in (("left", -1, out.moves.left), ("right", 1, out.moves.right)):
        true = np.array((way * BEHIND_MM, 0.0))
        stands = true + np.array((out.of(move), 0.0))
        yield from _dropout(f"{side} behind", true, stands, np.array((PLATE_MM, LONG_MM)))
        below = np.array((0.0, -LONG_MM / 2 - 2.0))
        yield from _move(f"{side} behind", stands + below, true + below, move)
        yield Text((float(true[0]) + way * (OUT_MM + 2 * PLATE_MM), -NOTE_HEIGHT / 2), side,
                   NOTE_HEIGHT,
                   "right" if way < 0 else "left")


def _dropout(name: str, true: Floats, stands: Floats, size: Floats) -> Iterator[Mark]:
    """A dropout where it belongs, dashed, and as it stands; both (2,) are its middle."""
    corners = np.array(((-1, -1), (1, -1), (1, 1), (-1, 1))) * size / 2
    yield Group((Path(true + corners, HIDDEN, closed=True),), f"true {name}")
    yield Group((Path(stands + corners, LINE, closed=True), Hatch((stands + corners,), HATCH_MM)),
                f"dropout {name}")


def _move(name: str, start: Floats, end: Floats, move: float) -> Iterator[Mark]:
    """An arrow the way that a dropout has to go, with how far; nothing where it stands well."""
    if abs(move) < SHOWN_MM:
        return
    run = end - start
    way = run / np.hypot(*run)
    across = np.array((-way[1], way[0])) * TIP_MM / 3
    tip = np.stack((end, end - TIP_MM * way + across, end - TIP_MM * way - across))
    words = f"{format_short(abs(move))} to the {'left' if move > 0 else 'right'}"
    upright = abs(way[1]) > abs(way[0])
    at = (start + end) / 2 + ((2.0, -NOTE_HEIGHT / 2) if upright else (0.0, -2.5 * NOTE_HEIGHT))
    yield Group((Path(np.stack((start, end)), THIN), Path(tip, FINE, closed=True, fill=True),
                 Text((float(at[0]), float(at[1])), words, NOTE_HEIGHT,
                      "left" if upright else "middle")), f"move {name}")


def _ring(x: float, radius: float) -> Path:
    turn = np.radians(even_clocks(ROUND_STEPS))
    return Path(np.stack((x + radius * np.cos(turn), radius * np.sin(turn)), axis=-1), LINE,
                closed=True)
