"""Every small number of the geometry: its unit, and why it has this size."""

from __future__ import annotations

from typing import Final

TOUCH_MM: Final = 1e-9
"""A generator that passes this close to a main's skin touches it.

A thousandth of the accuracy that coper promises (1e-6 mm), and a thousand times the rounding of a
coordinate of a metre; without it the tangent line of two equal tubes is lost to rounding.
"""

BREAK_INSIDE_DEG: Final = 1e-9
"""How far inside a stretch its two end points are taken.

At the very end the generator is tangent and the along has an infinite slope, so that one more
rounding would make it nan; this far inside, the point of the curve is good to 1e-8 mm and lies
within 0.001 mm of the tip.
"""

BREAK_STEPS: Final = 48
"""Halvings that find a break between two clocks: half a degree over 2**48 is 2e-15 degrees."""

DRAWN_SAG_MM: Final = 0.004
"""How far a drawn chord may leave the curve: a fifth of the 0.02 mm that paper promises."""

DRAWN_ROUNDS: Final = 14
"""Halvings of a chord at most: half a degree over 2**14, far below what a printer resolves."""

EVEN_MM: Final = 1e-7
"""Two places along the tube that differ by less count as even when the furthest is looked for.

A tenth of the accuracy that coper promises, and more than the rounding of a root that grazes.
"""

PARALLEL_DEG: Final = 1e-6
"""Two axes that differ by less have no angle to cope: a metre of tube strays by 2e-5 mm."""

SQUARE_DEG: Final = 1e-9
"""An angle this near 90 is square: what the rounding of two points makes of it."""

OVERRUN_MM: Final = 1e-3
"""A footprint that runs past its main by less is flush: no bench sees it."""

SEATED_MM: Final = 1e-8
"""An end is pushed home when what is left to push is less: a hundredth of the promised 1e-6 mm."""

SAME_CLOCK_DEG: Final = 1e-11
"""Clocks this close are one: a hundred times the rounding of a clock, and a hundredth of
``BREAK_INSIDE_DEG``, so that the end of a stretch is never taken for its neighbour."""

NEVER_MM: Final = 1e5
"""A generator that enters a main only this far off never meets it: no tube is 100 m long.

The flank of a taper may run all but along a main, and would meet it beyond the horizon.
"""
