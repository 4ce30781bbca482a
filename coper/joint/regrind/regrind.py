"""Where to grind next: the metal to take off, from the gap readings of a dry fit.

::

    existing edge  ----.        .----      as it stands on the main, first touch on the left
    main           _.--'-------'--._       what is between, moved until nothing is to be added,
                  touch      gap           is the metal to take off: most where it touches
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import JointError
from coper.joint.edge import STEPS, even_clocks, merged
from coper.joint.fit.face import Face, raised
from coper.joint.fit.passes import Pass
from coper.joint.joint import Joint
from coper.joint.mountable import Mountable
from coper.joint.regrind.advice import ENOUGH_MM, Levels, best_drop, levels
from coper.joint.regrind.cause import TURNED, Cause
from coper.joint.regrind.cut_end import end_face
from coper.joint.regrind.deviation import smooth
from coper.joint.regrind.edges import GRID, Edges
from coper.joint.regrind.gap_model import GapModel, gap_model
from coper.joint.regrind.misfit import Finding, find_misfit, limits
from coper.joint.regrind.read_also import read_also
from coper.joint.regrind.readings import GAUGE_MM, GapReadings, check_meets, make_readings
from coper.joint.regrind.uneven_fit import find_uneven
from coper.joint.template import CUTS, Cut
from coper.search import lowest_round
from coper.units import format_short

POINTS = 72
"""Even clocks of the result: every 5 degrees."""

FITS_MM = 3 * GAUGE_MM
"""Without a limit an end fits whose readings are no further above what its cut leaves: of eight
readings of a perfect end the largest is as much now and then."""
SURE_95 = 1.645
"""Standard deviations that a normal number stays below 95 times in 100."""
WORTH_MM = 2 * GAUGE_MM
"""Metal that closes the largest gap by less is not worth the length where no limit asks for it."""
NO_CONTACT_MM = 2 * GAUGE_MM
"""Where no reading is below this, the end touches at none of the clocks."""
LOOSE_MM = 3.0
"""Where all are above this, the end was not pushed home."""

ALIKE = 0.9
"""Two causes with such a correlation, either way, are hardly told apart."""

BY = ("causes", "readings")
"""What the metal may come from."""

MOUNTING = ((TURNED, "deg"), ("wrong angle", "deg"), ("wrong offset", "mm"),
            ("leaning round the main", "deg"), ("wrong place along the main", "mm"))
"""The errors of a mounting in the order of the gap's model: name and unit."""
SPOT = ("too little taken at one spot", "mm")


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
        The one that explains most first; none where none explains the readings.
    alike : tuple of (cause, cause)
        Pairs that the readings hardly tell apart.
    spot : float or None, degrees
        Where too little was taken.
    deviation : float, mm
        Standard deviation of a reading.
    level : float, mm
        How far past the skin, the end as it stands now, the metal stays.
    cut : str
        What the new edge is drawn as: ``square`` where that was the cut, else ``bevelled``.
    by : str
        ``causes`` where they explain the readings; ``readings`` where none does, so that the metal
        follows the readings themselves.
    before, after : float, mm
        The largest gap now, and after grinding, where readings show it.
    own : float, mm
        The largest gap at the readings' clocks that the cut leaves by itself.
    over : float, mm
        How far the worst reading is above what the cut leaves there.
    read_also : tuple of float, degrees
        Clocks that are to be read too, before any metal goes: a gap may go unseen there.
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
    level: float = field(repr=False)
    cut: Cut
    by: str
    before: float
    after: float
    own: float
    over: float
    read_also: tuple[float, ...] = ()

    @property
    def touches(self) -> bool:
        """Whether a reading shows where the end touches."""
        return bool(self.readings.gap.min() <= NO_CONTACT_MM)

    @property
    def fits(self) -> bool:
        """Whether there is nothing to take off."""
        return self.seats_deeper == 0

    def within(self, limit: float) -> bool:
        """Whether no reading is above ``limit`` mm."""
        return float(self.readings.gap.max()) <= limit

    def counted_causes(self, joint: Mountable) -> tuple[Cause, ...]:
        """The causes, a turn counted as ``joint``, that of the end, counts its clocks."""
        return tuple(cause.counted(joint) if cause.cause == TURNED else cause
                     for cause in self.causes)

    def at(self, clock: Floats) -> Floats:
        """The metal to take off (n,) in mm at clocks of the caller's own, ``nan`` where open."""
        return np.maximum(self.edges.excess(clock) - self.level, 0.0)

    def bevel_more(self, clock: Floats) -> Floats:
        """How much more (n,) in mm goes at the inside of the wall than outside, or ``nan``."""
        return self.inside(clock) - self.at(clock)

    def inside(self, clock: Floats) -> Floats:
        """The metal to take off at the inside of the wall (n,) in mm, ``nan`` where open."""
        straight = self.at(clock)
        if not self.edges.bevels:
            return straight
        return np.where(np.isnan(straight), np.nan,
                        np.fmax(straight, self.edges.through(clock) - self.level))


