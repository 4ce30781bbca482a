"""Every small number of the geometry: its unit, and why it has this size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

TOUCH_MM: Final = 1e-9
"""A generator that passes this close to a main's skin touches it.

A thousandth of the accuracy that coper promises (1e-6 mm), and a thousand times the rounding of a
coordinate of a metre; without it the tangent line of two equal tubes is lost to rounding.
"""

BREAK_INSIDE_DEG: Final = 1e-9
"""How far inside a stretch its two end points are taken.

At the very end the generator is tangent and the along has an infinite slope, so that one more
rounding would make it nan; this far inside, the point of the curve is good to 1e-8 mm and lies
within 0.001 mm of the tip.
"""

CHANGE_STEPS: Final = 48
"""Halvings that find a change between two clocks: half a degree over 2**48 is 2e-15 degrees."""

DRAWN_SAG_MM: Final = 0.004
"""How far a drawn chord may leave the curve: a fifth of the 0.02 mm that paper promises."""

DRAWN_ROUNDS: Final = 14
"""Halvings of a chord at most: half a degree over 2**14, far below what a printer resolves."""

EVEN_MM: Final = 1e-7
"""Two places along the tube that differ by less count as even when the furthest is looked for.

A tenth of the accuracy that coper promises, and more than the rounding of a root that grazes.
"""

PARALLEL_DEG: Final = 1e-6
"""Two axes that differ by less have no angle to cope: a metre of tube strays by 2e-5 mm."""

SQUARE_DEG: Final = 1e-9
"""An angle this near 90 is square: what the rounding of two points makes of it."""

OVERRUN_MM: Final = 1e-3
"""A footprint that runs past its main by less is flush: no bench sees it."""

SEATED_MM: Final = 1e-8
"""An end is pushed home when what is left to push is less: a hundredth of the promised 1e-6 mm."""

LEFT_SHARE: Final = 0.4
"""What is left of a push of a taper is at most so much of it, as long as the same place touches."""

SAME_CLOCK_DEG: Final = 1e-11
"""Clocks this close are one: a hundred times the rounding of a clock, and a hundredth of
``BREAK_INSIDE_DEG``, so that the end of a stretch is never taken for its neighbour."""

NEVER_MM: Final = 1e5
"""A generator that enters a main only this far off never meets it: no tube is 100 m long.

The flank of a taper may run all but along a main, and would meet it beyond the horizon.
"""


@dataclass(frozen=True, slots=True)
class Closing:
    """How :mod:`coper.search` closes in on the hollows of a grid.

    Attributes
    ----------
    kept : int
        Hollows that are followed.
    tried : tuple of int
        Places of a window, one number an axis.
    closer : tuple of float
        What part of it the next window is, one number an axis.
    to : float
        The search ends when all windows are below this part of the first.
    better : float, mm
        A place is taken only where it is better by more; else they are even.
    rounds : int
        Windows at most, for a place that moves on and on.
    sure, settled : int or None, mm
        After ``sure`` windows the search also ends when one makes no lowest place lower by more
        than ``settled``; ``None``: it never does. A window that is flat to ``settled`` or to
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


EDGE: Final = Closing(kept=1, tried=(33,), closer=(12.0,), to=2e-7, better=EVEN_MM)
"""An extreme of an edge: half a degree becomes 1e-7. The places stand a sixteenth of the window
apart; the next one, a twelfth of it either way, reaches past both neighbours of the best."""

FOLLOWED: Final = Closing(kept=1, tried=(9,), closer=(4.0,), to=1e-12, better=1e-12)
"""The lowest place of a curve that falls and then rises, in mm or radians: 10 m become 1e-8 mm and
a quarter turn 1e-10 degrees, below any rounding."""

NEAREST: Final = Closing(kept=4, tried=(9, 9), closer=(3.0, 3.0), to=1e-9, better=TOUCH_MM)
"""The nearest place of a piece: a stay beside a tyre has two, and 5 mm become 5e-9. The window
shrinks slowly, as the hollow between two curved skins may run aslant."""

THROUGH: Final = Closing(kept=1, tried=(9,), closer=(4.0,), to=1e-3, better=0.0)
"""The highest place through a wall, or along a sheet: it is flat there, and a wall over 8 x 4**5 is
a ten thousandth of it."""

FLATNESS: Final = Closing(kept=1, tried=(9,), closer=(4.0,), to=1e-3, better=EVEN_MM)
"""How flat a main is that two passes of a saw are best for: an eighth becomes 1e-4, and the gap
then is to a hundredth of a mm."""


@dataclass(frozen=True, slots=True)
class Seating:
    """How closely an end is pushed home, and its largest gap found.

    Attributes
    ----------
    clocks, depths : int
        Even clocks and depths of the grid.
    beside : tuple of float, degrees
        Clocks of the grid about each break of the cut.
    touch, gap : Closing
        Closing in on the first touch, over clock and depth, and on the largest gap.
    sure : tuple of int, or None
        Windows that are tried at least for an edge without breaks, for one with, and for an open
        one, which ends in a tip; ``None``: all, always.
    pushes : int
        Times that a taper is pushed on; a tube of one section is home after the first.
    home : float, mm
        An end is home when what is left to push is less.
    far : float, mm
        A longer push may bring quite another place to the main: the whole grid is tried again, and
        not closed in on before pushes are shorter; with 0 it is tried and closed in on each time.
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
    clocks=720, depths=9, beside=(0.0,),
    touch=Closing(kept=8, tried=(17, 17), closer=(4.0, 4.0), to=1e-12, better=TOUCH_MM),
    gap=EDGE, sure=None, pushes=60, home=SEATED_MM, far=0.0)
"""The promised 1e-6 mm. No joint touches at more than eight places within half a degree; half a
degree over 4**20 is 5e-13 degrees: at a tip, where the edge is steep, still 1e-6 mm. A push of a
taper leaves at most a few tenths of what was left; a tip is elsewhere after any of them."""

BENCH: Final = Seating(
    clocks=72, depths=3, beside=tuple(half / 2 for half in range(-10, 11)),
    touch=Closing(kept=3, tried=(9, 5), closer=(4.0, 2.0), to=1e-7, better=EVEN_MM, settled=2e-4),
    gap=Closing(kept=3, tried=(9,), closer=(4.0,), to=1e-7, better=EVEN_MM, settled=2e-4),
    sure=(2, 5, 12), pushes=30, home=2e-3, far=0.1)
"""A few thousandths of a mm, far below what a gauge reads, for hundreds and thousands of joints.

A cope goes round no more than a few times in five degrees; a mounted joint has its own breaks some
degrees beside those of its cut, and the first touch is often on one, and nearly always at an edge
of the wall or in its middle. With two hollows some of a thousand random joints failed, and with
three depths a ridge that runs aslant through the wall is lost now and then. The last push of a
taper leaves a few hundredths of it.
"""
