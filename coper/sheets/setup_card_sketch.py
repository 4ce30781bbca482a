r"""The fixture in true proportion: the tube from the side and its end, the heel line up.

::

    heel up, clock 0        28° from square      end, heel up
     __________________  \ |                       .--|-.
    |                   ) \|                      (   |  )    the line down the end is the
    |------------------ --(+)-----                 `--|-'     saw's axis
    |__________________ )  |\                         |
                        |<->|                      3.00 mm left
                        12.3 mm beyond
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from coper.arrays import Floats
from coper.drawing.changes import moved
from coper.drawing.curves import pieces
from coper.drawing.letters import text_width
from coper.drawing.marks import (
    CENTRE,
    CUT,
    FINE,
    HIDDEN,
    LINE,
    NOTE_HEIGHT,
    THIN,
    Anchor,
    Group,
    Mark,
    Path,
    Text,
)
from coper.joint.edge import STEPS, even_clocks
from coper.joint.fit.face import pass_face
from coper.joint.joint import Joint
from coper.sheets.setup_card import LEVEL_MM, CardCut
from coper.tolerances import EVEN_MM
from coper.units import format_short

SIDE_MM, END_MM = 52.5, 26.0
"""Widths of the two views."""
HIGH_MM = 21.0
"""Height of either, without its words."""
GAP_MM = 2.0
"""Between the two."""
SLOT_MM = 4.5
"""A line of words above or below."""
DIMENSION_MM = 3.0
"""Room for the dimension's line."""
SKETCH_MM = HIGH_MM + 2 * SLOT_MM + DIMENSION_MM
"""Height of the whole."""
BODY = 0.7
"""Widths of the tube that are drawn behind its short point."""
ABOVE = 0.3
"""Widths of the tube by which the saw's axis is drawn past the tube."""
TICK_MM = 1.2
ARC_STEPS = 24


def sketch(cut: CardCut, number: int) -> tuple[Mark, ...]:
    """Both views, their upper left corner at the origin; ``number`` names the marks."""
    return (Group(_side_view(cut, number), f"side-{number}"),
            Group(moved(_end_view(cut, number), SIDE_MM + GAP_MM, 0.0), f"end-{number}"))


def heel_and_right(joint: Joint) -> Floats:
    """Two unit directions (2, 2) of the branch's section, one a row.

    Towards the heel, and what is then to the right as one looks at the end.
    """
    ray = np.radians((0.0 if joint.angle <= 90 else 180.0) - joint.turn)
    return np.array(((np.cos(ray), np.sin(ray)), (-np.sin(ray), np.cos(ray))))


def _side_view(cut: CardCut, number: int) -> tuple[Mark, ...]:
    """The tube with its end to the right, as one sees it with the heel up."""
    body = _Body(cut)
    box = np.array(((-body.far, body.low), (-body.near, body.high)))
    if not cut.passes:
        place = _placing(box, SIDE_MM)
        return (*_body_marks(body, place), *_slot(cut.up, 0.0, -NOTE_HEIGHT, "left"))
    at = np.array((-cut.passes[0].cut.at, 0.0))
    axis, square = (line + at for line in _axis(cut.joint, body.low, body.high))
    end = float(at[0]) - cut.passes[0].beyond_blank
    place = _placing(np.concatenate((axis, box, ((end, 0.0),))), SIDE_MM)
    marks = _body_marks(body, place)
    marks += [Path(place(axis), CENTRE, name=f"saw-axis-{number}"),
              Path(place(square), FINE, name="square")]
    if cut.from_square != "0°":
        marks.append(Path(place(_arc(cut.joint, float(square[1, 1])) + at), FINE, name="angle"))
    marks += _slot(cut.up, 0.0, -NOTE_HEIGHT, "left")
    marks += _slot(cut.from_square, SIDE_MM, -NOTE_HEIGHT, "right")
    marks += _dimension(place(np.array(((end, body.high), at))), abs(end - float(at[0])))
    return tuple(marks)


class _Body:
    """The branch seen from the side: x against its along, y towards the heel, mm."""

    def __init__(self, cut: CardCut) -> None:
        self._views = heel_and_right(cut.joint).T
        self._cluster = cut.joint.cluster()
        self._clock = even_clocks(STEPS)
        self._along = self._cut(cut)
        self.near = float(np.nanmin(self._along))
        section = self._section(self.near)
        self.low, self.high = float(section.min()), float(section.max())
        self.wide = self.high - self.low
        self.far = float(np.nanmax(self._along)) + BODY * self.wide

    def _cut(self, cut: CardCut) -> Floats:
        """Along (STEPS,) in mm of what is left: the template's line, or what the saw leaves.

        What the saw leaves standing of the blank ends where the blank does.
        """
        if not cut.passes:
            return self._cluster.entry(self._clock)
        face = pass_face(cut.joint, [one.cut for one in cut.passes])
        end = cut.passes[0].beyond_blank + cut.passes[0].cut.at
        left: Floats = np.fmax(face.station(self._clock, np.zeros(1)), end)
        return left

    def _section(self, along: float) -> Floats:
        """How far towards the heel (STEPS,), mm, the outside lies at ``along``."""
        points = self._cluster.skin(self._clock, np.full(self._clock.shape, along))
        up: Floats = (points[:, :2] @ self._views)[:, 0]
        return up

    def outline(self) -> list[Floats]:
        """The two edges (2, 2) of the tube, from its far end to the cut, and its far end; mm."""
        far = self._section(self.far)
        low, high = int(far.argmin()), int(far.argmax())
        lines = [np.array(((-self.far, far[low]), (-self.far, far[high])))]
        for index in (low, high):
            along = self._along[index] if np.isfinite(self._along[index]) else self.near
            up = self._section(float(along))[index]
            lines.append(np.array(((-self.far, far[index]), (-along, up))))
        return lines

    def profile(self, front: bool) -> list[Floats]:
        """The cut (k, 2), mm, on the side that one sees or on the other."""
        points = self._cluster.skin(self._clock, self._along)
        up, right = (points[:, :2] @ self._views).T
        shown = np.stack((-self._along, up), axis=-1)
        shown[(right > EVEN_MM) if front else (right < -EVEN_MM)] = np.nan
        first = int(np.isnan(shown[:, 1]).argmax())
        return pieces(np.roll(shown, -first, axis=0))


