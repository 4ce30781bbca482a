"""What a sheet is made of: a handful of frozen marks in millimetres.

::

    y
    ^      x to the right, y up, the origin at the lower left
    |
    +----> x

Everything on paper is black on white.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np

from coper.arrays import Floats

Anchor: TypeAlias = Literal["left", "middle", "right"]


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line is drawn.

    Attributes
    ----------
    width : float, mm
        Width of the line; ISO 128 has .18 .25 .35 .5 .7 (from memory).
    dash : tuple of float, mm
        Lengths of dash, gap, dash, gap, …; empty for a line without gaps.
    """

    width: float
    dash: tuple[float, ...] = ()


# Dashes in widths of the line after ISO 128: dash 12, long dash 24, gap 3, dot 0.5 (from memory).
CUT: Final = Pen(0.5)
"""The line that the scissors or the saw follow."""
LINE: Final = Pen(0.35)
"""An outline."""
THIN: Final = Pen(0.25)
"""A dimension, a scale, a leader."""
FINE: Final = Pen(0.18)
"""A grid, a hatch."""
CENTRE: Final = Pen(0.25, (6.0, 0.75, 0.125, 0.75))
"""An axis."""
HIDDEN: Final = Pen(0.25, (3.0, 0.75))
"""An edge behind something."""
FOLD: Final = Pen(0.25, (6.0, 1.5))
"""A line to fold or to glue along."""

# Heights of capitals in mm after ISO 3098 (from memory).
NOTE_HEIGHT: Final = 2.5
"""The smallest lettering that is put on paper."""
PLAIN_HEIGHT: Final = 3.5
TITLE_HEIGHT: Final = 7.0
GAP_MM: Final = 1.5
"""Between a line and the lettering beside it."""


def _check_points(points: Floats, least: int, kind: str) -> None:
    """Refuse points (n, 2), mm, that could not be drawn: a fault of the caller, never of input."""
    if points.ndim != 2 or points.shape[1] != 2 or len(points) < least:
        raise ValueError(f"{kind} needs ({least} or more, 2) points, not {points.shape}")
    if not np.isfinite(points).all():
        raise ValueError(f"{kind} holds a point that is not finite")


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """A line from point to point.

    Attributes
    ----------
    points : (n, 2) float, mm
        At least two.
    pen : Pen
        How the line is drawn.
    closed : bool
        Whether the last point is joined to the first.
    fill : bool
        Whether the inside is black.
    name : str
        What the line is called in the file; empty for none.
    """

    points: Floats
    pen: Pen
    closed: bool = False
    fill: bool = False
    name: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", np.asarray(self.points, dtype=np.float64))
        _check_points(self.points, 2, f"path {self.name!r}")


@dataclass(frozen=True, slots=True)
class Text:
    """One line of words.

    Attributes
    ----------
    at : tuple of float, mm
        The point of the baseline that ``anchor`` names.
    words : str
        What is written.
    height : float, mm
        Height of a capital.
    anchor : str
        Which point of the baseline stands at ``at``: ``left``, ``middle`` or ``right``.
    turn : float, deg
        Turn about ``at``, counter-clockwise.
    bold : bool
        Whether the bold face is used.
    name : str
        What the text is called in the file; empty for none.
    """

    at: tuple[float, float]
    words: str
    height: float
    anchor: Anchor = "left"
    turn: float = 0.0
    bold: bool = False
    name: str = ""

    def __post_init__(self) -> None:
        if not all(map(math.isfinite, (*self.at, self.height, self.turn))) or self.height <= 0:
            raise ValueError(f"text {self.words!r} has no place or no height")


@dataclass(frozen=True, slots=True, eq=False)
class Hatch:
    """Parallel strokes that fill an outline.

    Attributes
    ----------
    outline : tuple of (n, 2) float, mm
        Closed rings; what lies inside an odd number of them is hatched.
    spacing : float, mm
        Distance from stroke to stroke.
    slope : float, deg
        Direction of the strokes, counter-clockwise from x.
    pen : Pen
        How the strokes are drawn.
    """

    outline: tuple[Floats, ...]
    spacing: float
    slope: float = 45.0
    pen: Pen = FINE

    def __post_init__(self) -> None:
        rings = tuple(np.asarray(ring, dtype=np.float64) for ring in self.outline)
        object.__setattr__(self, "outline", rings)
        for ring in rings:
            _check_points(ring, 3, "hatch")
        if not (self.spacing > 0 and np.isfinite((self.spacing, self.slope)).all()):
            raise ValueError(f"hatch has spacing {self.spacing} and slope {self.slope}")


@dataclass(frozen=True, slots=True)
class Group:
    """Marks that belong together, under a name.

    Attributes
    ----------
    marks : tuple of Mark
        What belongs together.
    name : str
        What the group is called in the file; empty for none.
    """

    marks: tuple[Mark, ...]
    name: str = ""


Mark: TypeAlias = Path | Text | Hatch | Group
