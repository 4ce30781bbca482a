"""Every small number of the geometry, with its unit and the reason for its size."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

TOUCH_MM: Final = 1e-9
"""A generator that passes this close to a main's skin touches it.

A thousandth of the accuracy that coper promises (1e-6 mm), and a thousand times the rounding error
of a coordinate of one metre. Without it the tangent line of two equal tubes is lost to rounding.
"""

BREAK_INSIDE_DEG: Final = 1e-9
"""How far inside an open stretch its two end points are taken.

At the very end the generator is tangent and the slope of along is infinite, so one more rounding
would give nan. This far inside, the point of the curve is good to 1e-8 mm and lies within 0.001 mm
of the tip.
"""

DRAWN_SAG_MM: Final = 0.004
"""How far a drawn chord may leave the curve: a fifth of the 0.02 mm that paper promises."""

DRAWN_ROUNDS: Final = 14
"""Halvings of a chord at most: half a degree over 2**14, far below what a printer resolves."""

EVEN_MM: Final = 1e-7
"""Two positions along the tube that differ by less count as equal in a search for the furthest.

A tenth of the accuracy that coper promises, and more than the rounding of a root near tangency.
"""

PARALLEL_DEG: Final = 1e-6
"""Two axes that differ by less have no angle to cope: a metre of tube strays by 2e-5 mm."""

SQUARE_DEG: Final = 1e-9
"""An angle this near 90 is square: the rounding of two points changes it by as much."""

CLASH_MM: Final = 0.1
"""Tubes that overlap by less touch: two numbers rounded to a tenth of a mm make that much."""

ALIKE_MM: Final = 0.05
"""Two pieces that differ by less are the same: a scriber's line on a template is wider."""

OVERRUN_MM: Final = 1e-3
"""A footprint that runs past its main by less is flush: nobody can measure it at a bench."""

SEATED_MM: Final = 1e-8
"""An end is home when less than this is left to push: a hundredth of the promised 1e-6 mm."""

LEFT_SHARE: Final = 0.4
"""What is left of a push of a taper is at most so much of it, as long as the same place touches."""

SAME_CLOCK_DEG: Final = 1e-11
"""Clocks this close are one: a hundred times the rounding of a clock, and a hundredth of
``BREAK_INSIDE_DEG``, so the end of a stretch is never mistaken for its neighbour."""

NEVER_MM: Final = 1e5
"""A generator that enters a main only this far off never meets it: no tube is 100 m long.

The flank of a taper may run almost parallel to a main, and would meet it kilometres away.
"""

LEAST_LEAN_DEG: Final = 0.5
"""A side that stands at less to a plate's face runs along it: on a tube of 28.6 mm the cope would
be 3.3 m long, and a hundredth of a degree would change it by 66 mm."""


@dataclass(frozen=True, slots=True)
class Closing:
    """How :mod:`coper.search` closes in on the local minima (hollows) of a grid.

    Attributes
    ----------
    kept : int
        Hollows that are followed.
    tried : tuple of int
        Places tried in a window, one number an axis.
    closer : tuple of float
        How many times smaller the next window is, one number an axis.
    to : float
        The search ends when the windows are smaller than this share of the first.
    better : float, mm
        A place is taken only where it is better by more than this; otherwise they count as equal.
    rounds : int
        The most windows, for a place that keeps moving.
    sure, settled : int or None, mm
        After ``sure`` windows the search also ends as soon as a window lowers no minimum by more
        than ``settled``; with ``None`` it does not. A window that is flat to ``settled`` or to
        ``better`` has no smaller one.
    """

    kept: int
    tried: tuple[int, ...]
    closer: tuple[float, ...]
    to: float
    better: float
    rounds: int = 60
    sure: int | None = None
    settled: float = 0.0


@dataclass(frozen=True, slots=True)
class Narrowing:
    """How :mod:`coper.search` narrows an interval to a change of label.

    Attributes
    ----------
    parts : int
        Into so many even parts it is cut; the next one is the part that the change is in.
    rounds : int
        How often.
    """

    parts: int
    rounds: int


CHANGED: Final = Narrowing(parts=16, rounds=12)
"""A change between two clocks: half a degree over 16**12 is 2e-15 degrees. Sixteen parts ask for
four times the places that halving does, in a quarter of the calls, which are what takes time."""

EDGE: Final = Closing(kept=1, tried=(33,), closer=(12.0,), to=2e-7, better=EVEN_MM)
"""An extreme of an edge: half a degree shrinks to 1e-7. The places are a sixteenth of the window
apart; the next window, a twelfth of it either way, reaches past both neighbours of the best."""

