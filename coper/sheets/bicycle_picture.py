"""A bicycle from the right with what was measured on it as dimension lines.

Each dimension is a group named after its key, ``dim-drop``, so that a page can make it heavy.
Another fork, other wheels or another rear end are drawn over it dashed, as a group ``tried``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.bicycle.bicycle import Bicycle, leaning
from coper.bicycle.ground import Flat
from coper.bicycle.measured import Measured
from coper.bicycle.standing import StandingWheel
from coper.bicycle.wheel import Wheel
from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.marks import CENTRE, CUT, LINE, THIN, Group, Mark, Path, Pen
from coper.drawing.page import Page
from coper.pages.gapped import gapped
from coper.sheets.dimension_lines import angle_mark, length_mark, spot_mark, words_at
from coper.units import format_angle, format_number

WIDE_MM: Final = 190.0
"""Width of the picture of a bicycle, its lettering not counted."""

EDGE_MM: Final = 2.0

STEPS: Final = 90
"""Points of a wheel's circle: a chord misses it by 0.02 mm at the most."""

BELOW_MM: Final = 9.0
"""From the ground to the first dimension under it, and from that to the next."""

BESIDE_MM: Final = 9.0
"""Between a tube's axis and the dimension line beside it."""

SPOT_MM: Final = 2.0
"""Radius of the circle round a place that is measured across the view."""

HUB_WORDS: Final = (0.0, 5.0)
FRONT_WORDS: Final = (18.0, 0.0)
TRACK_WORDS: Final = (0.0, -5.0)
SHELL_WORDS: Final = (-9.0, -14.0)
BOTTOM_WORDS: Final = (-36.0, -6.0)
"""Where the words of such a place stand, mm to its right and up: clear of the lines there."""

NAME: Final = "dim-"
"""What the name of a dimension's group begins with."""

TRIED: Final = "tried"
"""The name of the group of what is tried."""

DASHED: Final = Pen(0.5, (4.0, 1.5))
"""The line of what is tried."""

LIMBS: Final = (("bottom-bracket", "axle", LINE), ("head-bottom", "head-top", CUT),
                ("head-bottom", "crown", LINE), ("crown", "front-axle", LINE))
"""The points that a line of the bicycle runs between, and its pen."""


