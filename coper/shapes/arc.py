"""A bent tube as a branch meets it: at one place of its ring, or of a piece of that."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats, Whole
from coper.search import hollows, lowest
from coper.shapes.bent import Bent, Flags
from coper.shapes.lines import Lines
from coper.tolerances import FOLLOWED, TOUCH_MM

TRIED = 65
"""Places on the arc that are tried at first for the one nearest a line."""

FEET = replace(FOLLOWED, kept=2)
"""A line across the inside of a bend passes it in two places."""


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc of a ring as a main, the crown of the bend in its middle.

    The far side of the ring is not there, nor anything of it past the arc's ends: of the two places
    where a line may enter the ring, only those count that lie on the arc.

    A branch whose foot is known seats on that side of the ring. One from the inside of the bend
    therefore enters where it leaves that side, not where it would leave the other: its body comes
    through that one if the arc goes on so far (:meth:`again`).

    Attributes
    ----------
    bent : Bent
    half : float, radians
        From the crown to either end, seen from the centre of the bend.
    foot : float or None, radians
        From the crown to where the branch's axis meets it; ``None`` where what comes is no branch
        but any line from above.
    """

    bent: Bent
    half: float
    foot: float | None = None

    @property
    def kind(self) -> str:
        """The ring's own."""
        return self.bent.kind

    @property
    def patches(self) -> int:
        """The ring's own."""
        return self.bent.patches

    @property
    def across(self) -> float:
        """The tube's own, mm."""
        return self.bent.across

    def grown(self, by: float) -> Arc:
        """The same arc of a tube ``by`` mm larger in diameter."""
        return replace(self, bent=self.bent.grown(by))

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return self.bent.words()

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line first enters the arc, ``nan`` where it misses.

        One from the inside of the bend leaves its near side there. One from outside that passes
        the near side by may hit the far one, behind it, where no weld holds: it misses.
        """
        entries = self.bent.entries(lines)
        upper, lower = self._on_it(lines, entries.upper), self._on_it(lines, entries.lower)
        above = np.fmax(upper, lower)
        if self.foot is None:
            return above
        above = np.where(np.isnan(entries.behind), above, np.nan)
        first: Floats = np.where(self._inward(lines, self.foot), lower, above)
        return first

    def again(self, lines: Lines) -> Floats:
        """Along (...,) in mm where lines from the inside of the bend are on its far side.

        ``nan`` for those that never are, and for all that come from outside. A line that runs from
        the near side to the far one within the tube, or beyond half a ring, enters there first.
        """
        if self.foot is None:
            return np.full((), np.nan)
        entries = self.bent.entries(lines)
        past = self.station(lines.at(entries.deepest)) / self.bent.radius - self.foot
        beyond = np.cos(past) <= 0
        far = np.where(beyond, entries.lower, np.nan)
        far = np.where(np.isnan(entries.far), far, entries.far)
        again: Floats = np.where(self._inward(lines, self.foot), self._on_it(lines, far), np.nan)
        return again

    @staticmethod
    def _inward(lines: Lines, foot: float) -> Flags:
        """Whether lines (...,) run from the inside of the bend to ``foot``, radians."""
        way = lines.directions
        inward: Flags = way[..., 1] * math.cos(foot) + way[..., 2] * math.sin(foot) < 0
        return inward

    def _on_it(self, lines: Lines, entry: Floats) -> Floats:
        """Those of the ring's entries (...,) in mm that are on the arc, else ``nan``."""
        reach = self.half * self.bent.radius + TOUCH_MM
        return np.where(np.abs(self.station(lines.at(entry))) <= reach, entry, np.nan)

    def station(self, points: Floats) -> Floats:
        """Arc (...,) in mm along the centreline from the crown to ``points``."""
        station: Floats = self.bent.radius * np.arctan2(
            points[..., 2], points[..., 1] + self.bent.radius)
        return station

    def patch(self, points: Floats) -> Whole:
        """The ring's own: a number (...,) for each of ``points`` (..., 3)."""
        return self.bent.patch(points)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` to the ring's skin."""
        return self.bent.distance(points)

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3)."""
        return self.bent.normal(points)

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Arcs (...,) in mm along the centreline and round the tube, of points (..., 3)."""
        return self.bent.unrolled(points, side, lift)

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The same (...,) in mm, as closely as a sheet can follow."""
        return self.bent.flattened(points, side, lift)

    def tangent_near(self, point: Floats, direction: Floats) -> tuple[Floats, Floats]:
        """Where the centreline passes a line nearest, and its direction there, both (3,).

        The line goes through ``point`` along the unit ``direction``.
        """
        best = self._foot(point, direction)
        return (self._centreline(np.array(best)),
                np.array((0.0, -math.sin(best), math.cos(best))))

    def met_at(self, point: Floats, direction: Floats) -> Arc:
        """The same arc as a main of a branch that ends at ``point`` (3,) along ``direction``."""
        return replace(self, foot=self._foot(point, direction))

    def _foot(self, point: Floats, direction: Floats) -> float:
        """Radians from the crown to where the centreline passes a line nearest.

        A line across the inside of the bend passes it twice: the one nearer to ``point`` counts.
        """
        def across(angle: Floats) -> Floats:
            off = self._centreline(angle) - point
            square = off - (off @ direction)[..., None] * direction
            passing: Floats = np.sqrt((square * square).sum(axis=-1))
            return passing

        tried = np.linspace(-self.half, self.half, TRIED)
        passing = across(tried)
        feet, = hollows(passing[None], (False,), FEET)
        feet = feet[0, passing[feet[0]] <= passing.min() + self.bent.diameter]
        away = np.linalg.norm(self._centreline(tried[feet]) - point, axis=-1)
        middle = int(np.clip(feet[away.argmin()], 1, TRIED - 2))
        angle, = lowest(across, tried[middle - 1:middle + 2], FOLLOWED).first
        return float(angle[0])

    def _centreline(self, angle: Floats) -> Floats:
        """Points (..., 3) in mm at angles (...,) in radians from the crown."""
        radius = self.bent.radius
        return np.stack((np.zeros_like(angle), radius * (np.cos(angle) - 1),
                         radius * np.sin(angle)), axis=-1)
