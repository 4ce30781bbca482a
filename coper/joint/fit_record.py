"""A fit-up's results as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from typing import Any

from coper.joint.fit import Fit
from coper.joint.limits import Limit
from coper.joint.record import numbers, saw_record
from coper.joint.saw_kit import SawChoice, SawKit


def gap_record(fit: Fit, limit: Limit | None) -> dict[str, Any]:
    """The gap: lists over the same clocks, ``None`` where open."""
    return {
        "clock": fit.clock.tolist(),
        "outside": numbers(fit.outside),
        "root": numbers(fit.root),
        "largest": fit.largest,
        "largest_clock": fit.largest_clock,
        "contact_clock": fit.contact_clock,
        "contact_depth": fit.contact_depth,
        "slide": fit.slide,
        "limit": None if limit is None else limit.mm,
        "limit_source": None if limit is None else limit.source,
        "ok": None if limit is None else fit.within(limit.mm),
    }


def choice_record(choice: SawChoice, limit: float | None) -> dict[str, Any]:
    """One saw of a kit: its setting, and the gap that it leaves."""
    return {
        **saw_record(choice.setting),
        "long_point": {"clock": choice.long_point.clock, "along": choice.long_point.along},
        "largest_gap": choice.fit.largest,
        "largest_clock": choice.fit.largest_clock,
        "where": choice.where or None,
        "ok": choice.ok(limit),
    }


def kit_records(kit: SawKit, limit: float | None) -> list[dict[str, Any]]:
    """Every saw of a kit, best first; those that leave tube uncut last, without a gap."""
    rows = [choice_record(choice, limit) for choice in kit.choices]
    empty = dict.fromkeys(rows[0])
    return rows + [{**empty, "diameter": diameter, "covers": False, "ok": False}
                   for diameter in kit.too_small]
