"""How careful to be as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import numpy as np

from coper.joint.fit.limits import Limit
from coper.joint.mountable import Mountable
from coper.joint.tolerance.spread import Spread
from coper.joint.tolerance.tolerance import Sensitivity, Tolerance
from coper.telling.records.joint import numbers


def tolerance_record(
    joint: Mountable, found: Tolerance, spread: Spread, limit: Limit
) -> dict[str, Any]:
    """Everything but the inputs; ``None`` where no error reaches the limit or no joint is made."""
    return {
        "limit": limit.mm,
        "limit_source": limit.source,
        "ideal": found.ideal,
        "possible": found.possible,
        "things": {care.thing: _care_record(care) for care in found.cares},
        "spread": {
            "joints": spread.gaps.size,
            "seed": spread.seed,
            "scatter": asdict(spread.scatter),
            "percentiles": {str(share): gap for share, gap in spread.percentiles.items()},
            "good": spread.good,
            "saves": spread.saves,
        },
        "square_cut": {"largest": found.square.largest,
                       "clock": joint.counted(found.square.largest_clock),
                       "root": found.square.root},
    }


def _care_record(care: Sensitivity) -> dict[str, Any]:
    per_unit, most, looked = care.per_unit, care.most, care.looked
    return {
        "unit": care.unit,
        "gap_per_unit": {"plus": per_unit[0], "minus": per_unit[1]},
        "largest_error": {"plus": most[0], "minus": most[1]},
        "looked_up_to": {"plus": looked[0], "minus": looked[1]},
        "errors": care.errors.tolist(),
        "gaps": numbers(np.where(np.isinf(care.gaps), np.nan, care.gaps)),
    }
