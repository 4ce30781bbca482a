r"""Mains as an end meets them: where they stand, and where they end.

::

      \ | /     branch          a straight main goes on past a free end, for a template may be
       \|/                      trimmed there; where two named mains meet end to end in line,
    ====+====                   neither goes on past that place
    leg   bend
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from coper.arrays import Floats
from coper.frame.tube import Tube
from coper.joint.cluster import PlacedMain
from coper.shapes.arc import Arc
from coper.shapes.course import straight_course
from coper.shapes.plate import Plate
from coper.shapes.pose import Pose
from coper.shapes.run import EVERYWHERE, Run
from coper.shapes.shape import as_branch, as_main, half_width
from coper.tolerances import CLASH_MM

Between = tuple[float, float]
"""Stations, mm."""

IN_LINE_DEG = 0.1
"""Two tubes end to end that are at less than this are one run: coordinates written to a tenth of a
mm turn a leg 60 mm long by as much."""


def place_main(main: Tube, between: Between, tube: Tube, pose: Pose) -> PlacedMain:
    """A main that stands ``between`` two stations, as the end of ``tube`` at ``pose`` sees it."""
    shape, there = main.as_main, main.pose
    if isinstance(shape, Arc):
        shape = shape.met_at(there.inward(pose.origin), there.axes @ pose.axes[2])
    elif main.course is not None or between != EVERYWHERE:
        course = main.course or straight_course(there, main.length)
        run = Run(as_main(main.shape), course, between).met_at(
            pose.origin, pose.axes[2], half_width(as_branch(tube.shape), 0.0, tube.length))
        there = course.frames(np.array(run.foot(pose.origin, pose.axes[2])))
        shape = run.seen_from(there)
    return PlacedMain(shape, there.seen_from(pose))


def stand_between(mains: Sequence[Tube]) -> list[Between]:
    """The stations between which each main stands, infinite where an end is free."""
    return [_between(main, [other for other in mains if other is not main]) for main in mains]


def _between(main: Tube, others: Sequence[Tube]) -> Between:
    if isinstance(main.shape, Plate):
        return EVERYWHERE
    start, end = _ends(main)
    return (-max(_gaps(start, others), default=math.inf),
            main.length + max(_gaps(end, others), default=math.inf))


def _gaps(end: tuple[Floats, Floats], others: Sequence[Tube]) -> Iterator[float]:
    """How far, mm, an end has to go on to close up with each other that it meets in line."""
    place, way = end
    for other in others:
        if isinstance(other.shape, Plate):
            continue
        for there, back in _ends(other):
            apart = float(np.linalg.norm(there - place))
            turned = math.degrees(math.atan2(float(np.linalg.norm(np.cross(way, back))),
                                             -float(way @ back)))
            if apart <= CLASH_MM and turned <= IN_LINE_DEG:
                yield apart + math.radians(turned) * _across(other)


def _across(tube: Tube) -> float:
    """The least width of a tube, mm."""
    return as_main(tube.shape).across or 0.0


def _ends(tube: Tube) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
    """The start and the end of a tube: the point (3,), and the way (3,) out of the tube there."""
    ahead, on = tube.ways
    return (tube.start, -ahead), (tube.end, on)
