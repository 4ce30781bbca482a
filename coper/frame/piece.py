"""A tube with both its ends: what is cut from stock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import JointError
from coper.frame.end import TubeEnd, met_again
from coper.frame.tube import Tube, Which
from coper.joint.edge import STEPS, even_clocks
from coper.shapes.bending import tight_bends
from coper.shapes.tapered import Tapered
from coper.shapes.tapered_oval import TaperedOval
from coper.tolerances import CLASH_MM, OVERRUN_MM, SQUARE_DEG, TOUCH_MM
from coper.units import format_size


@dataclass(frozen=True, slots=True)
class Heels:
    """How the two heels of a tube stand to each other.

    Attributes
    ----------
    between : float, degrees
        From the start's heel to the end's, right-handed about start-to-end, 0 to 360.
    square : (bool, bool)
        Whether start and end stand square on their mains: then they have no heel, and the line is
        the one on the side of the main's ``+`` end.
    """

    between: float
    square: tuple[bool, bool] = (False, False)


@dataclass(frozen=True, slots=True, eq=False, repr=False, weakref_slot=True)
class Piece(OneLine):
    """One tube of a frame, both ends shaped.

    Attributes
    ----------
    tube : Tube
    start, end : TubeEnd
    allowance : float, mm
        What the blank has more at each end than the shaped tube, for dressing.
    heels : Heels or None
        ``None`` unless both ends are coped; by each end's first main.
    cautions : tuple of str
    """

    tube: Tube
    start: TubeEnd
    end: TubeEnd
    allowance: float
    heels: Heels | None
    cautions: tuple[str, ...]

    @property
    def label(self) -> str:
        """The tube's name, and its side where it has a twin."""
        return self.tube.label

    @property
    def ends(self) -> tuple[TubeEnd, TubeEnd]:
        """Both ends, the start first."""
        return self.start, self.end

    def end_at(self, which: Which) -> TubeEnd:
        """The start or the end."""
        return self.start if which == "start" else self.end

    def short_of(self, end: TubeEnd) -> float:
        """How far short of its point an end begins, mm: of a plain one where it is cut off."""
        return end.reach if end.which == "start" else self.tube.length - end.reach

    @property
    def shaped(self) -> float:
        """Overall length of the shaped tube in mm, from the furthest of either end."""
        return self.end.reach - self.start.reach

    @property
    def blank_ends(self) -> tuple[float, float]:
        """Where the blank, as it is cut from stock, begins and ends: mm from the start point.

        ::

            |.|-------------- shaped -------------|.|
            |<---------------- blank -------------->|   . the allowance

        All that is measured from a blank's end on the bench is measured from here.
        """
        return self.start.reach - self.allowance, self.end.reach + self.allowance

    def from_blank(self, end: TubeEnd, along: float) -> float:
        """How far a place ``along`` mm from the start point is from the blank's end there, mm."""
        low, high = self.blank_ends
        return along - low if end.which == "start" else high - along

    @property
    def blank(self) -> float:
        """Overall length to cut from stock, mm."""
        low, high = self.blank_ends
        return high - low


def make_piece(tube: Tube, start: TubeEnd, end: TubeEnd, allowance: float = 0.0) -> Piece:
    """The piece with these two ends, its blank ``allowance`` mm longer at each.

    Raises
    ------
    JointError
        Where the two cuts meet and leave nothing of the tube.
    """
    _check_extent(tube, start, end)
    _check_legs(tube, start, end)
    left = float(np.nanmin(_round(end) - _round(start)))
    if left <= 0:
        raise JointError(
            f"the two ends' cuts cross by {format_size(round(-left, 2))}: nothing is left between",
            "check the points, and what each end seats on")
    heels = _heels(start, end)
    said = [f"{part.which.capitalize()}: {caution}" for part in (start, end)
            for caution in part.cautions]
    return Piece(tube, start, end, allowance, heels,
                 (*said, *_bends(tube), *_run_through(tube, start, end),
                  *_past_taper(tube, start, end)))


def _check_extent(tube: Tube, start: TubeEnd, end: TubeEnd) -> None:
    """Refuse a taper that closes within the tube."""
    if not isinstance(tube.shape, Tapered | TaperedOval):
        return
    low, high = (float(bound) for bound in tube.shape.extent())
    for closes, outside in ((low, low >= start.reach), (high, high <= end.reach)):
        if outside:
            raise JointError(
                f"the taper closes at {format_size(round(closes, 2))} from the start point, within "
                f"the tube's {format_size(round(tube.length, 2))}",
                "check the taper's two sizes and the length between them")


def _check_legs(tube: Tube, start: TubeEnd, end: TubeEnd) -> None:
    """Refuse a cut that reaches into a bend: only straight sides can be followed to it."""
    if tube.course is None:
        return
    first, last = tube.course.stretches[0].high, tube.course.stretches[-1].low
    for which, past in (("start", float(np.nanmax(_round(start))) - first),
                        ("end", last - float(np.nanmin(_round(end))))):
        if past > TOUCH_MM:
            raise JointError(
                f"the {which}'s cut reaches {format_size(round(past, 2))} into the bend next to "
                "it, and only a straight end can be shaped",
                f"move the corner away from the {which}, or bend it tighter", which)


def _bends(tube: Tube) -> Iterator[str]:
    return iter(()) if tube.course is None else tight_bends(tube.shape, tube.course)


def _round(end: TubeEnd) -> Floats:
    """The edge (STEPS,) in mm at even clocks, the further back of outside and inside."""
    clocks = even_clocks(STEPS)
    furthest = np.fmax if end.which == "start" else np.fmin
    edge = furthest(end.outer, end.inner)
    known = np.isfinite(edge)
    return np.interp(clocks, end.clock[known], edge[known], period=360)


def _heels(start: TubeEnd, end: TubeEnd) -> Heels | None:
    if not (start.stances and end.stances):
        return None
    one, other = start.stances[0], end.stances[0]
    square = abs(one.angle - 90) <= SQUARE_DEG, abs(other.angle - 90) <= SQUARE_DEG
    return Heels((other.heel_clock - one.heel_clock) % 360 % 360, square)


def _run_through(tube: Tube, start: TubeEnd, end: TubeEnd) -> Iterator[str]:
    """Where the tube runs right through a bend before it comes to the side that it seats on."""
    for part, other, ahead in ((start, end, 1), (end, start, -1)):
        for main, clock, again in met_again(tube, part):
            left = ahead * (other.edge_at(clock) - again)
            if (left > CLASH_MM).any():
                yield (f"{part.which.capitalize()}: {main.name} comes round to the tube again "
                       f"{format_size(round(float(again[np.nanargmax(left)]), 1))} from the start "
                       "point: the tube runs right through it there.")


def _past_taper(tube: Tube, start: TubeEnd, end: TubeEnd) -> Iterator[str]:
    """Where the blank is longer than what the taper was given over."""
    if not isinstance(tube.shape, Tapered | TaperedOval):
        return
    first = tube.shape.first_at
    for past, which in ((first - start.reach, "start"),
                        (end.reach - first - tube.shape.length, "end")):
        if past > OVERRUN_MM:
            yield (f"The tube goes {format_size(round(past, 2))} past its taper's {which}: "
                   "it is taken to taper on at the same rate.")
