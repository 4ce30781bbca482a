"""How careful to be: what gap each error leaves, and how large an error the joint forgives."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from coper.arrays import Floats, OneLine
from coper.joint.fit.face import Square
from coper.joint.fit.fit import seat
from coper.joint.mountable import Mountable
from coper.joint.steps import Progress, silent
from coper.joint.template import Cut
from coper.joint.tolerance.gap_batch import Errors, GapBatch, gap_batch
from coper.search import changes
from coper.tolerances import Narrowing

ErrorKind: TypeAlias = Literal["angle", "turn", "offset", "diameter", "length"]

UNITS: dict[ErrorKind, str] = {
    "angle": "deg", "turn": "deg", "offset": "mm", "diameter": "mm", "length": "mm"}
"""What a person can get wrong, and its unit; what each means stands in :class:`Errors`."""

ANGLE_DEG, TURN_DEG, LENGTH_MM = 10.0, 30.0, 50.0
OFFSET_SHARE, DIAMETER_SHARE = 0.25, 0.2
"""Errors that are looked at, either way; offset and diameter as shares of the branch's size and of
the main's narrowest width. Beyond them nobody works."""

SMALL = 0.1
"""The error, in degrees or mm, from which the gap per unit is taken: what a good bench can hold."""

STEPS = 32
"""Errors that are tried on the way out, closer to each other near none."""

HALVED = Narrowing(parts=2, rounds=16)
"""From the last good error to the first bad one: half a degree over 2**16 is 0.00001 degrees. Each
place is a joint to put together: no more of them than halving needs."""

CLOCKS = 72
"""Clocks of the square cut's root."""


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Sensitivity(OneLine):
    """How careful to be about one thing, all others right.

    Attributes
    ----------
    thing, unit : str
        A name of ``UNITS``, and its unit.
    per_unit : tuple of float, mm a degree or mm a mm
        What an error adds to the largest gap, for a small error above 0 and for one below.
    most : tuple of (float or None), in the unit
        The largest error above 0 and below (without its sign) up to which the largest gap stays
        under the limit; ``None`` where nothing up to ``looked`` reaches it.
    looked : tuple of float, in the unit
        How far was looked either way.
    errors : (n,) float, in the unit
        Growing, from below 0 to above it.
    gaps : (n,) float, mm
        The largest gap of each; ``inf`` where no joint can be made.
    """

    thing: ErrorKind
    unit: str
    per_unit: tuple[float, float]
    most: tuple[float | None, float | None]
    looked: tuple[float, float]
    errors: Floats
    gaps: Floats


@dataclass(frozen=True, slots=True)
class SquareCost:
    """What an ideal cut leaves open that stands square to the wall; a bevelled one leaves nothing.

    Attributes
    ----------
    largest, largest_clock : float, mm, degrees
        The largest gap on the outside, and where. Dressing the inside edge back until the outside
        closes, which makes a bevel, saves all of it.
    root : float, mm
        The largest of the smallest clearances through the wall: what is open right through.
    """

    largest: float
    largest_clock: float
    root: float


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Tolerance(OneLine):
    """How careful to be about an end, for one limit.

    Attributes
    ----------
    limit : float, mm
        The largest gap that is still good.
    ideal : float, mm
        The largest gap with nothing wrong.
    cares : tuple of Sensitivity
        One a thing, in the order of ``UNITS``.
    square : SquareCost
    """

    limit: float
    ideal: float
    cares: tuple[Sensitivity, ...]
    square: SquareCost

    @property
    def possible(self) -> bool:
        """Whether the ideal cut stays under the limit."""
        return self.ideal <= self.limit


def tolerance(joint: Mountable, cut: Cut, limit: float, progress: Progress = silent) -> Tolerance:
    """How careful to be about an end of ``joint``, for gaps up to ``limit`` mm."""
    model = gap_batch(joint, cut)
    reach = _reach(joint)
    out = np.linspace(0.0, 1.0, STEPS + 1) ** 2
    errors = reach[:, :, None] * out
    gaps = _gaps(model, errors, progress)
    ideal = float(gaps[0, 0, 0])
    progress("the largest error that stays under the limit")
    most = _most(model, errors, gaps, limit)
    small = _gaps(model, np.sign(reach)[:, :, None] * np.full(1, SMALL))[:, :, 0]
    cares = tuple(
        Sensitivity(thing, unit, _pair((small[k] - ideal) / SMALL),
             (most[k][0], most[k][1]), _pair(np.abs(reach[k])),
             np.concatenate((errors[k, 1, :0:-1], errors[k, 0])),
             np.concatenate((gaps[k, 1, :0:-1], gaps[k, 0])))
        for k, (thing, unit) in enumerate(UNITS.items()))
    return Tolerance(limit, ideal, cares, square_cost(joint))


def square_cost(joint: Mountable) -> SquareCost:
    """What an ideal square cut leaves open."""
    cluster = joint.cluster()
    fit = seat(Square(cluster), cluster, points=CLOCKS)
    return SquareCost(fit.largest, fit.largest_clock, float(np.nanmax(fit.root)))


def _pair(values: Floats) -> tuple[float, float]:
    above, below = values.tolist()
    return above, below


def _reach(joint: Mountable) -> Floats:
    """How far (things, 2) is looked, above 0 and below."""
    across = joint.branch.girth() / np.pi
    main = joint.main_across
    reach = np.array((ANGLE_DEG, TURN_DEG, OFFSET_SHARE * across,
                      DIAMETER_SHARE * (across if main is None else main), LENGTH_MM))
    return np.stack((reach, -reach), axis=-1)


def _gaps(model: GapBatch, errors: Floats, progress: Progress = silent) -> Floats:
    """The largest gap (things, 2, n) in mm of each error (things, 2, n), alone."""
    wrong = Errors.none(errors.size)
    for k, item in enumerate(fields(Errors)):
        alone = np.zeros_like(errors)
        alone[k] = errors[k]
        wrong = replace(wrong, **{item.name: alone.ravel()})
    return model.largest(wrong, progress).reshape(errors.shape)


def _most(
    model: GapBatch, errors: Floats, gaps: Floats, limit: float
) -> list[list[float | None]]:
    """The largest error [thing][above, below] whose gap is not above the limit, without sign.

    On the way out the first error whose gap is above it; then between that one and the last good
    one.
    """
    above = gaps > limit
    never = gaps.max(axis=-1) <= limit
    first = above.argmax(axis=-1)[..., None]
    high = np.take_along_axis(errors, first, axis=-1)[..., 0]
    low = np.take_along_axis(errors, np.maximum(first - 1, 0), axis=-1)[..., 0]

    def good(errors: Floats) -> NDArray[np.bool_]:
        return _gaps(model, errors) <= limit

    within: NDArray[np.bool_] = np.ones_like(never)
    low, _, _ = changes(good, low, high, within, ~within, HALVED)
    most = np.abs(low)
    return [[None if never[k, side] else float(most[k, side]) for side in range(2)]
            for k in range(len(most))]