@dataclass(frozen=True, slots=True)
class _Picture:
    """A bicycle on paper: ``scale`` mm of it to 1 mm of the bicycle."""

    measured: Measured
    bicycle: Bicycle
    scale: float

    def place(self, at: Flat) -> Floats:
        """A point (x, z) of the frame on paper (2,), mm."""
        return self.scale * np.array(at)

    def named(self, name: str) -> Floats | None:
        """A point of the bicycle by its name, on paper."""
        point = self.bicycle.points.get(name)
        return None if point is None else self.place((point[0], point[2]))

    def size(self, key: str) -> str | None:
        """What was measured of a key, as it is written beside its line; ``None`` where nothing."""
        value = getattr(self.measured, key)
        if value is None:
            return None
        if isinstance(value, Wheel):
            return value.size or f"radius {format_number(value.radius)}"
        return format_angle(value) if key.endswith("angle") else format_number(value)

    def marks(self) -> Iterator[Mark]:
        """All of it, from the origin of the frame."""
        yield Group(tuple(self._body()), "bicycle")
        yield from self._rear()
        yield from self._wheels()
        yield from self._head()
        yield from self._fork()
        yield from self._long()

    def _body(self) -> Iterator[Mark]:
        """The lines that are there whatever was measured."""
        for one, other, pen in LIMBS:
            yield from self._limb(one, other, pen)
        if self.measured.seat_angle is not None:
            top = self.place(leaning(self.measured.seat_angle)) * self._tall()
            yield Path(np.stack((0 * top, top)), CENTRE)
        yield from self._ground_line(THIN)

    def tried(self, before: Bicycle) -> Iterator[Mark]:
        """What of it is another than ``before``, dashed."""
        was, now = before.points, self.bicycle.points
        for one, other, _ in LIMBS:
            if any(was.get(name) != now.get(name) for name in (one, other)):
                yield from self._limb(one, other, DASHED)
        for end in ("rear", "front"):
            for wheel in self.bicycle.standing(end)[:1]:
                if wheel not in before.wheels:
                    yield Path(self._ring(wheel, wheel.wheel.radius), DASHED, closed=True)
        if self.bicycle.ground != before.ground:
            yield from self._ground_line(DASHED)

    def _limb(self, one: str, other: str, pen: Pen) -> Iterator[Mark]:
        """The line between two points, where both are known."""
        start, end = self.named(one), self.named(other)
        if start is not None and end is not None:
            yield Path(np.stack((start, end)), pen)

    def _ring(self, wheel: StandingWheel, radius: float) -> Floats:
        """A circle (n, 2) round a wheel's middle, on paper."""
        turn = np.linspace(0.0, 2 * np.pi, STEPS, endpoint=False)
        ring = np.stack((np.cos(turn), np.sin(turn)), axis=-1)
        return self.place((wheel.at[0], wheel.at[2])) + self.scale * radius * ring

    def _tall(self) -> float:
        """How far up the seat axis is drawn, mm of the bicycle."""
        top = self.bicycle.points.get("head-top")
        return 450.0 if top is None else max(top[2], 200.0)

    def _ground_line(self, pen: Pen) -> Iterator[Mark]:
        ends = self._feet()
        if len(ends) == 2:
            way = (ends[1] - ends[0]) * 0.2
            yield Path(np.stack((ends[0] - way, ends[1] + way)), pen)

    def _feet(self) -> list[Floats]:
        """Where each wheel stands on the ground, the rear one first."""
        ground = self.bicycle.ground
        if ground is None:
            return []
        return [self.place((wheel.at[0] - wheel.wheel.radius * ground.up[0],
                            wheel.at[2] - wheel.wheel.radius * ground.up[1]))
                for end in ("rear", "front") for wheel in self.bicycle.standing(end)[:1]]

    def _length(self, key: str, one: Floats | None, other: Floats | None, aside: float
                ) -> Iterator[Mark]:
        words = self.size(key)
        if words is not None and one is not None and other is not None:
            yield length_mark(one, other, aside, words, NAME + key)

    def _rear(self) -> Iterator[Mark]:
        bracket, axle = np.zeros(2), self.named("axle")
        if axle is not None:
            level = np.array((axle[0], 0.0))
            yield from self._length("chain_stay", axle, bracket, -BESIDE_MM)
            yield from self._length("axle_back", level, bracket, -2.5 * BESIDE_MM)
            yield from self._length("drop", level, axle, 2 * BESIDE_MM)
            yield from self._spot("rear_hub", axle)
            yield from self._spot("rear_track", axle, TRACK_WORDS)
        yield from self._spot("shell", bracket, SHELL_WORDS)
        if self.bicycle.ground is not None:
            down = -self.bicycle.ground.bracket_height
            up = self.bicycle.ground.up
            yield from self._length("height", bracket, self.place((down * up[0], down * up[1])),
                                    1.5 * BESIDE_MM)

    def _spot(self, key: str, at: Floats, by: tuple[float, float] = HUB_WORDS) -> Iterator[Mark]:
        """What is measured across the view; where its words stand, mm to the right and up."""
        words = self.size(key)
        if words is not None:
            yield spot_mark(at, SPOT_MM, f"{words} wide", by, NAME + key)

    def _wheels(self) -> Iterator[Mark]:
        for end in ("rear", "front"):
            for wheel in self.bicycle.standing(end)[:1]:
                outer, inner = (self._ring(wheel, radius) for radius in
                                (wheel.wheel.radius, wheel.wheel.bead_seat))
                key, (x, _, z) = f"{end}_wheel", wheel.at
                words = words_at(self.place((x, z + wheel.wheel.bead_seat / 2)),
                                 self.size(key) or "")
                yield Group((Path(outer, LINE, closed=True), Path(inner, THIN, closed=True),
                             words), NAME + key)

    def _head(self) -> Iterator[Mark]:
        measured, top, bottom = self.measured, self.named("head-top"), self.named("head-bottom")
        if measured.seat_angle is not None:
            yield angle_mark(np.zeros(2), 180.0, 180.0 - measured.seat_angle, 20.0,
                             self.size("seat_angle") or "", f"{NAME}seat_angle")
        if bottom is None or measured.head_angle is None:
            return
        yield angle_mark(bottom, 180.0, 180.0 - measured.head_angle, 16.0,
                         self.size("head_angle") or "", f"{NAME}head_angle")
        if measured.head_bottom is not None:
            words = ", ".join(map(format_number, measured.head_bottom))
            yield spot_mark(bottom, SPOT_MM, words, BOTTOM_WORDS, f"{NAME}head_bottom")
        if top is not None:
            yield from self._length("head_tube", bottom, top, -BESIDE_MM)
            corner = np.array((0.0, top[1]))
            yield from self._length("reach", corner, top, BESIDE_MM)
            yield from self._length("stack", np.zeros(2), corner, 0.0)

    def _fork(self) -> Iterator[Mark]:
        parts = self.bicycle.parts
        if parts.head is None or parts.fork is None:
            return
        crown, bottom = (self.place(at) for at in (parts.fork.crown(parts.head),
                                                   parts.head.bottom))
        foot = self.place(parts.head.down(parts.fork.lower_stack + parts.fork.length))
        axle = self.place(parts.fork.axle(parts.head))
        yield from self._length("lower_stack", crown, bottom, -2 * BESIDE_MM)
        yield from self._length("fork_length", foot, crown, BESIDE_MM)
        yield from self._length("rake", foot, axle, -2 * BESIDE_MM)
        yield from self._spot("front_hub", axle, FRONT_WORDS)

    def _long(self) -> Iterator[Mark]:
        axle, feet = self.named("front-axle"), self._feet()
        if axle is not None:
            yield from self._length("front_centre", np.zeros(2), axle, -BESIDE_MM)
        if len(feet) == 2:
            yield from self._length("wheelbase", feet[0], feet[1], -BELOW_MM)


def bicycle_picture(
    bicycle: Bicycle, measured: Measured, tried: Bicycle | None = None
) -> Page | None:
    """The picture as a page as large as it is; ``None`` where nothing of it is known yet.

    ``tried`` is the bicycle with what is tried on it, dashed over it.
    """
    places = [at for one in (bicycle, tried) if one is not None for at in _reached(one)]
    wide = max(places) - min(places)
    if wide <= 0.0:
        return None
    picture = _Picture(measured, bicycle, WIDE_MM / wide)
    marks = list(picture.marks())
    if tried is not None:
        over = tuple(replace(picture, bicycle=tried).tried(bicycle))
        marks += [Group(over, TRIED)] if over else []
    cut = gapped(marks)
    box = bounds(cut)
    cut = moved(cut, EDGE_MM - box.left, EDGE_MM - box.bottom)
    return Page("A", box.right - box.left + 2 * EDGE_MM, box.top - box.bottom + 2 * EDGE_MM, cut)


def _reached(bicycle: Bicycle) -> Iterator[float]:
    """How far ahead of the frame's origin its points and the edges of its wheels are, mm."""
    yield from (point[0] for point in bicycle.points.values())
    for wheel in bicycle.wheels:
        yield from (wheel.at[0] - wheel.wheel.radius, wheel.at[0] + wheel.wheel.radius)