FOLLOWED: Final = Closing(kept=1, tried=(9,), closer=(4.0,), to=1e-12, better=1e-12)
"""The minimum of a curve that falls and then rises, in mm or radians: 10 m shrink to 1e-8 mm and a
quarter turn to 1e-10 degrees, below any rounding."""

NEAREST: Final = Closing(kept=4, tried=(9, 9), closer=(3.0, 3.0), to=1e-9, better=TOUCH_MM)
"""The nearest place of a piece: a stay beside a tyre has two, and 5 mm shrink to 5e-9. The window
shrinks slowly, because the hollow between two curved skins may run obliquely to the axes."""

THROUGH: Final = Closing(kept=1, tried=(9,), closer=(4.0,), to=1e-3, better=0.0)
"""The maximum through a wall, or along a sheet: the curve is flat there, and a wall over 8 x 4**5
is a ten-thousandth of it."""

FLATNESS: Final = Closing(kept=1, tried=(9,), closer=(4.0,), to=1e-3, better=EVEN_MM)
"""How flat the main is that two passes of a saw suit best: an eighth shrinks to 1e-4, and the gap
is then good to a hundredth of a mm."""


ASIDE: Final = Closing(kept=2, tried=(5,), closer=(2.5,), to=5e-3, better=1e-3)
"""How far beside the main a saw is set: a few mm shrink to hundredths, which nobody can set."""


@dataclass(frozen=True, slots=True)
class Seating:
    """How accurately an end is pushed home and its largest gap found.

    Attributes
    ----------
    clocks, depths : int
        Number of even clocks and depths of the grid.
    beside : tuple of float, degrees
        Clocks of the grid about each break of the cut.
    touch, gap : Closing
        Closing in on the first touch, over clock and depth, and on the largest gap.
    sure : tuple of int, or None
        The fewest windows tried for an edge without breaks, for one with breaks, and for an open
        one, which ends in a tip; ``None`` for always all.
    pushes : int
        The most pushes of a taper; a tube of constant section is home after the first.
    home : float, mm
        An end is home when less than this is left to push.
    far : float, mm
        A longer push may bring quite another place to the main: the whole grid is tried again, and
        the search closes in only once pushes are shorter. With 0 both are done each time.
    """

    clocks: int
    depths: int
    beside: tuple[float, ...]
    touch: Closing
    gap: Closing
    sure: tuple[int, int, int] | None
    pushes: int
    home: float
    far: float


EXACT: Final = Seating(
    clocks=720, depths=9, beside=tuple(part / 16 for part in range(-8, 9)),
    touch=Closing(kept=8, tried=(17, 17), closer=(4.0, 4.0), to=1e-12, better=TOUCH_MM),
    gap=replace(EDGE, kept=8), sure=None, pushes=60, home=SEATED_MM, far=0.0)
"""The promised 1e-6 mm. No joint touches, or gapes nearly alike, at more than eight places. Half a
degree over 4**20 is 5e-13 degrees: still 1e-6 mm at a tip, where the edge is steep. Steps of half
a degree pass over hollows between breaks that are a tenth of it apart. A push of a taper leaves at
most a few tenths of what was left, and moves any tip."""

BENCH: Final = Seating(
    clocks=72, depths=3, beside=tuple(half / 2 for half in range(-10, 11)),
    touch=Closing(kept=3, tried=(9, 5), closer=(4.0, 2.0), to=1e-7, better=EVEN_MM, settled=2e-4),
    gap=Closing(kept=3, tried=(9,), closer=(4.0,), to=1e-7, better=EVEN_MM, settled=2e-4),
    sure=(2, 5, 12), pushes=30, home=2e-3, far=0.1)
"""A few thousandths of a mm, far below what a gauge reads, for hundreds and thousands of joints.

A cope turns no more than a few times in five degrees. A mounted joint has its own breaks some
degrees from those of its cut; the first touch is often on one, and nearly always at an edge of the
wall or in its middle. With two hollows a few of a thousand random joints failed; with three depths
a ridge that runs obliquely through the wall is missed now and then. The last push of a taper leaves
a few hundredths of it.
"""

TRIED: Final = Seating(
    clocks=72, depths=3, beside=(0.0,),
    touch=Closing(kept=2, tried=(5, 3), closer=(2.5, 2.0), to=1e-2, better=EVEN_MM, settled=2e-3),
    gap=Closing(kept=2, tried=(5,), closer=(2.5,), to=1e-2, better=EVEN_MM, settled=2e-3),
    sure=(1, 2, 4), pushes=12, home=2e-2, far=0.5)
"""A few hundredths of a mm, for the hundreds of ways to saw an end of which the best is then
placed exactly."""
