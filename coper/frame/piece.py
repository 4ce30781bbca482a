"""A tube with both its ends: what is cut from stock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.frame.end import TubeEnd
from coper.frame.tube import Tube
from coper.joint.edge import STEPS, even_clocks
from coper.shapes.checks import plain
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.tolerances import OVERRUN_MM, SQUARE_DEG

ALIKE_DEG = 0.05
"""Clocks are told to a tenth of a degree: two heels nearer than half of it are in line."""


@dataclass(frozen=True, slots=True)
class Heels:
    """How the two heels of a tube stand to each other.

    Attributes
    ----------
    between : float, degrees
        From the start's heel to the end's, right-handed about start-to-end, 0 to 360.
    words : str
    """

    between: float
    words: str


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One tube of a frame, both ends shaped.

    Attributes
    ----------
    tube : Tube
    start, end : TubeEnd
    blank : float, mm
        Overall length to cut: from the furthest of the one end to the furthest of the other.
    heels : Heels or None
        ``None`` unless both ends are coped; told of each end's first main.
    taper : str or None
        Which end is which, in words; ``None`` where both are alike.
    cautions : tuple of str
    """

    tube: Tube
    start: TubeEnd
    end: TubeEnd
    blank: float
    heels: Heels | None
    taper: str | None
    cautions: tuple[str, ...]

    @property
    def label(self) -> str:
        """The tube's name, and its side where it has a twin."""
        tube = self.tube
        return tube.name if tube.side == "centre" else f"{tube.name} {tube.side}"

    @property
    def ends(self) -> tuple[TubeEnd, TubeEnd]:
        """Both ends, the start first."""
        return self.start, self.end


def make_piece(tube: Tube, start: TubeEnd, end: TubeEnd) -> Piece:
    """The piece with these two ends.

    Raises
    ------
    JointError
        Where the two cuts meet and leave nothing of the tube.
    """
    _check_extent(tube, start, end)
    left = float(np.nanmin(_round(end) - _round(start)))
    if left <= 0:
        raise JointError(
            f"the two ends' cuts cross by {plain(round(-left, 2))} mm: nothing is left between",
            "check the points, and what each end seats on")
    heels = _heels(start, end)
    said = [f"{part.which.capitalize()}: {caution}" for part in (start, end)
            for caution in part.cautions]
    return Piece(tube, start, end, end.reach - start.reach, heels, _taper(tube),
                 (*said, *_past_taper(tube, start, end)))


def _check_extent(tube: Tube, start: TubeEnd, end: TubeEnd) -> None:
    """Refuse a taper that closes within the tube."""
    if not isinstance(tube.shape, Tapered | TaperedOval):
        return
    low, high = (float(bound) for bound in tube.shape.extent())
    for closes, outside in ((low, low >= start.reach), (high, high <= end.reach)):
        if outside:
            raise JointError(
                f"the taper closes at {plain(round(closes, 2))} mm from the start point, within "
                f"the tube's {plain(round(tube.length, 2))} mm",
                "check the taper's two sizes and the length between them")


def _round(end: TubeEnd) -> Floats:
    """The edge (STEPS,) in mm at even clocks, the further back of outside and inside."""
    clocks = even_clocks(STEPS)
    furthest = np.fmax if end.which == "start" else np.fmin
    edge = furthest(end.outer, end.inner)
    known = np.isfinite(edge)
    return np.interp(clocks, end.clock[known], edge[known], period=360)


def _heels(start: TubeEnd, end: TubeEnd) -> Heels | None:
    if not (start.seats and end.seats):
        return None
    between = (end.seats[0].heel_clock - start.seats[0].heel_clock) % 360 % 360
    return Heels(between, heel_words(between, _line(start), _line(end)))


def _line(end: TubeEnd) -> str:
    """What the line of an end is called; a tube that stands square on its main has no heel."""
    return "main + line" if abs(end.seats[0].angle - 90) <= SQUARE_DEG else "heel"


def heel_words(between: float, start: str = "heel", end: str = "heel") -> str:
    """Where the end's heel stands, seen from the start's, ``between`` degrees on.

    ``start`` and ``end`` are what the two lines are called.
    """
    both = f"the {start}s of both ends" if start == end else (
        f"the start's {start} and the end's {end}")
    if min(between, 360 - between) < ALIKE_DEG:
        return f"{both} are in line"
    if abs(between - 180) < ALIKE_DEG:
        return f"{both} are on opposite sides"
    way = "clockwise" if between < 180 else "anticlockwise"
    told = plain(round(min(between, 360 - between), 1))
    other = "" if start == end else f" {start}"
    return (f"the end's {end} stands {told}° {way} from the start's{other}, "
            "looking from start to end")


def _taper(tube: Tube) -> str | None:
    match tube.shape:
        case Tapered(start, end):
            thick = "start" if start > end else "end"
            there = 2 * float(tube.shape.radius(tube.length))
            return (f"the thick end is the {thick}: {plain(start)} mm at the start point, "
                    f"{plain(round(there, 2))} mm at the end point")
        case TaperedOval(major, minor, end):
            return (f"the oval end, {plain(major)} by {plain(minor)} mm, is the start; "
                    f"towards the end it becomes round, {plain(end)} mm")
    return None


def _past_taper(tube: Tube, start: TubeEnd, end: TubeEnd) -> Iterator[str]:
    """Where the blank is longer than what the taper was given over."""
    if not isinstance(tube.shape, Tapered | TaperedOval):
        return
    for past, which in ((-start.reach, "start"), (end.reach - tube.shape.length, "end")):
        if past > OVERRUN_MM:
            yield (f"The tube goes {plain(round(past, 2))} mm past its taper's {which}: "
                   "it is taken to taper on at the same rate.")
