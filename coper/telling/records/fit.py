"""A fit-up's results as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from coper.joint.fit.fit import Fit
from coper.joint.fit.limits import Limit
from coper.joint.saw.kit import SawChoice, SawKit
from coper.joint.saw.setting import SawSetting
from coper.telling.records.counted import recounted
from coper.telling.records.joint import numbers, point_record, saw_record, sides_record


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


def end_gap_record(
    fit: Fit, limit: Limit | None, count: Callable[[float], float]
) -> dict[str, Any]:
    """The gap of a tube's end, its clocks those that ``count`` gives: the tube's."""
    return recounted(gap_record(fit, limit), count, ("outside", "root"),
                     ("largest_clock", "contact_clock"))


def choice_record(choice: SawChoice, limit: float | None) -> dict[str, Any]:
    """One way to cut with a saw of a kit: the setting of each pass, and the gap that is left.

    What a pass has of its own stands for the first of two; the depth is that of the deepest.
    """
    return {
        **saw_record(choice.setting),
        "depth_needed": choice.depth_needed,
        "depth_ok": choice.depth_ok,
        "sides": sides_record(choice.sides),
        "covers": not choice.slivers,
        "slivers": [list(one) for one in choice.slivers],
        "aside": choice.aside,
        "level_gap": choice.level,
        "passes": [_pass_record(one) for one in choice.passes],
        "long_point": point_record(choice.long_point),
        "largest_gap": choice.fit.largest,
        "largest_clock": choice.fit.largest_clock,
        "where": choice.where or None,
        "ok": choice.ok(limit),
    }


def _pass_record(setting: SawSetting) -> dict[str, Any]:
    return {
        "offset": setting.offset,
        "centre_beyond_long_point": setting.centre_beyond_long_point,
        "depth_needed": setting.depth_needed,
        "depth_ok": setting.depth_ok,
        "covers": setting.covers,
    }


def kit_records(kit: SawKit, limit: float | None) -> list[dict[str, Any]]:
    """Every choice of a kit, best first; saws that leave tube uncut last, without a gap."""
    rows = [choice_record(choice, limit) for choice in kit.choices]
    empty = dict.fromkeys(rows[0])
    return rows + [{**empty, "diameter": diameter, "covers": False, "passes": [], "ok": False}
                   for diameter in kit.too_small]
