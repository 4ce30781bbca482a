"""Where a saw has to stand so that the seated branch ends up where the design puts it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coper.arrays import Floats
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import Sawn, pass_face
from coper.joint.fit.fit import Fit, measured
from coper.joint.fit.passes import Pass
from coper.joint.fit.touch import Touch, break_clocks, largest_overlap
from coper.joint.joint import Joint
from coper.tolerances import SEATED_MM

SHIFTS = 60
"""Times that a cut through a taper is moved: each leaves at most a few tenths of what was left."""


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """What every cut of one end has in common: the joint, its mains, and their breaks (k,)."""

    joint: Joint
    mounted: Cluster
    breaks: Floats

    def cut(self, passes: Sequence[Pass]) -> PlacedCut:
        """The cut of ``passes``, moved together along the branch until its slide is none.

        A branch of one section meets the same all along, so that one move is all; a cut through a
        taper meets other generators then, and is moved again.
        """
        for _ in range(SHIFTS):
            face = pass_face(self.joint, passes)
            breaks = merged(break_clocks(face.cluster), self.breaks)
            overlap, clock, depth = largest_overlap(
                face, self.mounted, 0.0, merged(even_clocks(STEPS), breaks))
            if abs(overlap) > SEATED_MM:
                passes = [one.raised(overlap) for one in passes]
                if not self.mounted.is_prismatic:
                    continue
                face, overlap = pass_face(self.joint, passes), 0.0
            touch = Touch(overlap, clock, depth)
            return PlacedCut(tuple(passes), face,
                             measured(face, self.mounted, touch, breaks))
        raise JointError("the end cannot be pushed along its axis onto the main",
                         "check the angle and the taper", "branch")


@dataclass(frozen=True, slots=True, eq=False)
class PlacedCut:
    """The passes where they have to stand, the face that they leave, and its gap."""

    passes: tuple[Pass, ...]
    face: Sawn
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
