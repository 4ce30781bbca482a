"""Where a saw has to stand so that the seated branch ends up where the design puts it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from coper.arrays import Floats
from coper.joint.cluster import Cluster
from coper.joint.edge import merged
from coper.joint.fit.face import Bevelled, SawFace, pass_face
from coper.joint.fit.fit import Fit, end_grid, measured, touched
from coper.joint.fit.grid import Grid, break_clocks
from coper.joint.fit.passes import Pass
from coper.joint.fit.seat import Ends, SawnEnds
from coper.joint.joint import Joint
from coper.tolerances import SEATED_MM

Cut = TypeVar("Cut", bound=SawFace)


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """What every cut of one end has in common: the joint, its mains, and their breaks (k,)."""

    joint: Joint
    mounted: Cluster
    breaks: Floats

    def cut(self, passes: Sequence[Pass]) -> PlacedCut:
        """The cut of ``passes``, moved together along the branch until its slide is none."""
        by, face, fit = moved_home(pass_face(self.joint, passes), self.mounted, self.breaks)
        return PlacedCut(tuple(one.raised(by) for one in passes), face, fit)


@dataclass(frozen=True, slots=True, eq=False)
class PlacedCut:
    """The passes where they have to stand, the face that they leave, and its gap."""

    passes: tuple[Pass, ...]
    face: Bevelled
    fit: Fit


def place_on(joint: Joint) -> Place:
    """Where cuts for ``joint`` are placed.

    Raises
    ------
    JointError
        Where the branch misses the main.
    """
    mounted = joint.cluster()
    return Place(joint, mounted, break_clocks(mounted))


def moved_home(face: Cut, mounted: Cluster, breaks: Floats) -> tuple[float, Cut, Fit]:
    """A cut moved along the branch until its slide is none: how far up in mm, the cut, its gap.

    ``breaks`` (k,) in degrees are those of ``mounted``. A branch of one section meets the same all
    along; a cut through a taper meets other generators then, and has its breaks elsewhere.
    """
    ends = SawnEnds(face, mounted, np.zeros((1, 1, 1)))

    def again(slide: Floats) -> Grid:
        moved = ends.moved(slide[0])
        return end_grid(moved, merged(break_clocks(moved.face.cluster), breaks))

    cut_breaks = merged(break_clocks(face.cluster), breaks)
    touch = touched(ends, cut_breaks, again)
    by = float(touch.slide[0])
    if abs(by) <= SEATED_MM:
        return 0.0, face, measured(ends, touch, cut_breaks)
    moved = face.raised(np.array(by))
    if not mounted.is_prismatic:
        cut_breaks = merged(break_clocks(moved.cluster), breaks)
    home = Ends(moved, mounted, ends.turned)
    return by, moved, measured(home, replace(touch, slide=np.zeros(1)), cut_breaks)
