"""An end as one looks into it, heel up: a ring with the clocks that are read, and what to grind.

::

            heel 270
          .---^---.       the band outside the ring is as thick as what comes off there,
     180 (         ) 0    many times enlarged
          '-------'
            toe 90
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.marks import CUT, LINE, PLAIN_HEIGHT, THIN, Group, Hatch, Mark, Path, Text
from coper.drawing.page import Page

RING_MM: Final = 24.0
BORE_MM: Final = 21.0
"""Radii of the ring: a picture of clocks, whatever the tube's section is."""

BAND_MM: Final = 9.0
"""The thickest of the band of what comes off."""

WORDS_MM: Final = RING_MM + BAND_MM + 6.0
"""Radius that clocks are written at."""

EDGE_MM: Final = 2.0
STEPS: Final = 120


@dataclass(frozen=True, slots=True)
class Seen:
    """How an end is looked at: the clock that is up, and which way clocks run on the picture."""

    heel: float
    clockwise: bool

    def ways(self, clocks: Floats) -> Floats:
        """Unit directions (n, 2) on the picture of clocks (n,) in degrees."""
        turn = np.radians(90.0 + (self.heel - clocks) * (1.0 if self.clockwise else -1.0))
        return np.stack((np.cos(turn), np.sin(turn)), axis=-1)


def ring_picture(
    seen: Seen, clocks: Sequence[tuple[float, str]],
    remove: tuple[Sequence[float], Sequence[float]] | None = None,
) -> Page:
    """The picture as a page as large as it is.

    Parameters
    ----------
    seen
        How one looks at it.
    clocks
        Every clock that is read, in degrees, with its words.
    remove
        Clocks in degrees, and what is to come off at each, mm; ``None`` before any reading.
    """
    marks = tuple(_marks(seen, clocks, remove))
    box = bounds(marks)
    return Page("A", box.right - box.left + 2 * EDGE_MM, box.top - box.bottom + 2 * EDGE_MM,
                moved(marks, EDGE_MM - box.left, EDGE_MM - box.bottom))


def _marks(
    seen: Seen, clocks: Sequence[tuple[float, str]],
    remove: tuple[Sequence[float], Sequence[float]] | None,
) -> Iterator[Mark]:
    around = np.linspace(0.0, 360.0, STEPS, endpoint=False)
    ring = seen.ways(around)
    yield Group((Path(RING_MM * ring, LINE, closed=True), Path(BORE_MM * ring, THIN, closed=True)),
                "ring")
    if remove is not None:
        yield from _band(seen, around, *(np.asarray(one, dtype=np.float64) for one in remove))
    for (clock, words), way in zip(clocks, seen.ways(np.array([at for at, _ in clocks])),
                                   strict=True):
        yield Path(np.stack((BORE_MM * way, (RING_MM + 2.0) * way)), THIN)
        x, y = (WORDS_MM * way).tolist()
        yield Text((x, y - PLAIN_HEIGHT / 2), words, PLAIN_HEIGHT, "middle",
                   name=f"clock-{clock:g}")


def _band(seen: Seen, around: Floats, at: Floats, remove: Floats) -> Iterator[Mark]:
    """What comes off, outside the ring; nothing where nothing does."""
    known = ~np.isnan(remove)
    if not known.any() or not (most := float(remove[known].max())) > 0:
        return
    thick = np.interp(around, at[known], remove[known], period=360.0) / most * BAND_MM
    outer = (RING_MM + thick)[:, None] * seen.ways(around)
    inner = RING_MM * seen.ways(around)
    yield Group((Hatch((outer, inner), 1.5, pen=THIN), Path(outer, CUT, closed=True)), "grind")
