"""What crank and shoe sweep as they go round, and how the bicycle may lean on its pedals."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from coper.arrays import Floats
from coper.bicycle.clearance.drive import Pedal, ShoeHeel
from coper.frame.nearest import THINGS, Distance

CRANK_END_MM = 15.0
"""How far a crank goes on past the pedal's axle (common practice, no source)."""


@lru_cache(maxsize=THINGS)
def crank_off(crank: float, inside: float) -> Distance:
    """The distance from what both cranks sweep about the bracket.

    The crank is taken to be as far out all along as at its end, ``inside`` mm from the middle
    plane; a real one slopes in towards the bracket.
    """
    return _drum_off(0.0, crank + CRANK_END_MM, inside)


@lru_cache(maxsize=THINGS)
def heel_off(crank: float, heel: ShoeHeel) -> Distance:
    """The distance from what both heels sweep, the feet level.

    The heel goes round as the pedal does, ``back`` mm behind it; the rest of the shoe follows
    within that circle or ahead of it.
    """
    return _drum_off(-heel.back, crank, heel.out)


def _drum_off(x: float, radius: float, inside: float) -> Distance:
    """The distance from two drums about an axis along y at ``(x, 0)``, from ``inside`` mm outward.

    ::

              inside
         |----->|=======          y to the right: the drum goes on outward
         |      |======= radius
         |- - - - - - - - axis

    Derived: outside, the way to the rim is ``rho - radius`` and the way to the face is
    ``inside - |y|``, square to each other; inside, the nearer of the two counts.
    """

    def off(points: Floats) -> Floats:
        """Distances (...,) of ``points`` (..., 3), mm."""
        rim = np.hypot(points[..., 0] - x, points[..., 2]) - radius
        face = inside - np.abs(points[..., 1])
        out = np.hypot(np.maximum(rim, 0.0), np.maximum(face, 0.0))
        gap: Floats = out + np.minimum(np.maximum(rim, face), 0.0)
        return gap

    return off


def lean_angle(height: float, crank: float, pedal: Pedal, tyre: float) -> float:
    """How far in degrees the bicycle may lean until its lower pedal touches the ground.

    ::

                 |      . pedal's outer edge, ``out`` from the middle plane
              ( )|   .     and h above the ground
        ______(_)|_________ ground; it turns about the tyre's round section

    Derived: seen from behind, the ground then touches the tyre's section, a circle of radius r
    about ``(0, r)``, and passes through the pedal's edge at ``(out, h)``. From the circle's centre
    the edge is ``R = hypot(out, h - r)`` away, ``atan2(h - r, out)`` above the level, and the
    ground passes the centre at r: the lean is ``atan2(h - r, out) + asin(r / R)``. ``height`` is
    the bracket's above the ground, and ``h = height - crank - under``. ``tyre`` is the width of the
    tyre's section, abreast of the bracket (:func:`tyre_between`). 0 where the pedal reaches the
    ground upright.
    """
    section = tyre / 2
    above = height - crank - pedal.under - section
    if above <= -section:
        return 0.0
    reach = math.hypot(pedal.out, above)
    return math.degrees(math.atan2(above, pedal.out) + math.asin(min(section / reach, 1.0)))


def tyre_between(rear: float, front: float, share: float) -> float:
    """The width of tyre that lifts the bracket as two unlike ones do while the bicycle leans.

    ``share`` is how much of the way from the rear axle to the front one the bracket stands.
    Derived: leaning by L, a tyre of section r stands as high as a thin one whose radius is larger
    by ``r (1 / cos L - 1)``; between the two wheels the rise varies linearly.
    """
    return rear + share * (front - rear)
