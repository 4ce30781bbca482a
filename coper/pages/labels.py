"""Labels round the points of a drawing, clear of each other and of its lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats
from coper.drawing.letters import ASCENT_CAPS, DESCENT_CAPS, text_width
from coper.drawing.marks import FINE, GAP_MM, NOTE_HEIGHT, Mark, Path, Text
from coper.pages.ink import Ink

Marked = NDArray[np.bool_]

WAYS = 16
"""Directions round a point in which its label is tried."""

LEADER_STEPS = 16
"""Points at which a leader is tried against labels."""

RINGS_MM = (2.5, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0, 55.0)
"""Distances from a point at which its label is tried, the nearest first."""

LEADER_MM = 4.0
"""A label further off than this gets a line to its point."""

INK_COST_MM = 1.5
"""A label goes this much further off to be rid of a mm of line under it."""

CROSSED_COST_MM = 100.0
"""What it costs a label whose leader crosses another label or leader."""

TRIED = (2, 3, 4)
"""So many rings are tried at a time: a label further off than another costs is not looked at."""

_RINGS = np.repeat(RINGS_MM, WAYS)
_WAYS = np.tile(np.arange(WAYS) * (2 * np.pi / WAYS), len(RINGS_MM))


@dataclass(slots=True)
class PointLabels:
    """Labels placed one after the other round their points, clear of what stands there already.

    Attributes
    ----------
    low, high : (2,) float, mm
        The corner points of what labels have to lie in.
    ink : Ink
        The lines that a label had better not cover.
    boxes : list of (2, 2) float, mm
        Lower left and upper right corner of what no label may touch.
    leaders : list of (LEADER_STEPS, 2) float, mm
        Points of the lines from labels to their points.
    furthest : float, mm
        No label stands further off its point.
    """

    low: Floats
    high: Floats
    ink: Ink
    boxes: list[Floats] = field(default_factory=list)
    leaders: list[Floats] = field(default_factory=list)
    furthest: float = RINGS_MM[-1]

    def keep_clear(self, at: Floats, reach: float) -> None:
        """Let no label come nearer to a point (2,) than ``reach`` mm."""
        self.boxes.append(np.stack((at - reach, at + reach)))

    def place(self, at: Floats, choices: Sequence[str]) -> tuple[Mark, ...]:
        """The label of the point ``at`` (2,), mm, with its leader where it stands off.

        Of ``choices``, the fullest words first, the first that find a clear place are taken;
        nothing where none does.
        """
        for words in choices:
            size = np.array((text_width(words, NOTE_HEIGHT),
                             (ASCENT_CAPS + DESCENT_CAPS) * NOTE_HEIGHT))
            found = self._cheapest(at, size)
            if found is not None:
                ring, low = found
                return self._put(at, words, ring, low, low + size)
        return ()

    def _cheapest(self, at: Floats, size: Floats) -> tuple[float, Floats] | None:
        """How far off the label of a ``size`` (2,) had best stand, and its lower left (2,); mm."""
        lows = _places(at, size)
        boxes = self._boxes_near(at, lows, lows + size)
        least, best, first = np.inf, 0, 0
        for rings in TRIED:
            some = slice(first, first + rings * WAYS)
            if least <= _RINGS[first] or self.furthest < _RINGS[first]:
                break
            costs = self._costs(at, lows[some], lows[some] + size, _RINGS[some], boxes)
            if costs.min() < least:
                least, best = float(costs.min()), first + int(costs.argmin())
            first = some.stop
        return (float(_RINGS[best]), lows[best]) if np.isfinite(least) else None

    def _put(
        self, at: Floats, words: str, ring: float, low: Floats, high: Floats
    ) -> tuple[Mark, ...]:
        """The label in its box from ``low`` (2,) to ``high`` (2,), led to ``at`` (2,); mm."""
        self.boxes.append(np.stack((low - GAP_MM / 2, high + GAP_MM / 2)))
        place = float(low[0]), float(low[1]) + DESCENT_CAPS * NOTE_HEIGHT
        text = Text(place, words, NOTE_HEIGHT)
        if ring < LEADER_MM:
            return (text,)
        near = np.clip(at, low - GAP_MM / 2, high + GAP_MM / 2)
        self.leaders.append(_leader(at, near))
        return Path(np.stack((at, near)), FINE), text

    def _costs(
        self, at: Floats, lows: Floats, highs: Floats, rings: Floats, boxes: Floats
    ) -> Floats:
        """What speaks against each box (c, 2), in mm that a label would go to be rid of it.

        Infinite where it would touch another label, one of ``boxes`` (m, 2, 2), or leave the
        drawing. ``rings`` (c,) is how far off each is; mm.
        """
        meet = (lows[:, None] < boxes[:, 1]) & (highs[:, None] > boxes[:, 0])
        covered = np.asarray(meet.all(axis=-1)).any(axis=1)
        covered |= (lows < self.low).any(axis=1) | (highs > self.high).any(axis=1)
        covered |= rings > self.furthest
        free = np.flatnonzero(~covered)
        lows, highs, rings = lows[free], highs[free], rings[free]
        leaders = np.concatenate([np.zeros((0, 2)), *self.leaders])
        crossed, led = _held(leaders, lows, highs) > 0, rings >= LEADER_MM
        crossed[led] |= _leads_across(at, lows[led], highs[led], boxes)
        costs: Floats = np.full(covered.size, np.inf)
        costs[free] = rings + INK_COST_MM * self.ink.under(lows, highs) + CROSSED_COST_MM * crossed
        return costs

    def _boxes_near(self, at: Floats, lows: Floats, highs: Floats) -> Floats:
        """What stands (m, 2, 2) where one of the boxes (c, 2) or its leader may come; mm."""
        boxes = np.stack(self.boxes) if self.boxes else np.zeros((0, 2, 2))
        low, high = np.minimum(lows.min(axis=0), at), np.maximum(highs.max(axis=0), at)
        near: Floats = boxes[((boxes[:, 0] < high) & (boxes[:, 1] > low)).all(axis=1)]
        return near


def _leads_across(at: Floats, lows: Floats, highs: Floats, boxes: Floats) -> Marked:
    """Whether (c,) the leader of each label's box (c, 2) crosses one of ``boxes`` (m, 2, 2); mm.

    ``at`` (2,) is the point that all of them lead to.
    """
    others = boxes[~((boxes[:, 0] <= at) & (boxes[:, 1] >= at)).all(axis=1)]
    steps = _leader(at, np.clip(at, lows, highs))[:, :, None]
    held = np.asarray(((steps > others[:, 0]) & (steps < others[:, 1])).all(axis=-1))
    return np.asarray(held.any(axis=(0, 2)))


def _places(at: Floats, size: Floats) -> Floats:
    """Lower left corners (c, 2) of boxes of a ``size`` (2,) round a point ``at`` (2,); mm."""
    ahead = np.stack((np.cos(_WAYS), np.sin(_WAYS)), axis=-1)
    corners: Floats = at + _RINGS[:, None] * ahead + (ahead - 1) / 2 * size
    return corners


def _held(points: Floats, lows: Floats, highs: Floats) -> Floats:
    """How many (c,) of ``points`` (n, 2) each box (c, 2) holds; mm."""
    inside = ((points > lows[:, None]) & (points < highs[:, None])).all(axis=-1)
    return np.asarray(inside.sum(axis=1), dtype=np.float64)


def _leader(at: Floats, near: Floats) -> Floats:
    """Points (LEADER_STEPS, ..., 2) on the way from a point (2,) to others (..., 2); mm."""
    share = np.linspace(0.0, 1.0, LEADER_STEPS).reshape(-1, *(1,) * np.ndim(near))
    points: Floats = at + share * (near - at)
    return points
