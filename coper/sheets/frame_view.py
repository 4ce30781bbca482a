"""The frame as one sees it from any side: each tube a group of its name, the points as dots.

Groups are ``tube-NAME`` (with its twin), ``point-NAME``, and ``place-1``, ``place-2``, … of the
places that are marked. The picture is as large from every side, so that it can be turned.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from coper.arrays import Floats, Point
from coper.drawing.changes import moved
from coper.drawing.letters import shortened
from coper.drawing.marks import HIDDEN, LINE, NOTE_HEIGHT, THIN, Group, Mark, Path, Text
from coper.drawing.page import Page
from coper.frame.outline import Shell, Stroke, shell, shell_strokes
from coper.frame.piece import Piece
from coper.frame.tube import REMEMBERED
from coper.frame.view import View, view_turned
from coper.pages.gapped import gapped
from coper.pages.ink import ink_of
from coper.pages.labels import PointLabels
from coper.sheets.strokes import drawn

WIDE_MM: Final = 120.0
"""Width of the picture."""

NARROW_MM: Final = 72.0
"""Width of that for a phone: on 340 px its letters are 16 px high, and fewer names find room."""

EDGE_MM: Final = 7.0
"""Round the frame, for names that stand beside it."""

DOT_MM, RING_MM, PLACE_MM = 0.8, 1.6, 3.0
"""Radius of a point's dot, of the ring round an end of the tube in hand, of that round a place."""

MOST_SPOTS: Final = 2
"""Points of a place that is no line of something beside the frame."""

ARROW_MM: Final = 7.0
"""Length of the arrows to the front, to the left and up."""

END_ON: Final = 0.3
"""An arrow that is seen shorter than this share comes towards the eye or goes away: left out."""

STEPS: Final = 16
"""Points of a small circle."""

FURTHEST_MM: Final = 17.0
"""A name that finds no room within this is left out: from another side it has some."""

SHORT_NAME_MM: Final = 25.0
"""What stands for a name that finds no room."""

CLOCKS: Final = 60
"""Points of a tube's edge: a chord of a 40 mm tube misses its arc by 0.03 mm, no pixel."""

LEAST_MM: Final = 1.0
"""What a frame of one point is taken to reach."""


@dataclass(frozen=True, slots=True)
class Look:
    """From where one looks, degrees: see :func:`coper.frame.view.view_turned`."""

    round: float = 0.0
    up: float = 0.0

    @property
    def view(self) -> View:
        """What is right and up on the paper then."""
        return view_turned(self.round, self.up)


LOOKS: Final = (("from the right: front →", Look()),
                ("from above: front →, its left ↑", Look(0.0, 90.0)),
                ("from the front: its left →", Look(-90.0, 0.0)),
                ("from the left: ← front", Look(180.0, 0.0)))
"""The sides that have a name."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place in the frame that something is said of: a point, or two with a line between them.

    More points are a dashed line, of what stands beside the frame.

    Attributes
    ----------
    at : tuple of (x, y, z), mm
    words : str
        What stands beside it; empty for nothing.
    """

    at: tuple[Point, ...]
    words: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """A frame made ready to be seen from any side, and the room that it takes however it turns.

    Attributes
    ----------
    pieces : tuple of Piece
    points : dict of name to (x, y, z), mm
    shells : tuple of Shell
        One a piece.
    centre : (3,) float, mm
    across : float, mm
        How far anything is from the upright axis through the centre.
    reach : float, mm
        How far anything is from the centre.
    wide : float, mm of paper
        The width of its picture.
    """

    pieces: tuple[Piece, ...]
    points: Mapping[str, Point]
    shells: tuple[Shell, ...]
    centre: Floats
    across: float
    reach: float
    wide: float = WIDE_MM

    @property
    def scale(self) -> float:
        """Millimetres of paper to one of the frame."""
        return (self.wide - 2 * EDGE_MM) / (2 * self.across)

    def holds(self, point: Point) -> bool:
        """Whether a point is in its room from every side."""
        off = np.asarray(point) - self.centre
        return bool(np.hypot(*off[:2]) <= self.across and np.linalg.norm(off) <= self.reach)

    def seen(self, view: View, points: Floats) -> Floats:
        """Points (..., 3) of the frame as (..., 2) on paper, mm from the picture's middle."""
        return view.seen(points - self.centre) * self.scale


def stage_of(pieces: Sequence[Piece], points: Mapping[str, Point]) -> Stage:
    """The stage of tubes and points; of nothing at all it is of any size."""
    shells = tuple(shell(piece, count=CLOCKS) for piece in pieces)
    every = np.concatenate([np.array(list(points.values())).reshape(-1, 3),
                            *(_extent(one) for one in shells)])
    if not len(every):
        every = np.zeros((1, 3))
    centre = (every.min(axis=0) + every.max(axis=0)) / 2
    off = every - centre
    across = float(np.hypot(off[:, 0], off[:, 1]).max())
    reach = float(np.linalg.norm(off, axis=-1).max())
    return Stage(tuple(pieces), points, shells, centre, max(across, reach / 2, LEAST_MM),
                 max(reach, LEAST_MM))


def _extent(one: Shell) -> Floats:
    """Points (n, 3) in mm as far out as any of a shell."""
    if one.line is not None:
        return one.line
    return np.concatenate([stretch.sections.reshape(-1, 3) for stretch in one.stretches])