def _body_marks(body: _Body, place: Callable[[Floats], Floats]) -> list[Mark]:
    """The tube, its cut and its axis; ``place`` takes points (n, 2) of it to paper, mm."""
    centre = np.array(((-body.far, 0.0), (ABOVE * body.wide - body.near, 0.0)))
    return [
        *(Path(place(line), LINE, name="tube") for line in body.outline()),
        *(Path(place(line), LINE, name="cut") for line in body.profile(front=True)),
        *(Path(place(line), HIDDEN, name="cut-behind") for line in body.profile(front=False)),
        Path(place(centre), CENTRE, name="tube-axis"),
    ]


def _axis(joint: Joint, low: float, high: float) -> tuple[Floats, Floats]:
    """The saw's axis (2, 2) to a little past the tube, and the line (2, 2) square to it; mm."""
    past = ABOVE * (high - low)
    sharp = np.radians(min(joint.angle, 180 - joint.angle))
    up = np.array((low - past, high + past))
    return (np.stack((-up / np.tan(sharp), up), axis=-1),
            np.array(((0.0, 0.0), (0.0, high + past))))


def _arc(joint: Joint, radius: float) -> Floats:
    """Points (ARC_STEPS, 2) in mm from the line square to the tube to the saw's axis."""
    angle = np.radians(90 + np.linspace(0.0, abs(90 - joint.angle), ARC_STEPS))
    arc: Floats = radius * np.stack((np.cos(angle), np.sin(angle)), axis=-1)
    return arc


def _placing(points: Floats, wide: float) -> Callable[[Floats], Floats]:
    """From mm of the bench to the view's area, where ``points`` (n, 2) just fit."""
    low, high = points.min(axis=0), points.max(axis=0)
    scale = float(np.min(np.array((wide, HIGH_MM)) / (high - low)))
    middle = np.array((wide / 2, -SLOT_MM - HIGH_MM / 2))

    def place(at: Floats) -> Floats:
        """Points (n, 2) of the bench on paper, mm."""
        placed: Floats = (at - (low + high) / 2) * scale + middle
        return placed

    return place


def _dimension(ends: Floats, length: float) -> list[Mark]:
    """How far from the blank's end the saw's axis passes; ``ends`` (2, 2), mm on paper."""
    y = -SLOT_MM - HIGH_MM - DIMENSION_MM / 2
    (left, high), (right, middle) = ends.tolist()
    lines = (((left, high), (left, y - TICK_MM)), ((right, middle), (right, y - TICK_MM)),
             ((left, y), (right, y)))
    words = format_short(length)
    half = text_width(words, NOTE_HEIGHT) / 2
    at = min(max((left + right) / 2, half), SIDE_MM - half)
    return [*(Path(np.array(line), THIN, name=name)
              for line, name in zip(lines, ("blank-end", "saw-place", "beyond"), strict=True)),
            *_slot(words, at, -SKETCH_MM + NOTE_HEIGHT / 2, "middle")]


def _end_view(cut: CardCut, number: int) -> tuple[Mark, ...]:
    """The end as one looks at it, heel up, and where the saw's axis passes."""
    joint, clock = cut.joint, even_clocks(STEPS)
    cluster = joint.cluster()
    views = heel_and_right(joint)[::-1].T  # right, up
    along = np.full(clock.shape, float(np.nanmin(cluster.entry(clock))))
    rim, bore = (cluster.skin(clock, along, depth)[:, :2] @ views
                 for depth in (0.0, cluster.wall()))
    top = rim[:, 1].max() * (1 + ABOVE)
    axes = [np.array(((one.sideways, -top), (one.sideways, top))) for one in cut.passes]
    place = _placing(np.concatenate((rim, *axes, rim * (1 + ABOVE))), END_MM)
    heel = np.array(((0.0, rim[:, 1].max()), (0.0, top)))
    marks: list[Mark] = [
        Path(place(rim), LINE, closed=True, name="rim"),
        Path(place(bore), THIN, closed=True, name="bore"),
        Path(place(heel), CUT, name="heel"),
        *(Path(place(axis), CENTRE, name=f"saw-beside-{number}") for axis in axes),
    ]
    marks += _slot(f"end, {cut.up}", END_MM / 2, -NOTE_HEIGHT, "middle")
    return (*marks, *_slot(_offset_words(cut), END_MM / 2, -SKETCH_MM + NOTE_HEIGHT / 2, "middle"))


def _offset_words(cut: CardCut) -> str:
    if len(cut.passes) != 1:
        return "two passes" if cut.passes else ""
    sideways = cut.passes[0].sideways
    if abs(sideways) < LEVEL_MM:
        return "no offset"
    return f"{format_short(abs(sideways))} {'right' if sideways > 0 else 'left'}"


def _slot(words: str, x: float, y: float, anchor: Anchor) -> list[Mark]:
    return [Text((x, y), words, NOTE_HEIGHT, anchor)] if words else []
