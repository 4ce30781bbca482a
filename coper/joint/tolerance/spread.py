"""What gaps to expect of many joints: all errors at once, drawn as they scatter."""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass, fields, replace

import numpy as np

from coper.arrays import Floats, OneLine
from coper.errors import JointError
from coper.joint.mountable import Mountable
from coper.joint.steps import Progress, silent
from coper.joint.template import Cut
from coper.joint.tolerance.gap_batch import Errors, GapBatch, gap_batch
from coper.joint.tolerance.tolerance import UNITS
from coper.units import plain

JOINTS = 10_000
SEED = 1
SHARES = (50, 90, 95, 99)
"""The percentages of the joints whose largest gap is stated."""

JUDGED = 95
"""The share whose gap says what one thing costs."""

COMPARED = 2_000
"""The first joints of the same draw, put together again with one thing right at a time."""

SIZES_A_SCATTER = 10
"""Diameters are drawn in steps of a tenth of their scatter, so that joints on mains of one size
are computed together; that changes the scatter by a 2400th (a step's own variance is step^2 / 12).
"""

MOST_SCATTER = {"deg": 30.0, "mm": 25.0}
"""A larger standard deviation is a slip of the decimal point."""


@dataclass(frozen=True, slots=True)
class Scatter:
    """Standard deviations of the errors; what each means stands in :class:`Errors`.

    The default values are common practice, no source: an angle set with
    a protractor, a template wrapped by eye, an offset scribed and clamped, a tube as it comes from
    the rack. No length is wrong: a tube that is pushed home has none; one that is held between two
    ends has.

    Attributes
    ----------
    angle, turn : float, degrees
    offset, diameter, length : float, mm
    """

    angle: float = 0.5
    turn: float = 1.0
    offset: float = 0.3
    diameter: float = 0.05
    length: float = 0.0

    def __post_init__(self) -> None:
        for thing, unit in UNITS.items():
            value = getattr(self, thing)
            if not (math.isfinite(value) and 0 <= value <= MOST_SCATTER[unit]):
                raise JointError(
                    f"{plain(value)} {unit} is no scatter",
                    f"give a standard deviation of 0 to {MOST_SCATTER[unit]:g} {unit}",
                    f"{thing} scatter")


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Spread(OneLine):
    """The largest gaps of many joints.

    Attributes
    ----------
    scatter : Scatter
    seed : int
        What their errors were drawn from.
    gaps : (m,) float, mm
        The largest gap of each joint.
    percentiles : dict of int to float, mm
        So many of 100 joints have no larger gap.
    good : float
        Share of the joints whose gap is not above the limit.
    saves : dict of str to float
        By what share the gap that ``JUDGED`` of 100 joints stay under would fall if this alone
        were always right; below 0 where it would grow. Shares do not add up to 1: the largest gap
        is no sum. Things without scatter are left out.
    """

    scatter: Scatter
    seed: int
    gaps: Floats
    percentiles: dict[int, float]
    good: float
    saves: dict[str, float]


def spread(
    joint: Mountable, cut: Cut, limit: float, scatter: Scatter, seed: int = SEED,
    joints: int = JOINTS, progress: Progress = silent,
) -> Spread:
    """The largest gaps of ``joints`` joints whose errors are drawn from normal distributions.

    Raises
    ------
    JointError
        Where the scatter is so wide that some of the joints cannot be made at all.
    """
    model = gap_batch(joint, cut)
    errors = drawn(scatter, seed, joints)
    gaps = model.largest(errors, progress)
    lost = int(np.isinf(gaps).sum())
    if lost:
        raise JointError(f"{lost} of {joints} joints that scatter so cannot be put together",
                         "make the scatters smaller", "scatter")
    gaps_under = np.percentile(gaps, SHARES).tolist()
    return Spread(scatter, seed, gaps, dict(zip(SHARES, gaps_under, strict=True)),
                  float((gaps <= limit).mean()), _saves(model, errors, gaps, progress))


def drawn(scatter: Scatter, seed: int, joints: int) -> Errors:
    """The errors of ``joints`` joints; the same seed gives the same, in proportion to the scatter.

    Raises
    ------
    JointError
        Where the seed is below 0.
    """
    if seed < 0:
        raise JointError(f"{seed} is no seed", "give a whole number from 0 up", "seed")
    normal = np.random.default_rng(seed).standard_normal((len(UNITS), joints))
    size = list(UNITS).index("diameter")
    normal[size] = np.round(normal[size] * SIZES_A_SCATTER) / SIZES_A_SCATTER
    return Errors(*(value * row for value, row in zip(asdict(scatter).values(), normal,
                                                      strict=True)))


def _saves(
    model: GapBatch, errors: Errors, gaps: Floats, progress: Progress
) -> dict[str, float]:
    """See :class:`Spread`."""
    first = errors.of(np.arange(min(COMPARED, gaps.size)))
    now = float(np.percentile(gaps[:COMPARED], JUDGED))
    right = np.zeros_like(first.angle)
    saves = {}
    for item in fields(Errors):
        if getattr(first, item.name).any():
            other = model.largest(replace(first, **{item.name: right}), progress)
            saves[item.name] = 1 - float(np.percentile(other, JUDGED)) / now if now > 0 else 0.0
    return saves
