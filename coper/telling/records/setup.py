"""Set-ups as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from coper.bench.setup import EndSetup, SawCut
from coper.joint.fit.fit import Fit
from coper.joint.fit.limits import Limit
from coper.telling.records.fit import end_gap_record
from coper.telling.records.joint import saw_record


def setup_record(setup: EndSetup, limit: Limit | None) -> dict[str, Any]:
    """What an end's record gains: the ``gap`` of its own cut, and its ``setup``."""
    return {
        "gap": _gap(setup, setup.own, limit),
        "setup": {
            "cuts": [_cut_record(setup, cut) for cut in setup.cuts],
            "gap": None if setup.sawn is None else _gap(setup, setup.sawn, limit),
            "chop": None if setup.chop is None else {
                **asdict(setup.chop), "fence": setup.clock(setup.chop.fence),
                "up": setup.clock(setup.chop.up)},
        },
    }


def _gap(setup: EndSetup, fit: Fit, limit: Limit | None) -> dict[str, Any]:
    """The gap, its clocks those of the tube."""
    return end_gap_record(fit, limit, setup.clock)


def _cut_record(setup: EndSetup, cut: SawCut) -> dict[str, Any]:
    return {
        "on": cut.seat.name,
        "side": cut.seat.side,
        "share": cut.share,
        "angle": cut.seat.angle,
        "offset": cut.seat.offset,
        "heel_clock": cut.seat.heel_clock,
        "turn": cut.turn,
        "passes": [{**saw_record(one.setting), "beyond_blank": one.beyond_blank,
                    "sideways": one.sideways} for one in cut.passes],
        "slivers": [list(one) for one in setup.stretches(cut.slivers)],
        "reason": cut.reason or None,
    }
