"""The largest gap that a job's shop still calls good."""

from __future__ import annotations

from coper.job.faults import dotted
from coper.job.job import Shop
from coper.job.schema import Checker, TomlTable
from coper.joint.fit.limits import OF_JOB, Limit, own_limit, process_limit, process_word


def shop_limit(shop: Shop) -> Limit | None:
    """The limit that the shop works to: its own gap limit, or that of its process."""
    if shop.gap_limit is not None:
        return Limit(shop.gap_limit, shop.process or "", OF_JOB)
    return None if shop.process is None else process_limit(shop.process, shop.limits)


def read_limits(check: Checker, shop: TomlTable) -> dict[str, float]:
    """The shop's own limits in mm, by process."""
    limits: dict[str, float] = {}
    for name, value in check.table("shop.limits", shop.get("limits", {})).items():
        path, word = f"shop.limits.{dotted(name)}", process_word(name)
        check.name(path, name)
        if word in limits:
            check.faults.add(path, f"{word} has a limit already", "give it one")
        elif (limit := _limit(check, path, value)) is not None:
            limits[word] = limit
    return limits


def read_gap_limit(check: Checker, shop: TomlTable) -> float | None:
    """The gap limit in mm that stands above every process."""
    return _limit(check, "shop.gap_limit", shop["gap_limit"]) if "gap_limit" in shop else None


def _limit(check: Checker, path: str, value: object) -> float | None:
    mm = check.size(path, value)
    if mm is None or check.faults.caught(path, lambda: own_limit(mm)) is None:
        return None
    return mm


def read_process(check: Checker, shop: TomlTable, own: dict[str, float]) -> str | None:
    """The process's name, one of the table or of the shop's ``own``."""
    if "process" not in shop:
        return None
    name = check.text("shop.process", shop["process"], '"tig"')
    if name is None:
        return None
    known = check.faults.caught("shop.process", lambda: process_limit(name, own))
    return None if known is None else known.process
