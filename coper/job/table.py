"""How a job's frame is laid on the table."""

from __future__ import annotations

from typing import cast

from coper.bench.layout.table import VIEWS, Lies
from coper.job.job import TablePlan
from coper.job.schema import Checker, TomlTable

TABLE_KEYS = ("lies", "origin", "plane")


def read_table(check: Checker, job: TomlTable) -> TablePlan:
    """What ``[table]`` says; what cannot be is noted."""
    table = check.table("table", job.get("table", {}), TABLE_KEYS)
    lies = check.choice("table.lies", table["lies"], tuple(VIEWS)) if "lies" in table else None
    plane = check.length("table.plane", table["plane"]) if "plane" in table else None
    return TablePlan(cast("Lies", lies or "on its right side"), _origin(check, table), plane)


def _origin(check: Checker, table: TomlTable) -> tuple[float, float] | None:
    """From the left end and from the front edge, mm."""
    if "origin" not in table:
        return None
    found = check.list_of("table.origin", table["origin"], check.length, "[900, 300]")
    match found:
        case (left, edge):
            return left, edge
    if isinstance(table["origin"], list) and len(table["origin"]) != 2:
        check.faults.add("table.origin", f"{len(table['origin'])} numbers",
                         "write how far from the left end and from the front edge: [900, 300]")
    return None
