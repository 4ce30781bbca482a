r"""The strip of paper that wraps round a tube, as a value: what is cut where, and how it lies flat.

::

    high  +---------------------+---+
          |  ruler, names       |   |  glue tab, behind the seam
          |       __            |   |
          |  ____/  \___  cut   |   |  body above a lower cut (of the tube's start),
          |  ///////////  waste |   |  below an upper one (of its end)
    low   +---------------------+---+
        seam                seam + 360
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.drawing.marks import GAP_MM, NOTE_HEIGHT
from coper.joint.cope import Cope
from coper.joint.joint import Joint
from coper.joint.sides import side_names
from coper.joint.template import Template
from coper.pages.lettered import OWN_PAGE
from coper.shapes.shape import BranchShape
from coper.telling.words.joint import origin_words, title
from coper.units import plain

BODY_MM = 42.0
"""Paper beyond the short point: room for the names of the lines, and for a hand to hold it."""

DATUM_MM = 32.5
"""From the short point to the datum at the least: room for the names of the lines."""

DATUM_ROW_MM = NOTE_HEIGHT + 2.0
"""The datum's words stand between it and the ruler."""

BEYOND_DATUM_MM = DATUM_ROW_MM + 9.5
"""Paper beyond the datum: its words, and the ruler."""

WASTE_MM = 15.0
"""Paper beyond the long point: room to mark the waste and to cut along."""

LEVEL_NEAR_MM = 40.0
"""A level such as the main's axis is drawn where it lies no further than this off the cut."""

BEYOND_LEVEL_MM = 11.0
"""Paper beyond a level: its name, and the word that marks the waste."""

THIS_SIDE = "THIS SIDE OUT"
"""Stands on every tab, after what the strip is and its page."""

ROW_MM = NOTE_HEIGHT + GAP_MM
"""A row of words."""

ARC_STEPS = 72
"""Chords that a line round the tube is drawn with: on a cone it is an arc."""


@dataclass(frozen=True, slots=True, eq=False)
class CutEdge:
    """One cut line.

    Attributes
    ----------
    clock, along : (n,) float, degrees and mm
        From the seam once round, in the tube's own clock and along; ``nan`` where open.
    body : int
        1 where the tube's body lies at larger along, -1 where it lies at smaller.
    """

    clock: Floats
    along: Floats
    body: int

    def at(self, clock: float) -> float:
        """Along of the cut at ``clock``; ``nan`` where it is open there."""
        inside = self.clock[0] + (clock - self.clock[0]) % 360
        return float(np.interp(inside, self.clock, self.along))

    @property
    def long(self) -> float:
        """Along of the long point, the furthest from the body."""
        return float(self.body * np.nanmin(self.body * self.along))

    @property
    def short(self) -> float:
        """Along of the short point, the furthest into the body."""
        return float(self.body * np.nanmax(self.body * self.along))

    def clear_at(self, clock: float) -> float:
        """Along from which the paper is the tube's body at ``clock``, open stretches included."""
        cut = self.at(clock)
        return self.short if np.isnan(cut) else cut


@dataclass(frozen=True, slots=True, eq=False)
class Datum:
    """A line round the tube to lay a tape on, a round distance from another place of the tube.

    Attributes
    ----------
    along, distance : float, mm
    to : str
        To which place it is.
    """

    along: float
    distance: float
    to: str


@dataclass(frozen=True, slots=True, eq=False)
class Strip:
    """All that the drawing of one template needs.

    Attributes
    ----------
    branch : shape
    lift : float, mm
        How far the paper's middle lies outside the tube.
    edges : one or two cuts, the lower first
    sides : mapping of clock (degrees) to the name of a line along the tube
    level, level_name : float (mm) and str
        A place along the tube that lengths are measured from, and its name.
    blank_ends : tuple of float, mm
        Along of the blank's end at each cut, as it is cut from stock; empty where not known.
    title : str
        What the strip is for, in a few words.
    tab : tuple of str
        What stands on its tab, the most needed first.
    left_on : float, mm
        What is left on at the blank's ends for dressing.
    datum : Datum or None
        Where a tape is laid on to check the length.
    blank : str
        What the tube is on the cut list; empty where that is not known.
    glue, low, high : float, mm
        Width of the tab behind the seam; along of the strip's two ends.
    """

    branch: BranchShape
    lift: float
    edges: tuple[CutEdge, ...]
    sides: dict[float, str]
    level: float
    level_name: str
    title: str
    glue: float
    low: float
    high: float
    blank_ends: tuple[float, ...] = ()
    tab: tuple[str, ...] = ("",)
    left_on: float = 0.0
    datum: Datum | None = None
    blank: str = ""

    @property
    def seam(self) -> float:
        """Clock of the seam, degrees."""
        return float(self.edges[0].clock[0])

    @property
    def width(self) -> float:
        """Once round, mm."""
        return self.branch.girth(self.lift)

    def place(self, clock: Floats | float, along: Floats | float) -> Floats:
        """Flat points (n, 2) in mm; the clock is taken to lie between the seam and once round."""
        return self.place_past(self.seam + (np.asarray(clock) - self.seam) % 360, along)

    def place_past(self, clock: Floats | float, along: Floats | float) -> Floats:
        """Flat points (n, 2) in mm for clocks that run on past the seam."""
        clocks, alongs = np.broadcast_arrays(np.atleast_1d(clock), np.atleast_1d(along))
        return np.stack(self.branch.flat(clocks, alongs, self.lift), axis=-1)

    def round_at(self, along: float, start: float | None = None, stop: float | None = None
                 ) -> Floats:
        """The line (n, 2), mm, straight round the tube at ``along``, between two clocks."""
        first = self.seam if start is None else start
        last = self.seam + 360 if stop is None else stop
        return self.place_past(np.linspace(first, last, ARC_STEPS + 1), along)

    def up(self, clock: float, along: float) -> Floats:
        """The unit direction (2,) that leads up the tube on the flat paper, at one place."""
        low, high = self.place(clock, np.array((along - 0.5, along + 0.5)))
        way: Floats = (high - low) / np.hypot(*(high - low))
        return way


