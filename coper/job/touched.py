"""Which tubes of a job are others after its bicycle has changed."""

from __future__ import annotations

import math
from collections.abc import Iterator

from coper.arrays import Point
from coper.bicycle.before_after import MOVED_MM
from coper.job.job import Job, TubePlan


def moved_tubes(before: Job, after: Job) -> dict[str, tuple[str, ...]]:
    """Every tube of which a point moves, and which: ``start``, ``corners``, ``end``."""
    found = {new.name: tuple(_moved(old, new))
             for old, new in zip(before.tubes, after.tubes, strict=True)}
    return {name: which for name, which in found.items() if which}


def cut_anew(job: Job, moved: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    """The tubes that stay where they are, but are cut for one of those that ``moved``."""
    partners = {end.mitre for plan in job.tubes if plan.name in moved
                for end in (plan.start, plan.end) if end.mitre}
    return tuple(plan.name for plan in job.tubes if plan.name not in moved and (
        plan.name in partners or any(name in moved for end in (plan.start, plan.end)
                                     for name in (*end.on, end.mitre))))


def _moved(old: TubePlan, new: TubePlan) -> Iterator[str]:
    places = (("start", (old.start.at,), (new.start.at,)), ("corners", old.corners, new.corners),
              ("end", (old.end.at,), (new.end.at,)))
    for which, before, after in places:
        if any(_apart(one, other) for one, other in zip(before, after, strict=True)):
            yield which


def _apart(one: Point, other: Point) -> bool:
    return math.dist(one, other) > MOVED_MM
