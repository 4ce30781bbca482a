"""The flat curve that a template carries."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.wall import square_station
from coper.units import format_size

Cut = Literal["bevelled", "square"]
CUTS: tuple[Cut, ...] = ("bevelled", "square")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Template(OneLine):
    """A cut line on flat paper.

    Attributes
    ----------
    clock : (n,) float, degrees
    along : (n,) float, mm
        The cut line on the tube, ``nan`` where open.
    x, y : (n,) float, mm
        The cut line on flat paper: distance from clock 0, and place along the tube.
    width : float, mm
        The paper's length once round the tube.
    cut : str
        ``bevelled`` or ``square``.
    paper : float, mm
        Thickness of the paper; its middle lies half of it outside the tube.
    stretch : float, mm
        The worst by which the flat paper differs from the surface; 0 where it unrolls exactly.
    """

    clock: Floats
    along: Floats
    x: Floats
    y: Floats
    width: float
    cut: Cut
    paper: float
    stretch: float


def cut_line(cluster: Cluster, clock: Floats, cut: Cut) -> Floats:
    """Along (n,) in mm of the line to cut on the outside, ``nan`` where open."""
    if cut == "square":
        return square_station(cluster, clock)
    return cluster.entry(clock)


def make_template(cluster: Cluster, clock: Floats, cut: Cut, paper: float) -> Template:
    """The template of ``cut`` at ``clock`` (n,) degrees, on paper of ``paper`` mm."""
    if cut not in CUTS:
        raise JointError(f"{cut!r} is no cut", "known are bevelled, square", "cut")
    if not 0 <= paper <= MOST_PAPER_MM:
        raise JointError(
            f"paper {format_size(paper)} thick", f"give 0 to {format_size(MOST_PAPER_MM)}",
            "paper thickness")
    branch, lift = cluster.branch, paper / 2
    along = cut_line(cluster, clock, cut)
    x, y = branch.flat(clock, along, lift)
    known = along[~np.isnan(along)]
    stretch = branch.stretch(float(known.min()), float(known.max())) if known.size else 0.0
    return Template(clock, along, x, y, branch.girth(lift), cut, paper, stretch)


PAPER_MM = 0.1
"""Office paper: 80 g/m2 is about a tenth of a mm thick (common practice, no source)."""

GLUE_MM = 10.0
"""Width of the tab under a template's seam."""

MOST_PAPER_MM = 3.0
"""Thickest sheet that is still wrapped by hand: a gasket sheet of 3 mm, common practice."""
