"""Curves with gaps: the runs that are there, and those that are not."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from coper.arrays import Floats


def open_runs(values: Floats) -> list[tuple[int, int]]:
    """Index ranges [start, stop) of the ``nan`` in ``values`` (n,)."""
    return _runs(np.isnan(values))


def pieces(points: Floats) -> list[Floats]:
    """The runs of finite points (k, 2) in ``points`` (n, 2), mm, each at least two points long."""
    finite = np.isfinite(points).all(axis=-1)
    return [points[start:stop] for start, stop in _runs(finite) if stop - start > 1]


def _runs(chosen: ArrayLike) -> list[tuple[int, int]]:
    """Index ranges [start, stop) of what is ``chosen`` (n,)."""
    steps = np.diff(np.asarray(chosen, dtype=np.int8), prepend=0, append=0)
    starts, stops = np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)
    return list(zip(starts.tolist(), stops.tolist(), strict=True))
