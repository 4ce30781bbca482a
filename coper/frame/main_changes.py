"""Where round a tube's end it goes from one of its mains to the next."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.frame.end import TubeEnd, counted
from coper.joint.cluster import OPEN

BESIDE_DEG = 0.01
"""So near to a kink, on either side, it is asked which main the end meets."""


@dataclass(frozen=True, slots=True)
class MainChange:
    """A kink: its clock as the tube counts, degrees, and the mains before and after it.

    ``before`` and ``after`` are labels, in the way that the tube's clock rises.
    """

    clock: float
    before: str
    after: str


def main_changes(end: TubeEnd) -> tuple[MainChange, ...]:
    """The kinks of an end between two of its mains, by rising clock; of one main there is none."""
    if end.cope is None or len(end.mains) < 2:
        return ()
    cluster = end.cope.cluster
    clock = np.sort(counted(end.which, end.cope.breaks.all))
    beside = counted(end.which, clock[:, None] + np.array((-BESIDE_DEG, BESIDE_DEG)))
    winner = cluster.winner(beside, cluster.entry(beside))
    return tuple(
        MainChange(at, end.mains[before].label, end.mains[after].label)
        for at, (before, after) in zip(clock.tolist(), winner.tolist(), strict=True)
        if OPEN not in (before, after) and before != after)
