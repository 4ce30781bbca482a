"""Where to grind next: the metal to take off, from the gap readings of a dry fit.

::

    existing edge  ----.        .----      as it stands on the main, first touch on the left
    main           _.--'-------'--._       what is between, moved until nothing is to be added,
                  touch      gap           is the metal to take off: most where it touches
"""

from __future__ import annotations

from collections.abc import Sequence
import math
from dataclasses import dataclass, field, replace

import numpy as np

from coper.arrays import Floats
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import raised
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.regrind.advice import ENOUGH_MM, best_drop, levels
from coper.joint.regrind.cut_end import end_face
from coper.joint.regrind.deviation import smooth
from coper.joint.regrind.edges import GRID, Edges
from coper.joint.regrind.gap_model import GapModel, gap_model
from coper.joint.regrind.misfit import Finding, find_misfit, limits
from coper.joint.regrind.readings import GAUGE_MM, GapReadings, check_meets, make_readings
from coper.search import lowest_round

POINTS = 72
"""Even clocks of the result: every 5 degrees."""

import os
FITS_MM = float(os.environ.get('FITS','.15'))
CLOSED_MM = float(os.environ.get('GOAL','.05'))
ALIKE = 0.95
"""Two causes with such a correlation, either way, are hardly told apart."""

CAUSES = (("turned on the tube", "deg"), ("wrong angle", "deg"), ("wrong offset", "mm"),
          ("too little taken at one spot", "mm"))


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong.

    Attributes
    ----------
    cause, unit : str
        Its name, and the unit of its size: ``deg`` or ``mm``.
    amount : float
        Its size: how far the cope stands turned, the mounted angle less the design's, the mounted
        offset less the design's, or how far a spot stands proud along the tube.
    low, high : float or None
        Its 95 % interval; ``None`` where the readings do not tell it.
    explains : float
        Share of the readings that it explains.
    """

    cause: str
    amount: float
    unit: str
    explains: float
    low: float | None
    high: float | None

    @property
    def sure(self) -> bool:
        """Whether its interval leaves 0 out."""
        return self.low is not None and self.high is not None and self.low * self.high > 0


@dataclass(frozen=True, slots=True, eq=False)
class Regrind:
    """The metal to take off, and why.

    Attributes
    ----------
    clock : (n,) float, degrees
        Even clocks as mounted, and where least and most is to be taken.
    remove : (n,) float, mm
        Along the tube, never below 0 and 0 somewhere; ``nan`` where open.
    largest, largest_clock : float, mm, degrees
    seats_deeper : float, mm
        How much further the branch then goes towards the main.
    slide : float, mm
        How far away from the main it then sits from where the design puts it.
    causes : tuple of Cause
        The one that explains most first.
    alike : tuple of (cause, cause)
        Pairs that the readings hardly tell apart.
    spot : float or None, degrees
        Where too little was taken.
    deviation : float, mm
        Standard deviation of a reading.
    """

    clock: Floats
    remove: Floats
    largest: float
    largest_clock: float
    seats_deeper: float
    slide: float
    causes: tuple[Cause, ...]
    alike: tuple[tuple[str, str], ...]
    spot: float | None
    deviation: float
    readings: GapReadings = field(repr=False)
    edges: Edges = field(repr=False)
    level: float
    by: str

    def at(self, clock: Floats) -> Floats:
        """The metal to take off (n,) in mm at clocks of the caller's own, ``nan`` where open."""
        return np.maximum(self.edges.excess(clock) - self.level, 0.0)


def regrind(
    joint: Joint, cut: str, pairs: Sequence[tuple[float, float]], limit: float | None = None,
    passes: Sequence[Pass] = (),
) -> Regrind:
    """The metal to take off an end that was cut for ``joint``.

    Parameters
    ----------
    joint
        What the end was cut for.
    cut
        ``bevelled``, ``square`` or ``saw``.
    pairs : (clock, gap), degrees and mm
        GapReadings on the outside, clocks as the branch is mounted.
    limit : float or None, mm
        The largest gap that is still good.
    passes
        Of the saw, where one cut it.

    Raises
    ------
    JointError
        Where the readings cannot be used.
    """
    readings = make_readings(pairs)
    check_meets(joint, readings)
    model = gap_model(joint, end_face(joint, cut, passes))
    found = find_misfit(model, readings)
    edges = _edges(model, readings, found)
    largest = float(readings.gap.max())
    goal = CLOSED_MM if limit is None else limit / 2
    known = levels(edges, readings.clock)
    import os
    more = os.environ.get("MORE","1.0,1.0").split(",")
    most = max(largest, float(known.gaps(np.zeros(1))[0])) * float(more[int(not edges.short.any())])
    if limit is None and not edges.short.any(): goal = ENOUGH_MM
    drop = best_drop(known, goal, most)
    own = model.gaps(np.zeros((1, 3)), math.nan, readings.clock)[0]
    if limit is None:
        if float((readings.gap - own).max()) <= FITS_MM or (known.gaps(np.array([0.0,drop]))@[1,-1]) < float(os.environ.get("GAIN",".1")):
            drop = 0.0
    elif largest <= limit:
        drop = 0.0
    grid = even_clocks(STEPS)
    most_clock, most = lowest_round(lambda clock: -edges.excess(clock), grid)
    level = -most - drop
    clock = merged(even_clocks(POINTS), [most_clock])
    remove = np.maximum(edges.excess(clock) - level, 0.0)
    bounds = np.append(limits(model), np.inf)
    causes = tuple(
        _cause(*named, *numbers) for named, *numbers in
        zip(CAUSES, found.values.tolist(), found.spread.tolist(), bounds.tolist(),
            found.explains.tolist(), strict=False))
    return Regrind(
        clock, remove, drop, most_clock, drop, edges.slide + level,
        tuple(sorted(causes, key=lambda cause: -cause.explains)),
        _alike(found.correlation), found.spot, found.deviation, readings, edges, level,
        "causes" if found.explained else "readings")


def _edges(model: GapModel, readings: GapReadings, found: Finding) -> Edges:
    misfit = found.misfit
    slide = float(model.slides(found.values[None], misfit.spot)[0])
    edges = Edges(model.face, misfit, raised(misfit.errors.of(model.joint).cluster(), -slide),
                  slide, _reach(readings, found.spot))
    import os
    free = max(readings.gap.size - found.values.size, 1)
    size = float(np.square(found.left).sum()) / free - GAUGE_MM**2 * float(os.environ.get("NOISE","1"))
    if size <= 0:
        return edges
    size = math.sqrt(size)
    deviation = smooth(readings.clock, found.left, size, GAUGE_MM)
    return replace(edges, short=edges.shortened(deviation.at(even_clocks(GRID))))


def _cause(
    name: str, unit: str, amount: float, spread: float, bound: float, explains: float
) -> Cause:
    told = spread < bound
    return Cause(name, amount, unit, explains, amount - spread if told else None,
                 amount + spread if told else None)


def _alike(correlation: Floats) -> tuple[tuple[str, str], ...]:
    first, second = np.nonzero(np.triu(np.abs(correlation) > ALIKE, 1))
    return tuple((CAUSES[one][0], CAUSES[other][0])
                 for one, other in zip(first.tolist(), second.tolist(), strict=True))


def _reach(readings: GapReadings, spot: float | None) -> tuple[float, float]:
    """Degrees from ``spot`` back and on to the neighbouring readings."""
    if spot is None:
        return (1.0, 1.0)
    away = np.sort((readings.clock - spot) % 360)
    return float(360 - away[-1]), float(away[1])
