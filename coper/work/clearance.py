"""The room round wheels, cranks and heels of a job."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from coper.telling.records.head import json_head

if TYPE_CHECKING:
    from coper.bicycle.clearance.clearance import Clearances
    from coper.job.job import Job


@dataclass(frozen=True, slots=True, eq=False)
class ClearanceWork:
    """What comes out of a job, and the least gap that was asked for, mm."""

    job: Job
    found: Clearances
    limit: float | None = None

    @property
    def ok(self) -> bool:
        """Whether no gap is below the limit that was asked for."""
        limit = self.limit
        return limit is None or all(gap.clears(limit) for gap in self.found.gaps)


def work_clearance(job: Job, limit: float | None = None) -> ClearanceWork:
    """Shape the tubes of ``job`` and measure every gap."""
    from coper.bicycle.clearance.clearance import make_clearances
    from coper.job.frame import make_pieces

    return ClearanceWork(job, make_clearances(make_pieces(job), job.bicycle, job.drive), limit)


def clearance_json(work: ClearanceWork) -> dict[str, Any]:
    """The one object that ``coper clearance --json`` prints."""
    from coper.telling.records.clearance import clearance_record

    return {
        **json_head(),
        "title": work.job.title,
        "limit": work.limit,
        "ok": work.ok,
        **clearance_record(work.found),
    }
