"""Fit-up: the gap that is left when a shaped end is pushed home.

::

        |     |  wall of the branch
        |     |
        +--.__|  cut face
        :     :
      outside root     the gap a feeler gauge meets; the axial clearance
     ___:_____:____
        main
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.cope import check_points
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import Face, raised
from coper.joint.fit.grid import Grid, break_clocks, even_depths, grid_clocks
from coper.joint.fit.seat import Ends, Touch, first_touch, widest_gap
from coper.joint.wall import least_through
from coper.tolerances import EXACT


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Fit(OneLine):
    """The gap of a seated end, at even clocks and at every break between them.

    Attributes
    ----------
    clock : (n,) float, degrees
        As the branch is mounted.
    outside : (n,) float, mm
        Shortest distance from the outer edge of the cut to the mains; ``nan`` where open.
    largest, largest_clock : float, mm, degrees
        The largest ``outside``, wherever it is, and where.
    contact_clock, contact_depth : float, degrees, mm
        Where the end first touches, and how far below the outside.
    slide : float, mm
        How far away from the mains the branch sits from where the design puts it.
    face : Face
        The cut.
    seated : Cluster
        The branch and its mains as they stand, the end pushed home.
    turned : float, degrees
        How far the cut stands turned on its tube.
    """

    clock: Floats
    outside: Floats
    largest: float
    largest_clock: float
    contact_clock: float
    contact_depth: float
    slide: float
    face: Face = field(repr=False)
    seated: Cluster = field(repr=False)
    turned: float = field(repr=False)

    @property
    def root(self) -> Floats:
        """Smallest axial clearance (n,) in mm through the wall, ``nan`` where open."""
        return root_gap(self.face, self.seated, self.turned, self.clock)

    def at(self, clock: Floats) -> tuple[Floats, Floats]:
        """``outside`` and ``root`` at clocks (n,) of the caller's own, in degrees."""
        return (outside_gap(self.face, self.seated, self.turned, clock),
                root_gap(self.face, self.seated, self.turned, clock))

    def within(self, limit: float) -> bool:
        """Whether no gap is above ``limit`` mm."""
        return self.largest <= limit


def seat(face: Face, mounted: Cluster, turned: float = 0.0, points: int = STEPS) -> Fit:
    """Push an end with ``face`` onto the mains of ``mounted`` and measure the gap.

    Parameters
    ----------
    face
        The cut, as the design meant it.
    mounted
        The same branch and its mains as they are put together.
    turned : float, degrees
        How far the cut stands turned: what was meant for clock c is at ``c + turned``.
    points
        Even clocks of the result.

    Raises
    ------
    JointError
        Where the end meets no main.
    """
    check_points(points)
    ends = Ends(face, mounted, np.full((1, 1, 1), turned))
    breaks = end_breaks(ends)
    touch = touched(ends, breaks)
    if not mounted.is_prismatic:  # pushed on, a taper has its breaks elsewhere
        breaks = end_breaks(ends.moved(touch.slide[0]))
    return measured(ends, touch, breaks, points)


def end_breaks(ends: Ends) -> Floats:
    """Breaks (k,) in degrees of the cut and of the cope of one end, as it is mounted."""
    turned = float(ends.turned[0, 0, 0])
    return merged((break_clocks(ends.face.cluster) + turned) % 360, break_clocks(ends.mounted))


def touched(ends: Ends, breaks: Floats, again: Callable[[Floats], Grid] | None = None) -> Touch:
    """Where one end first touches; ``breaks`` (k,) in degrees are its :func:`end_breaks`.

    ``again`` as in :func:`coper.joint.fit.seat.first_touch`.

    Raises
    ------
    JointError
        Where nothing of the cut meets a main, or a taper is never home.
    """
    touch = first_touch(ends, end_grid(ends, breaks), EXACT, again)
    if np.isnan(touch.clock[0]):
        raise JointError("nothing of the cut meets the main", "make the mounting errors smaller",
                         "fit")
    if np.isnan(touch.slide[0]):
        raise JointError("the end cannot be pushed along its axis onto the main",
                         "check the angle and the taper", "branch")
    return touch


def end_grid(ends: Ends, breaks: Floats) -> Grid:
    """The grid of one end, even as it is mounted; its ``breaks`` (k,) are known."""
    clock = grid_clocks(breaks, EXACT)
    cut = ends.face.station(clock - ends.turned, even_depths(ends.mounted, EXACT))[0]
    return Grid(clock, cut, bool(breaks.size))


def measured(ends: Ends, touch: Touch, breaks: Floats, points: int = STEPS) -> Fit:
    """The gap of one end that is pushed to ``touch``, its ``breaks`` (k,) in degrees known."""
    home = Ends(ends.face, raised(ends.mounted, -touch.slide[0]), ends.turned)
    turned = float(ends.turned[0, 0, 0])
    searched = merged(even_clocks(STEPS), breaks)
    gaps = outside_gap(home.face, home.mounted, turned, searched)
    largest, largest_clock = widest_gap(home, searched, bool(breaks.size), EXACT, gaps[None])
    if np.isnan(largest[0]):
        raise JointError("the outer edge of the cut meets no main",
                         "make the mounting errors smaller", "fit")
    clock = searched
    if points != STEPS:
        clock = merged(even_clocks(points), breaks)
        gaps = outside_gap(home.face, home.mounted, turned, clock)
    return Fit(clock, gaps, float(largest[0]), float(largest_clock[0]),
               float(touch.clock[0] % 360), float(touch.depth[0]),
               float(touch.slide[0]), ends.face, home.mounted, turned)


def outside_gap(face: Face, seated: Cluster, turned: float, clock: Floats) -> Floats:
    """Distance (n,) in mm from the outer edge at ``clock`` (n,) to the nearest main.

    ``nan`` where no generator through the wall meets a main.
    """
    ends = Ends(face, seated, np.full((1, 1, 1), turned))
    gap: Floats = ends.gap(clock[None, None])[0, 0]
    return gap


def root_gap(face: Face, seated: Cluster, turned: float, clock: Floats) -> Floats:
    """The smallest axial clearance (n,) in mm through the wall, ``nan`` where open."""
    ends = Ends(face, seated, np.full((1, 1, 1), turned))
    least = least_through(lambda depth: ends.room(clock[:, None], depth)[0], seated.wall())
    return np.maximum(least, 0.0)