def frame_view_page(
    stage: Stage, look: Look, chosen: str = "", points: bool = True,
    places: Sequence[Place] = (),
) -> Page:
    """The view as a page of its own size.

    Parameters
    ----------
    stage
        The frame.
    look
        From where.
    chosen
        The tube in hand: its start and its end are marked.
    points
        Whether the points are drawn.
    places
        What is marked besides.
    """
    view = look.view
    size = np.array((stage.wide, 2 * stage.reach * stage.scale + 2 * EDGE_MM))
    lines = _tube_lines(stage, look)
    labels = PointLabels(-size / 2, size / 2, ink_of(
        [stroke.points for strokes in lines.values() for stroke in strokes], -size / 2, size / 2),
        furthest=FURTHEST_MM)
    heading = _heading(look, size / 2, labels)
    last = [*_places(places, stage, view, labels), *_ends(stage, chosen, view, labels)]
    names = _names(stage, view, labels)
    dots = _dots(stage, view, labels) if points else ()
    tubes = [Group((*drawn(strokes, 1.0), *names.get(name, ())), f"tube-{name}")
             for name, strokes in sorted(lines.items(), key=lambda one: one[0] == chosen)]
    wide, high = size.tolist()
    return Page("A", wide, high, moved(gapped([*tubes, *dots, *last, heading]), *(size / 2)))


def _tube_lines(stage: Stage, look: Look) -> dict[str, list[Stroke]]:
    """The strokes of each tube and its twin by the name of both, on paper."""
    shift, found = look.view.seen(stage.centre), dict[str, list[Stroke]]()
    for piece, one in zip(stage.pieces, stage.shells, strict=True):
        found.setdefault(piece.tube.name, []).extend(
            Stroke((stroke.points - shift) * stage.scale, stroke.hidden, stroke.existing)
            for stroke in _strokes(one, look))
    return found


@lru_cache(maxsize=REMEMBERED)
def _strokes(one: Shell, look: Look) -> tuple[Stroke, ...]:
    """Those of a shell, where the frame has its origin: most stay when a number changes."""
    return tuple(shell_strokes(one, look.view))


def _names(
    stage: Stage, view: View, labels: PointLabels
) -> dict[str, tuple[Mark, ...]]:
    """The name of every tube, once, of twins at the nearer one."""
    nearest: dict[str, Floats] = {}
    for piece in sorted(stage.pieces, key=lambda one: float(one.tube.middle @ view.towards)):
        nearest[piece.tube.name] = stage.seen(view, piece.tube.middle)
    return {name: (Group(labels.place(at, (name, shortened(name, SHORT_NAME_MM, NOTE_HEIGHT)))),)
            for name, at in nearest.items()}


def _dots(stage: Stage, view: View, labels: PointLabels) -> Iterator[Mark]:
    """The points with their names, as far as those find room."""
    at = {name: stage.seen(view, np.asarray(point)) for name, point in stage.points.items()}
    for one in at.values():
        labels.keep_clear(one, DOT_MM)
    for name, one in at.items():
        yield Group((_circle(one, DOT_MM, fill=True), *labels.place(one, (name,))),
                    f"point-{name}")


def _heading(look: Look, corner: Floats, labels: PointLabels) -> Group:
    """From where it is seen: in words where that side has a name, and by three arrows always."""
    middle = np.array((ARROW_MM + EDGE_MM, ARROW_MM + EDGE_MM)) - corner
    labels.keep_clear(middle, ARROW_MM + EDGE_MM / 2)
    marks: list[Mark] = []
    for words, ahead in zip(("front", "left", "up"), look.view.seen(np.eye(3)), strict=True):
        if np.hypot(*ahead) > END_ON:
            tip = middle + ARROW_MM * ahead
            at = middle + (ARROW_MM + NOTE_HEIGHT) * ahead - (0.0, NOTE_HEIGHT / 2)
            marks += (Path(np.stack((middle, tip)), THIN),
                      Text((float(at[0]), float(at[1])), words, NOTE_HEIGHT, "middle"))
    named = next((words for words, one in LOOKS if one == look), "")
    if named:
        marks.append(Text((float(-corner[0]), float(corner[1] - 2 * NOTE_HEIGHT)), named,
                          NOTE_HEIGHT))
    return Group(tuple(marks), "seen")


def _ends(
    stage: Stage, chosen: str, view: View, labels: PointLabels
) -> Iterator[Mark]:
    """The start and the end of the tube in hand, of twins those of the one in the file."""
    piece = next((one for one in stage.pieces if one.tube.name == chosen), None)
    if piece is None:
        return
    for end in piece.ends:
        at = stage.seen(view, piece.tube.point(end.which))
        yield Group((_circle(at, RING_MM), *labels.place(at, (end.which,))), f"at-{end.which}")


def _places(
    places: Sequence[Place], stage: Stage, view: View, labels: PointLabels
) -> Iterator[Mark]:
    """Every marked place with its words, where they find room."""
    for number, place in enumerate(places, 1):
        at = stage.seen(view, np.array(place.at))
        spots = at[:0] if len(at) > MOST_SPOTS else at
        marks: list[Mark] = [_circle(one, PLACE_MM if len(at) == 1 else DOT_MM) for one in spots]
        if len(at) > 1:
            marks.append(Path(at, LINE if len(spots) else HIDDEN))
        for one in spots:
            labels.keep_clear(one, PLACE_MM)
        if place.words:
            marks += labels.place(at.mean(axis=0), (place.words,))
        yield Group(tuple(marks), f"place-{number}")


def _circle(at: Floats, radius: float, fill: bool = False) -> Path:
    turn = np.linspace(0.0, 2 * np.pi, STEPS, endpoint=False)
    return Path(at + radius * np.stack((np.cos(turn), np.sin(turn)), axis=-1), THIN,
                closed=True, fill=fill)
