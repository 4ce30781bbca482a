"""Numbers that look as if they were in another unit than the job says."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from coper.bicycle.plausible import USUAL_MM
from coper.job.axis import half_where_it_begins
from coper.job.doubt import UNIT_WORDS, UnitsDoubt
from coper.job.faults import dotted
from coper.job.job import TubePlan
from coper.job.schema import TomlTable, as_written
from coper.shapes.words import tube_words
from coper.units import INCHES, parse_length

STUBBY: Final = 4.0
"""A frame has some tube that is longer than so many times its width."""

LEAST_MM: Final = 4.0
"""Nothing thinner is coped: a tube whose inches were taken for mm is, up to one of 4 in."""

WIDEST_MM: Final = 300.0
"""No frame is made of a wider tube."""

LONGEST_MM: Final = 7500.0
"""No tube is sold longer: 24 ft."""

FEWEST: Final = 3
"""Tubes that are all stubby before that is odd: a frame of two may be."""

def units_doubt(table: TomlTable, plans: Sequence[TubePlan], unit: str) -> UnitsDoubt | None:
    """The doubt, if there is one, about a job whose bare numbers are in ``unit``.

    Parameters
    ----------
    table
        The job as it is written.
    plans
        Those of its tubes that could be read.
    unit
        That of its bare numbers.
    """
    bare = dict(_bare_lengths(table.get("bicycle")))
    for likely in UNIT_WORDS:
        odd = [key for key, number in bare.items()
               if not _usual(key, number, unit) and _usual(key, number, likely)]
        alone = likely != "cm" and len(odd) == len(bare) == 1  # else its point has slipped
        if (len(odd) > 1 or alone) and 2 * len(odd) > len(bare):
            return UnitsDoubt(likely, tuple(
                f"bicycle.{key} = {as_written(bare[key])}" for key in odd))
    return _odd_tubes(plans, unit)


def _bare_lengths(bicycle: object) -> Iterator[tuple[str, float]]:
    """The bicycle's lengths without a unit of their own; one that may be next to 0 says nothing."""
    for key, value in bicycle.items() if isinstance(bicycle, dict) else ():
        if isinstance(value, int | float) and USUAL_MM.get(key, (0.0, 0.0))[0] > 0:
            yield key, value


def _usual(key: str, number: float, unit: str) -> bool:
    low, high = USUAL_MM[key]
    return low <= number * parse_length("1", unit) <= high


def _odd_tubes(plans: Sequence[TubePlan], unit: str) -> UnitsDoubt | None:
    """Tubes that are too thin or too short to be a frame, or one that is too wide or too long."""
    sizes = {plan.name: (2 * half_where_it_begins(plan.shape), _length(plan)) for plan in plans}
    round_ones = {name: size for name, size in sizes.items() if size[0] > 0}
    if unit in INCHES:
        likely, odd = "mm", [name for name, (across, length) in round_ones.items()
                             if across > WIDEST_MM or length > LONGEST_MM]
    else:
        likely, odd = "in", _small(round_ones)
    if not odd:
        return None
    one, by_name = parse_length("1", unit), {plan.name: plan for plan in plans}
    return UnitsDoubt(likely, tuple(
        f"tubes.{dotted(name)} ({tube_words(by_name[name].shape)}, {sizes[name][1] / one:.4g} long)"
        for name in odd))


def _small(sizes: dict[str, tuple[float, float]]) -> list[str]:
    """The tubes that are too thin, where most are; or all, where none is longer than stubby."""
    thin = [name for name, (across, _) in sizes.items() if across < LEAST_MM]
    if len(thin) > 1 and 2 * len(thin) > len(sizes):
        return thin
    stubby = [name for name, (across, length) in sizes.items() if length < STUBBY * across]
    return stubby if len(stubby) == len(sizes) >= FEWEST else []


def _length(plan: TubePlan) -> float:
    """From point to point, by its corners, mm."""
    return sum(math.dist(*pair) for pair in pairwise((plan.start.at, *plan.corners, plan.end.at)))
