"""What of a job's numbers is asked about, before anything is cut by them."""

from __future__ import annotations

from dataclasses import replace

from coper.bicycle.bicycle import Bicycle
from coper.bicycle.change import Change
from coper.bicycle.plausible import bicycle_doubts
from coper.job.job import Job


def job_doubts(job: Job) -> tuple[str, ...]:
    """A sentence for each number that no frame has; one for all where the unit may be wrong."""
    if job.doubt is not None:
        return (job.doubt.words,)
    return () if job.bicycle is None else bicycle_doubts(job.measured, job.bicycle)


def change_doubts(job: Job, change: Change, after: Bicycle) -> tuple[str, ...]:
    """The same of a job whose bicycle is ``after`` with a change."""
    given = {name: getattr(change, name) for name in change.asked if name != "head_angle"}
    if change.head_angle is not None and after.parts.rear is not None:
        given["drop"] = after.parts.rear.axle[1]
    return job_doubts(replace(job, bicycle=after, measured=replace(job.measured, **given)))
