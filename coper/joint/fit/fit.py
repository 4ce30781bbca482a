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

from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.cope import check_points
from coper.joint.edge import STEPS, even_clocks, extreme, merged
from coper.joint.fit.face import Face, raised
from coper.joint.fit.touch import Touch, break_clocks, first_touch, overlaps
from coper.joint.wall import DEPTHS, most_through


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
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
    cut_breaks = (break_clocks(face.cluster) + turned) % 360
    breaks = merged(cut_breaks, break_clocks(mounted))
    touch = first_touch(face, mounted, turned, breaks)
    if not mounted.is_prismatic:  # pushed on, a taper has its breaks elsewhere
        breaks = merged(cut_breaks, break_clocks(raised(mounted, -touch.slide)))
    return measured(face, mounted, touch, breaks, turned, points)


def measured(
    face: Face, mounted: Cluster, touch: Touch, breaks: Floats,
    turned: float = 0.0, points: int = STEPS,
) -> Fit:
    """The gap of an end that is pushed to ``touch``, its ``breaks`` (k,) in degrees known."""
    seated = raised(mounted, -touch.slide)
    clock = merged(even_clocks(points), breaks)

    def outside(clock: Floats) -> Floats:
        return outside_gap(face, seated, turned, clock)

    searched = merged(even_clocks(STEPS), breaks)
    gaps = outside(searched)
    if np.isnan(gaps).all():
        raise JointError("the outer edge of the cut meets no main",
                         "make the mounting errors smaller", "fit")
    largest_clock, least = extreme(lambda c: -outside(c), searched, -gaps)
    if points != STEPS:
        gaps = outside(clock)
    return Fit(clock, gaps, -least, largest_clock, touch.clock, touch.depth, touch.slide, face,
               seated, turned)


def outside_gap(face: Face, seated: Cluster, turned: float, clock: Floats) -> Floats:
    """Distance (n,) in mm from the outer edge at ``clock`` (n,) to the nearest main.

    ``nan`` where no generator through the wall meets a main. What rounding leaves below 0 where
    the edge touches is 0.
    """
    points = seated.skin(clock, face.station(clock - turned, np.zeros(1)))
    gap = np.min([main.distance(points) for main in seated.mains], axis=0)
    misses = np.isnan(seated.entry(clock))
    if misses.any():  # the outside does, but the wall need not
        depths = np.linspace(0.0, seated.wall(), DEPTHS)[:, None]
        misses[misses] = np.isnan(seated.entry(clock[misses], depths)).all(axis=0)
    return np.where(misses, np.nan, np.maximum(gap, 0.0))


def root_gap(face: Face, seated: Cluster, turned: float, clock: Floats) -> Floats:
    """The smallest axial clearance (n,) in mm through the wall, ``nan`` where open."""
    overlap = most_through(lambda depth: overlaps(face, seated, turned, clock, depth), clock,
                           seated.wall())
    return np.maximum(-overlap, 0.0)
