"""Where to grind next: the metal to take off, from the gap readings of a dry fit.

::

    existing edge  ----.        .----      as it stands on the main, first touch on the left
    main           _.--'-------'--._       what is between, moved until nothing is to be added,
                  touch      gap           is the metal to take off: most where it touches
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import JointError
from coper.joint.cluster import Cluster
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import Face
from coper.joint.fit.seat import Ends
from coper.joint.joint import Joint
from coper.joint.regrind.gap_model import Misfit, gap_model
from coper.joint.regrind.misfit import find_misfit, limits
from coper.joint.regrind.readings import GapReadings, check_meets, make_readings
from coper.joint.template import CUTS, Cut
from coper.joint.wall import least_through
from coper.search import lowest_round

POINTS = 72
"""Even clocks of the result: every 5 degrees."""

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


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Regrind(OneLine):
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

    def at(self, clock: Floats) -> Floats:
        """The metal to take off (n,) in mm at clocks of the caller's own, ``nan`` where open."""
        return np.maximum(self.edges.excess(clock) - self.slide, 0.0)


@dataclass(frozen=True, slots=True)
class Edges:
    """The existing end, and how it stands on its mains.

    Attributes
    ----------
    face, misfit
        The cut as it was meant, and all that is wrong with it.
    mounted
        The branch and its mains as they are put together.
    cut : str
        ``bevelled`` or ``square``.
    reach : (before, after), degrees
        From a proud spot to where it is level with the rest: the neighbouring readings.
    """

    face: Face
    misfit: Misfit
    mounted: Cluster
    cut: Cut
    reach: tuple[float, float]

    def existing(self, clock: Floats) -> Floats:
        """Along (n,) in mm of the existing outer edge, at clocks as mounted."""
        along = self.face.station(clock - self.misfit.errors.clock, np.zeros(1))
        return along - self.misfit.proud * self._bump(clock)

    def excess(self, clock: Floats) -> Floats:
        """How far (n,) in mm the existing end reaches past the main's skin, anywhere in the wall.

        Metal goes straight down through the wall, so that what is furthest in counts.
        """
        turned = self.misfit.errors.clock
        ends = Ends(self.face, self.mounted, np.full((1, 1, 1), turned))
        room = least_through(lambda depth: ends.room(clock[:, None], depth)[0],
                             self.mounted.wall())
        return -room + self.misfit.proud * self._bump(clock)

    def _bump(self, clock: Floats) -> Floats:
        """1 at the spot, 0 from its neighbours on (n,)."""
        away = (clock - self.misfit.spot + 180) % 360 - 180
        bump: Floats = np.nan_to_num(1 - np.maximum(-away / self.reach[0], away / self.reach[1]))
        return bump.clip(min=0.0)


def regrind(joint: Joint, cut: str, pairs: Sequence[tuple[float, float]]) -> Regrind:
    """The metal to take off an end that was cut for ``joint``.

    Parameters
    ----------
    joint
        What the end was cut for.
    cut
        ``bevelled`` or ``square``.
    pairs : (clock, gap), degrees and mm
        GapReadings on the outside, clocks as the branch is mounted.

    Raises
    ------
    JointError
        Where the readings cannot be used.
    """
    known = next((name for name in CUTS if name == cut), None)
    if known is None:
        raise JointError(f"{cut!r} is no cut", "known are bevelled, square", "cut")
    readings = make_readings(pairs)
    check_meets(joint, readings)
    model = gap_model(joint, known)
    found = find_misfit(model, readings)
    mounted = found.misfit.errors.of(joint).cluster()
    edges = Edges(model.face, found.misfit, mounted, known, _reach(readings, found.spot))
    grid = even_clocks(STEPS)
    least_clock, least = lowest_round(edges.excess, grid)
    most_clock, most = lowest_round(lambda clock: -edges.excess(clock), grid)
    clock = merged(even_clocks(POINTS), [least_clock], [most_clock])
    remove = np.maximum(edges.excess(clock) - least, 0.0)
    spot = found.misfit.spot
    slide = float(model.slides(found.values[None], spot)[0])
    bounds = np.append(limits(model), np.inf)
    causes = tuple(
        _cause(*named, *numbers) for named, *numbers in
        zip(CAUSES, found.values.tolist(), found.spread.tolist(), bounds.tolist(),
            found.explains.tolist(), strict=False))
    return Regrind(
        clock, np.where(clock == least_clock, 0.0, remove), -most - least, most_clock,
        max(slide - least, 0.0), least,
        tuple(sorted(causes, key=lambda cause: -cause.explains)),
        _alike(found.correlation), found.spot, found.deviation, readings, edges)


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
