"""The frame as one sees it from any side: each tube a group of its name, the points as dots.

Groups are ``tube-NAME`` (with its twin), ``point-NAME``, and ``place-1``, ``place-2``, … of the
places that are marked. The picture is as large from every side, so that it can be turned.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from coper.arrays import Floats, Point
from coper.drawing.changes import moved
from coper.drawing.letters import shortened
from coper.drawing.marks import LINE, NOTE_HEIGHT, THIN, Group, Mark, Path, Text
from coper.drawing.page import Page
from coper.frame.outline import Stroke, View, outline, view_turned
from coper.frame.piece import Piece
from coper.frame.solid import solids
from coper.frame.surface import surfaces
from coper.pages.gapped import gapped
from coper.pages.ink import ink_of
from coper.pages.labels import PointLabels
from coper.sheets.strokes import drawn

WIDE_MM: Final = 120.0
"""Width of the picture: its lettering can be read on a phone."""

EDGE_MM: Final = 7.0
"""Round the frame, for names that stand beside it."""

DOT_MM, RING_MM, PLACE_MM = 0.8, 1.6, 3.0
"""Radius of a point's dot, of the ring round an end of the tube in hand, of that round a place."""

ARROW_MM: Final = 7.0
"""Length of the arrows to the front, to the left and up."""

END_ON: Final = 0.3
"""An arrow that is seen shorter than this share comes towards the eye or goes away: left out."""

STEPS: Final = 16
"""Points of a small circle."""

SHORT_NAME_MM: Final = 25.0
"""What stands for a name that finds no room."""

BOXED: Final = 24
"""Clocks and stations at which it is looked how far a tube reaches."""


@dataclass(frozen=True, slots=True)
class Look:
    """From where one looks, degrees: see :func:`coper.frame.outline.view_turned`."""

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
    """The room that a frame takes, however it is turned.

    Attributes
    ----------
    centre : (3,) float, mm
    across : float, mm
        How far anything is from the upright axis through the centre.
    reach : float, mm
        How far anything is from the centre.
    """

    centre: Floats
    across: float
    reach: float

    @property
    def scale(self) -> float:
        """Millimetres of paper to one of the frame."""
        return (WIDE_MM - 2 * EDGE_MM) / (2 * self.across)

    def holds(self, point: Point) -> bool:
        """Whether a point is on it from every side."""
        off = np.asarray(point) - self.centre
        return bool(np.hypot(*off[:2]) <= self.across and np.linalg.norm(off) <= self.reach)

    def seen(self, view: View, points: Floats) -> Floats:
        """Points (..., 3) of the frame as (..., 2) on paper, mm from the picture's middle."""
        return view.seen(points - self.centre) * self.scale


def stage_of(pieces: Sequence[Piece], points: Mapping[str, Point]) -> Stage:
    """The stage of tubes and points; of nothing at all it is of any size."""
    clock = np.linspace(0.0, 360.0, BOXED, endpoint=False)[:, None]
    share = np.linspace(0.0, 1.0, BOXED)
    every = np.concatenate([
        np.array(list(points.values())).reshape(-1, 3),
        *(np.stack((piece.tube.start, piece.tube.end)) for piece in pieces),
        *(next(surfaces(piece)).at(clock, share).reshape(-1, 3) for piece in solids(pieces))])
    if not len(every):
        every = np.zeros((1, 3))
    centre = (every.min(axis=0) + every.max(axis=0)) / 2
    off = every - centre
    across = float(np.hypot(off[:, 0], off[:, 1]).max())
    reach = float(np.linalg.norm(off, axis=-1).max())
    return Stage(centre, max(across, reach / 2, 1.0), max(reach, 1.0))


def frame_view_page(
    pieces: Sequence[Piece], points: Mapping[str, Point], stage: Stage, look: Look,
    chosen: str = "", places: Sequence[Place] = (),
) -> Page:
    """The view as a page of its own size.

    Parameters
    ----------
    pieces, points
        What is drawn.
    stage
        Theirs.
    look
        From where.
    chosen
        The tube in hand: its start and its end are marked.
    places
        What is marked besides.
    """
    view = look.view
    size = np.array((WIDE_MM, 2 * stage.reach * stage.scale + 2 * EDGE_MM))
    lines = _tube_lines(pieces, stage, view)
    labels = PointLabels(-size / 2, size / 2, ink_of(
        [stroke.points for strokes in lines.values() for stroke in strokes], -size / 2, size / 2))
    heading = _heading(look, stage, size / 2, labels)
    last = [*_places(places, stage, view, labels), *_ends(pieces, chosen, stage, view, labels)]
    names = _names(pieces, stage, view, labels)
    dots = list(_dots(points, stage, view, labels))
    tubes = [Group((*drawn(strokes, 1.0), *names.get(name, ())), f"tube-{name}")
             for name, strokes in sorted(lines.items(), key=lambda one: one[0] == chosen)]
    wide, high = size.tolist()
    return Page("A", wide, high, moved(gapped([*tubes, *dots, *last, heading]), *(size / 2)))


def _tube_lines(
    pieces: Sequence[Piece], stage: Stage, view: View
) -> dict[str, list[Stroke]]:
    """The strokes of each tube and its twin by the name of both, on paper."""
    shift, found = view.seen(stage.centre), dict[str, list[Stroke]]()
    for piece in pieces:
        found.setdefault(piece.tube.name, []).extend(
            Stroke((one.points - shift) * stage.scale, one.hidden, one.existing)
            for one in outline(piece, view))
    return found


def _names(
    pieces: Sequence[Piece], stage: Stage, view: View, labels: PointLabels
) -> dict[str, tuple[Mark, ...]]:
    """The name of every tube, once, of twins at the nearer one."""
    nearest: dict[str, Floats] = {}
    for piece in sorted(pieces, key=lambda one: float(one.tube.middle @ view.towards)):
        nearest[piece.tube.name] = stage.seen(view, piece.tube.middle)
    return {name: labels.place(at, (name, shortened(name, SHORT_NAME_MM, NOTE_HEIGHT)))
            for name, at in nearest.items()}


def _dots(
    points: Mapping[str, Point], stage: Stage, view: View, labels: PointLabels
) -> Iterator[Mark]:
    """The points with their names, as far as those find room."""
    at = {name: stage.seen(view, np.asarray(point)) for name, point in points.items()}
    for one in at.values():
        labels.keep_clear(one, DOT_MM)
    for name, one in at.items():
        yield Group((_circle(one, DOT_MM, fill=True), *labels.place(one, (name,))),
                    f"point-{name}")


def _heading(look: Look, stage: Stage, corner: Floats, labels: PointLabels) -> Group:
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
    pieces: Sequence[Piece], chosen: str, stage: Stage, view: View, labels: PointLabels
) -> Iterator[Mark]:
    """The start and the end of the tube in hand, of twins those of the one in the file."""
    piece = next((one for one in pieces if one.tube.name == chosen), None)
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
        marks: list[Mark] = [_circle(one, PLACE_MM if len(at) == 1 else DOT_MM) for one in at]
        if len(at) > 1:
            marks.append(Path(at, LINE))
        if place.words:
            marks += labels.place(at.mean(axis=0), (place.words,))
        yield Group(tuple(marks), f"place-{number}")


def _circle(at: Floats, radius: float, fill: bool = False) -> Path:
    turn = np.linspace(0.0, 2 * np.pi, STEPS, endpoint=False)
    return Path(at + radius * np.stack((np.cos(turn), np.sin(turn)), axis=-1), THIN,
                closed=True, fill=fill)
