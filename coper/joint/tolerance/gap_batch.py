"""The largest gaps of many joints at once, each with errors of its own."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Self

import numpy as np

from coper.arrays import Floats, Whole
from coper.errors import ShapeError
from coper.joint.fit.face import Face, template_face
from coper.joint.fit.grid import Grid, cut_grid
from coper.joint.fit.seat import Ends, first_touch, widest_gap
from coper.joint.fit.tabled import looked_up
from coper.joint.mountable import Mountable
from coper.joint.sides import counted_turn
from coper.joint.steps import Progress, silent
from coper.joint.template import Cut
from coper.tolerances import BENCH

TOGETHER = 64
"""Joints that are computed together: their arrays still fit a processor's own memory."""


@dataclass(frozen=True, slots=True, eq=False)
class Errors:
    """What is wrong with each of m joints, all (m,).

    Attributes
    ----------
    angle : float, degrees
        Added to the angle between the axes.
    turn : float, degrees
        By which the cope stands turned on its tube, clocks counted as the joint counts them: what
        was meant for clock c is at c + turn.
    offset : float, mm
        Added to the offset.
    diameter : float, mm
        By which the main is larger than the one that the end was cut for; see ``MainShape.grown``.
    length : float, mm
        By which the tube is too short (or, below 0, too long) between two fixed ends: it then
        stands so far from its first touch, at this end or at the other one. A tube that can be
        pushed home has none.
    """

    angle: Floats
    turn: Floats
    offset: Floats
    diameter: Floats
    length: Floats

    @classmethod
    def none(cls, joints: int) -> Self:
        """No errors."""
        return cls(*(np.zeros(joints) for _ in fields(cls)))

    def of(self, chosen: Whole) -> Errors:
        """The errors of some of the joints, their numbers (j,) given."""
        return Errors(*(getattr(self, item.name)[chosen] for item in fields(self)))


def gap_batch(joint: Mountable, cut: Cut) -> GapBatch:
    """The model of an end that was cut for ``joint``."""
    face, breaks = looked_up(template_face(joint.cluster(), cut))
    return GapBatch(joint, face, cut_grid(face, breaks, BENCH))


@dataclass(frozen=True, slots=True, eq=False)
class GapBatch:
    """An end with a ``face``, the joint that it was cut for, and the grid of its cut."""

    joint: Mountable
    face: Face
    grid: Grid

    def largest(self, errors: Errors, progress: Progress = silent) -> Floats:
        """The largest gap (m,) in mm on the outside of each joint, as it is put together.

        ``inf`` where it cannot be: no angle is left between the axes, nothing of the main is, or
        the end meets it nowhere.
        """
        largest = np.full(errors.angle.shape, np.inf)
        angle = self.joint.angle + errors.angle
        stands, done = (angle > 0) & (angle < 180), 0
        for diameter in np.unique(errors.diameter):
            chosen = np.flatnonzero(stands & (errors.diameter == diameter))
            try:
                joint = self.joint.grown(float(diameter))
            except ShapeError:
                continue
            for start in range(0, chosen.size, TOGETHER):
                some = chosen[start:start + TOGETHER]
                progress(f"joint {done + 1} of {largest.size}")
                done += some.size
                largest[some] = self._largest(joint, errors.of(some))
        return largest

    def _largest(self, joint: Mountable, errors: Errors) -> Floats:
        """The same (m,) of a few joints on mains of one size."""
        turn = counted_turn(joint, errors.turn)[:, None, None]
        ends = Ends(self.face, joint.clusters(errors.angle, errors.offset), turn)
        grid = self.grid.turned(turn)
        slide = first_touch(ends, grid, BENCH).slide
        largest = np.full(slide.shape, np.inf)
        home = np.flatnonzero(np.isfinite(slide))
        if home.size:
            away = slide[home] + np.abs(errors.length[home])
            gap, _ = widest_gap(ends.of(home).moved(away), grid.of(home).clock, grid.broken, BENCH)
            largest[home] = np.where(np.isnan(gap), np.inf, gap)
        return largest
