"""The cope as a table of lengths from a straight line round the tube, for work without paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import JointError
from coper.joint.cope import Cope
from coper.joint.edge import even_clocks
from coper.joint.template import Cut, cut_line

STEP_CHOICES = (8, 12, 16, 24)
"""Equal steps round the tube that can be set off with a pair of dividers or a folded strip."""

LINE_ABOVE_MM = 10.0
"""The line stands at least this far up the tube from the short point, so that no cut meets it."""

LINE_ROUND_MM = 5.0
"""And on a whole multiple of this from the main's axis, so that it is easily set off."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Ordinates(OneLine):
    """Lengths to set off from a line drawn straight round the tube, towards the joint.

    Attributes
    ----------
    clock : (n,) float, degrees
    way : (n,) float, mm
        Distance from clock 0 round the outside of the tube, along that line.
    length : (n,) float, mm
        From the line to the cut; ``nan`` where open.
    line : float, mm
        Where the line stands: along from the main's axis, up the branch.
    cut : str
    """

    clock: Floats
    way: Floats
    length: Floats
    line: float
    cut: Cut


def make_ordinates(cope: Cope, cut: Cut, steps: int) -> Ordinates:
    """The table of ``cut`` at ``steps`` equal steps round the tube."""
    if steps not in STEP_CHOICES:
        raise JointError(f"{steps} steps round the tube", "give 8, 12, 16 or 24", "steps")
    clock = even_clocks(steps)
    along = cut_line(cope.cluster, clock, cut)
    furthest = float(np.nanmax(cut_line(cope.cluster, cope.search_clocks(), cut)))
    line = math.ceil((furthest + LINE_ABOVE_MM) / LINE_ROUND_MM) * LINE_ROUND_MM
    way = clock / 360 * cope.cluster.branch.girth(along=line)
    return Ordinates(clock, way, line - along, line, cut)