def joint_strip(
    joint: Joint, cope: Cope, template: Template, glue: float
) -> Strip:
    """The strip of one joint; ``glue`` in mm."""
    edge = CutEdge(template.clock, template.along, 1)
    low = edge.long - WASTE_MM
    if low < 0 or edge.long <= LEVEL_NEAR_MM:
        low = min(low, -BEYOND_LEVEL_MM)
    sides = {clock: f"{plain(round(clock, 1))} {name}" for clock, name in side_names(joint).items()}
    name = title(joint)
    low, high = _inside(cope.cluster.branch, low, edge.short + BODY_MM)
    return Strip(cope.cluster.branch, template.paper / 2, (edge,), sides, 0.0, origin_words(joint),
                 name, glue, low, high, tab=(name, THIS_SIDE, OWN_PAGE))


def edge_strip(
    branch: BranchShape, lift: float, edge: CutEdge, sides: dict[float, str], title: str,
    glue: float, outer: float, said: Sequence[str] = (),
) -> Strip:
    """The strip of one cut that no length counts from; its paper begins at ``outer``, mm.

    ``said`` is what its tab says besides.
    """
    near = edge.short + edge.body * BODY_MM
    low, high = _inside(branch, *sorted((outer, near)))
    return Strip(branch, lift, (edge,), sides, outer, "", title, glue, low, high,
                 tab=(title, THIS_SIDE, *said, OWN_PAGE))


def end_strip(
    whole: Strip, edge: CutEdge, level: float, level_name: str, blank_end: float,
    names: Sequence[str], datum: Datum | None = None,
) -> Strip:
    """The strip of one end of a long tube, sharing the clock lines of ``whole``.

    ``names`` are what it is and what it seats on.
    """
    near = edge.short + edge.body * BODY_MM
    if datum is not None:
        near = datum.along + edge.body * BEYOND_DATUM_MM
    low, high = _inside(whole.branch, *sorted((_waste_end(edge, level, blank_end), near)))
    return Strip(whole.branch, whole.lift, (edge,), whole.sides, level, level_name,
                 whole.title, whole.glue, low, high, (blank_end,),
                 (names[0], THIS_SIDE, OWN_PAGE, *names[1:]), whole.left_on, datum)


def whole_strip(
    branch: BranchShape, lift: float, edges: tuple[CutEdge, CutEdge], sides: dict[float, str],
    words: str, glue: float, blank_ends: tuple[float, float], names: Sequence[str], left_on: float,
) -> Strip:
    """One strip for a whole tube with a cut at each end; its start point is the level.

    ``names`` are what it is and what it seats on.
    """
    low = min(_waste_end(edges[0], 0.0, blank_ends[0]), -BEYOND_LEVEL_MM)
    low, high = _inside(branch, low, _waste_end(edges[1], blank_ends[1]))
    return Strip(branch, lift, edges, sides, 0.0, "start point", words, glue, low, high,
                 blank_ends, (names[0], THIS_SIDE, OWN_PAGE, *names[1:]), left_on)


def _waste_end(edge: CutEdge, *levels: float) -> float:
    """Along in mm where the paper ends beyond the cut: past every level that lies near it."""
    more = ROW_MM if len(levels) > 1 and beside(*levels) else 0.0
    near = [edge.body * level - BEYOND_LEVEL_MM - more for level in levels
            if abs(edge.long - level) <= LEVEL_NEAR_MM]
    return edge.body * min([edge.body * edge.long - WASTE_MM, *near])


def beside(one: float, other: float) -> bool:
    """Whether the words under two levels, along in mm, would meet."""
    return abs(one - other) < ROW_MM


def _inside(branch: BranchShape, low: float, high: float) -> tuple[float, float]:
    """The strip's two ends kept where the tube exists: a taper ends where it closes."""
    least, most = (float(end) for end in branch.extent())
    return max(low, least + CLOSING_MM), min(high, most - CLOSING_MM)


CLOSING_MM = 2.0
"""A strip stops this far from where its taper closes: a point of paper cannot be wrapped."""