def regrind(
    joint: Joint, cut: str, pairs: Sequence[tuple[float, float]], limit: float | None = None,
    passes: Sequence[Pass] = (),
) -> Regrind:
    """The metal to take off an end that was cut for ``joint``; see :func:`regrind_face`.

    Parameters
    ----------
    joint
        What the end was cut for.
    cut
        ``bevelled``, ``square`` or ``saw``.
    pairs, limit
        As there.
    passes
        Of the saw, where one cut it.

    Raises
    ------
    JointError
        Where the readings or the cut cannot be used.
    """
    return regrind_face(joint, end_face(joint, cut, passes), cut, pairs, limit)


def regrind_face(
    joint: Mountable, face: Face, cut: str, pairs: Sequence[tuple[float, float]],
    limit: float | None = None,
) -> Regrind:
    """The metal to take off an end that has the cut ``face``.

    Parameters
    ----------
    joint
        What the end was cut for.
    face
        How it was cut.
    cut
        The same in a word: ``bevelled``, ``square`` or ``saw``.
    pairs : (clock, gap), degrees and mm
        GapReadings on the outside, clocks as the branch is mounted.
    limit : float or None, mm
        The largest gap that is still good.

    Raises
    ------
    JointError
        Where the readings cannot be used.
    """
    readings = make_readings(pairs)
    check_meets(joint, readings)
    model = gap_model(joint, face)
    largest_read, least_read = float(readings.gap.max()), float(readings.gap.min())
    if least_read > LOOSE_MM:
        raise JointError(
            f"the readings show contact nowhere: all are {format_short(least_read)} or more",
            "push it home and read where it touches too", "gaps")
    found = (find_uneven if joint.leans else find_misfit)(model, readings)
    edges = _edges(model, readings, found)
    known = levels(edges, readings.clock)
    own = model.gaps(np.zeros((1, model.mounting)), math.nan, readings.clock)[0]
    drop = _drop(known, readings, own, limit)
    grid = even_clocks(STEPS)
    most_clock, most = lowest_round(lambda clock: -edges.excess(clock), grid)
    level = (known.home if edges.bevels else -most) - drop
    least_clock, least = lowest_round(edges.excess, grid)
    clock = merged(even_clocks(POINTS), [least_clock], [most_clock])
    remove = np.maximum(edges.excess(clock) - level, 0.0)
    if drop and level <= least:
        remove[clock == least_clock] = 0.0
    by = BY[0] if found.explained else BY[1]
    causes = _causes(model, found) if found.explained else ()
    before, after = known.gaps(np.array((0.0, drop))).tolist()
    also = read_also(joint, readings.clock, between=not _good(readings, own, limit))
    return Regrind(
        clock, remove, float(np.nanmax(remove)), most_clock, drop, edges.slide + level, causes,
        _alike(model, found.correlation) if causes else (), found.spot if causes else None,
        found.deviation, readings, edges, level,
        CUTS[1] if cut == CUTS[1] else CUTS[0], by, max(largest_read, before), after,
        float(np.nanmax(own)), float(np.nanmax(readings.gap - own)),
        tuple(also.tolist()))


