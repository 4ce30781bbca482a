"""A regrind's results as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from typing import Any

import numpy as np

from coper.joint.mountable import Mountable
from coper.joint.regrind.cause import Cause
from coper.joint.regrind.regrind import Regrind
from coper.telling.records.counted import recounted
from coper.telling.records.joint import numbers


def regrind_record(
    joint: Mountable, found: Regrind, limit: float | None = None
) -> dict[str, Any]:
    """The metal to take off and why: lists over the same clocks, ``None`` where open.

    Clocks and turns are counted as ``joint``, that of the end, counts them.
    """
    return recounted({
        "clock": found.clock.tolist(),
        "remove": numbers(found.remove),
        "inside": numbers(np.fmax(found.remove, found.inside(found.clock))),
        "largest": found.largest,
        "largest_clock": found.largest_clock,
        "seats_deeper": found.seats_deeper,
        "slide": found.slide,
        "by": found.by,
        "largest_gap": found.before,
        "largest_gap_after": found.after,
        "limit": limit,
        "ok": None if limit is None else found.within(limit),
        "own_gap": found.own,
        "touches": found.touches,
        "read_also": sorted(map(joint.counted, found.read_also)),
        "causes": [_cause_record(cause) for cause in found.counted_causes(joint)],
        "alike": [list(pair) for pair in found.alike],
        "spot_clock": found.spot,
        "reading_deviation": found.deviation,
    }, joint.counted, ("remove", "inside"), ("largest_clock", "spot_clock"))


def _cause_record(cause: Cause) -> dict[str, Any]:
    return {
        "cause": cause.cause,
        "amount": cause.amount,
        "unit": cause.unit,
        "explains": cause.explains,
        "low": cause.low,
        "high": cause.high,
    }
