"""A chart: a frame, round scales both ways, curves and levels at their values.

::

    2 mm |-----------__--|
         |    __----'    |     a curve ends where it leaves the chart at the top
    1 mm |_--'- - - - - -|     a level
         |_______________|
         0°             90°
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.drawing.curves import pieces
from coper.drawing.marks import FINE, NOTE_HEIGHT, THIN, Mark, Path, Pen, Text
from coper.pages.boxes import box_path
from coper.units import first_unit, in_first_unit, plain

BESIDE_MM = 2.0
"""Between the frame and the words beside it or above it."""

MOST_STEPS = 6
"""A scale has no more steps than this, and at least a third as many."""


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart with its lower left corner at the origin.

    Attributes
    ----------
    wide, high : float, mm
        The frame.
    across, up : (first, last)
        The values at the frame's sides, and at its foot and top.
    drop : float, mm
        Baseline of the words under the frame, below it.
    """

    wide: float
    high: float
    across: tuple[float, float]
    up: tuple[float, float]
    drop: float = 2 * NOTE_HEIGHT

    def x(self, values: Floats | float) -> Floats:
        """Where values (n,) of the scale across stand, mm (n,)."""
        low, high = self.across
        x: Floats = (np.asarray(values) - low) / (high - low) * self.wide
        return x

    def y(self, values: Floats | float) -> Floats:
        """Where values (n,) of the scale up stand, mm (n,)."""
        low, high = self.up
        y: Floats = (np.asarray(values) - low) / (high - low) * self.high
        return y

    def frame(self, name: str) -> Path:
        """The frame."""
        return box_path(0.0, 0.0, self.wide, self.high, THIN, name=name)

    def curve(self, across: Floats, up: Floats, pen: Pen, name: str) -> Iterator[Path]:
        """The curve through values (n,), open where they are ``nan`` or above the chart."""
        shown = np.where(up > self.up[1], np.nan, up)
        points = np.stack((self.x(across), self.y(shown)), axis=-1)
        for piece in pieces(points):
            yield Path(piece, pen, name=name)

    def level(self, value: float, pen: Pen, name: str = "") -> Path:
        """A line from side to side."""
        y = float(self.y(value))
        return Path(np.array(((0.0, y), (self.wide, y))), pen, name=name)

    def upright(self, value: float, pen: Pen, name: str = "") -> Path:
        """A line from foot to top."""
        x = float(self.x(value))
        return Path(np.array(((x, 0.0), (x, self.high))), pen, name=name)

    def step_across(self, value: float, words: str) -> tuple[Mark, ...]:
        """A step of the scale across, its words below."""
        at = (float(self.x(value)), -self.drop)
        return self.upright(value, FINE), Text(at, words, NOTE_HEIGHT, "middle")

    def lengths_up(self) -> Iterator[Mark]:
        """The steps of a scale up that is in mm, their lengths at the left."""
        for value, words in length_steps(*self.up):
            at = (-BESIDE_MM, float(self.y(value)) - NOTE_HEIGHT / 2)
            yield self.level(value, FINE)
            yield Text(at, words, NOTE_HEIGHT, "right")

    def above(self, words: str) -> Text:
        """What the chart shows, over it."""
        return Text((0.0, self.high + BESIDE_MM), words, NOTE_HEIGHT)


def length_steps(low: float, high: float) -> Iterator[tuple[float, str]]:
    """Lengths in mm that are round in the order's unit, from ``low`` to ``high``, and in words."""
    unit = 1 / in_first_unit(1.0)
    for value in round_steps(low / unit, high / unit).tolist():
        yield value * unit, f"{plain(value)} {first_unit()}"


def round_steps(low: float, high: float) -> Floats:
    """Round values (n,) from ``low`` to ``high``, 0 among them where it lies between."""
    step = _round_up((high - low) / MOST_STEPS)
    steps: Floats = np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step
    return steps


def _round_up(rough: float) -> float:
    """The next round step up from ``rough``: 1, 2 or 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(rough))
    return next(k * power for k in (1.0, 2.0, 5.0, 10.0) if k * power >= rough)