def _good(readings: GapReadings, own: Floats, limit: float | None) -> bool:
    """Whether no reading is above the limit; without one, above what the cut leaves."""
    if limit is not None:
        return float(readings.gap.max()) <= limit
    return float((readings.gap - own).max()) <= FITS_MM


def _drop(known: Levels, readings: GapReadings, own: Floats, limit: float | None) -> float:
    """How far in mm the end is to come down: 0 where it fits, or no grinding helps."""
    if _good(readings, own, limit):
        return 0.0
    largest = float(readings.gap.max())
    now = float(known.gaps(np.zeros(1))[0])
    sure = not known.edges.short.any()
    goal = limit / 2 if limit is not None else ENOUGH_MM if sure else GAUGE_MM
    drop = best_drop(known, goal, None if sure else max(largest, now))
    gain = now - float(known.gaps(np.array((drop,)))[0])
    return drop if gain >= (WORTH_MM if limit is None else GAUGE_MM) else 0.0


def _causes(model: GapModel, found: Finding) -> tuple[Cause, ...]:
    """What is wrong, the cause that explains most first."""
    bounds = np.append(limits(model), np.inf)
    causes = (_cause(*named, *numbers) for named, *numbers in zip(
        _names(model), found.values.tolist(), found.spread.tolist(), bounds.tolist(),
        found.explains.tolist(), strict=False))
    return tuple(sorted(causes, key=lambda cause: -cause.explains))


def _names(model: GapModel) -> tuple[tuple[str, str], ...]:
    """Name and unit of each cause, a spot last."""
    return (*MOUNTING[:model.mounting], SPOT)


def _edges(model: GapModel, readings: GapReadings, found: Finding) -> Edges:
    misfit = model.misfit(found.values, found.spot)
    slide = float(model.slides(found.values[None], misfit.spot)[0])
    edges = Edges(model.face, misfit, raised(misfit.errors.of(model.joint).cluster(), -slide),
                  slide, _reach(readings, found.spot), bevels=model.joint.leans)
    if found.uneven is not None:
        clock = even_clocks(GRID)
        return replace(edges, short=found.uneven.short(clock, found.left, found.size))
    free = max(readings.gap.size - found.values.size, 1)
    mean = float(np.square(found.left).sum()) / free
    if mean <= gauge_alone(free):
        return edges
    beyond = mean - GAUGE_MM**2
    deviation = smooth(readings.clock, found.left, math.sqrt(beyond), GAUGE_MM)
    return replace(edges, short=edges.shortened(deviation.at(even_clocks(GRID))))


def gauge_alone(free: int) -> float:
    """The mean square in mm^2 that gauges alone stay below 95 times in 100.

    Chi squared over its ``free`` degrees of freedom (Wilson and Hilferty, PNAS 17, 1931).
    """
    part = 2 / (9 * free)
    return GAUGE_MM**2 * (1 - part + SURE_95 * math.sqrt(part))**3


def _cause(
    name: str, unit: str, amount: float, spread: float, bound: float, explains: float
) -> Cause:
    told = spread < bound
    return Cause(name, amount, unit, explains, amount - spread if told else None,
                 amount + spread if told else None)


def _alike(model: GapModel, correlation: Floats) -> tuple[tuple[str, str], ...]:
    names = _names(model)
    first, second = np.nonzero(np.triu(np.abs(correlation) > ALIKE, 1))
    return tuple((names[one][0], names[other][0])
                 for one, other in zip(first.tolist(), second.tolist(), strict=True))


def _reach(readings: GapReadings, spot: float | None) -> tuple[float, float]:
    """Degrees from ``spot`` back and on to the neighbouring readings."""
    if spot is None:
        return (1.0, 1.0)
    away = np.sort((readings.clock - spot) % 360)
    return float(360 - away[-1]), float(away[1])
