"""Labels round the points of a drawing, clear of each other and of its lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats
from coper.drawing.letters import ASCENT_CAPS, DESCENT_CAPS, text_width
from coper.drawing.marks import FINE, GAP_MM, NOTE_HEIGHT, Mark, Path, Text
from coper.pages.ink import Ink

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

_RINGS = np.repeat(RINGS_MM, WAYS)
_WAYS = np.tile(np.arange(WAYS) * (2 * np.pi / WAYS), len(RINGS_MM))
_AHEAD = np.stack((np.cos(_WAYS), np.sin(_WAYS)), axis=-1)
_OFF, _BACK = _RINGS[:, None] * _AHEAD, (_AHEAD - 1) / 2


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
        """How far off the label of a ``size`` (2,) had best stand, and its lower left (2,); mm.

        Whether anything is crossed is looked at from the cheapest place on, until no other can be
        cheaper: of hundreds of places one or two are.
        """
        lows = _places(at, size)
        highs = lows + size
        boxes = self._boxes_near(at, lows, highs)
        leaders = np.concatenate([np.zeros((0, 2)), *self.leaders])
        costs = self._costs(lows, highs, boxes)
        least, best = np.inf, 0
        for index in np.argsort(costs, kind="stable").tolist():
            if costs[index] >= least:
                break
            low, high = lows[index], highs[index]
            crossed = _holds_any(leaders, low, high) or (
                _RINGS[index] >= LEADER_MM and _leads_across(at, low, high, boxes))
            cost = float(costs[index]) + CROSSED_COST_MM * crossed
            if cost < least:
                least, best = cost, index
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

    def _costs(self, lows: Floats, highs: Floats, boxes: Floats) -> Floats:
        """What speaks against each box (c, 2), in mm that a label would go to be rid of it.

        Infinite where it would touch another label, one of ``boxes`` (m, 2, 2), stand too far off
        or leave the drawing; what a leader crosses is not in it.
        """
        meet = (lows[:, None] < boxes[:, 1]) & (highs[:, None] > boxes[:, 0])
        covered = np.asarray(meet.all(axis=-1)).any(axis=1)
        covered |= (lows < self.low).any(axis=1) | (highs > self.high).any(axis=1)
        covered |= self.furthest < _RINGS
        costs: Floats = np.where(
            covered, np.inf, _RINGS + INK_COST_MM * self.ink.under(lows, highs))
        return costs

    def _boxes_near(self, at: Floats, lows: Floats, highs: Floats) -> Floats:
        """What stands (m, 2, 2) where one of the boxes (c, 2) or its leader may come; mm."""
        boxes = np.stack(self.boxes) if self.boxes else np.zeros((0, 2, 2))
        low, high = np.minimum(lows.min(axis=0), at), np.maximum(highs.max(axis=0), at)
        near: Floats = boxes[((boxes[:, 0] < high) & (boxes[:, 1] > low)).all(axis=1)]
        return near


def _leads_across(at: Floats, low: Floats, high: Floats, boxes: Floats) -> bool:
    """Whether the leader from a label's box, (2,) and (2,), to ``at`` (2,) crosses a box; mm.

    Those of ``boxes`` (m, 2, 2) that hold ``at`` itself are not meant.
    """
    others = boxes[~((boxes[:, 0] <= at) & (boxes[:, 1] >= at)).all(axis=1)]
    steps = _leader(at, np.clip(at, low, high))[:, None]
    return bool(((steps > others[:, 0]) & (steps < others[:, 1])).all(axis=-1).any())


def _places(at: Floats, size: Floats) -> Floats:
    """Lower left corners (c, 2) of boxes of a ``size`` (2,) round a point ``at`` (2,); mm."""
    corners: Floats = at + _OFF + _BACK * size
    return corners


def _holds_any(points: Floats, low: Floats, high: Floats) -> bool:
    """Whether a box, (2,) and (2,), holds any of ``points`` (n, 2); mm."""
    return bool(((points > low) & (points < high)).all(axis=-1).any())


def _leader(at: Floats, near: Floats) -> Floats:
    """Points (LEADER_STEPS, 2) on the way from a point (2,) to another; mm."""
    points: Floats = at + np.linspace(0.0, 1.0, LEADER_STEPS)[:, None] * (near - at)
    return points
