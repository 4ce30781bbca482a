"""A job's bicycle: its points, how it stands, and what a change would do."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

from coper.errors import CoperError
from coper.telling.records.head import json_head

if TYPE_CHECKING:
    from coper.bicycle.bicycle import Bicycle
    from coper.bicycle.change import Change
    from coper.bicycle.measures import Measures
    from coper.frame.tube import Tube
    from coper.job.job import Job


@dataclass(frozen=True, slots=True)
class BicycleOrder:
    """What a person asks: a job's bicycle, and what would become different, if anything."""

    job: Job
    change: Change | None = None


@dataclass(frozen=True, slots=True, eq=False)
class BicycleWork:
    """What comes out of it; ``after`` and ``changed`` only where something changes.

    Attributes
    ----------
    bicycle, changed : Bicycle
    tubes : tuple of Tube
    before, after : Measures
    """

    order: BicycleOrder
    bicycle: Bicycle
    tubes: tuple[Tube, ...]
    before: Measures
    changed: Bicycle | None = None
    after: Measures | None = None


def work_bicycle(order: BicycleOrder) -> BicycleWork:
    """Measure the bicycle, and again with the change.

    Raises
    ------
    CoperError
        Where the job has no bicycle, or the change cannot be made; ``where`` is its name.
    """
    from coper.bicycle.change import changed
    from coper.bicycle.measures import measure

    bicycle = order.job.bicycle
    if bicycle is None:
        raise CoperError("missing", "add it, such as [bicycle] with drop and chain_stay",
                         "bicycle")
    tubes = _tubes(order.job)
    before = measure(bicycle, tubes)
    if order.change is None:
        return BicycleWork(order, bicycle, tubes, before)
    other = changed(bicycle, order.change)
    return BicycleWork(order, bicycle, tubes, before, other, measure(other, tubes))


def _tubes(job: Job) -> tuple[Tube, ...]:
    from coper.job.faults import Faults
    from coper.job.frame import place_tubes

    faults = Faults()
    sides = place_tubes(job, faults)
    faults.raise_any()
    return tuple(tube for both in sides.values() for tube in both.values())


def differences(before: Measures, after: Measures) -> dict[str, float | None]:
    """What was added to each measure; ``None`` where one of the two is not known."""
    old, new = asdict(before), asdict(after)
    return {name: None if old[name] is None or new[name] is None else new[name] - old[name]
            for name in old}


def bicycle_json(work: BicycleWork) -> dict[str, Any]:
    """The one object that ``coper bicycle --json`` prints."""
    from coper.telling.records.bicycle import bicycle_record

    return {
        **json_head(),
        "title": work.order.job.title,
        "bicycle": bicycle_record(work.bicycle, work.tubes),
        "change": _change_record(work),
    }


def _change_record(work: BicycleWork) -> dict[str, Any] | None:
    from coper.telling.records.bicycle import bicycle_record

    change = work.order.change
    if change is None or work.changed is None or work.after is None:
        return None
    asked = asdict(change)
    return {
        "asked": {name: asked[name] for name in change.asked},
        "before": asdict(work.before),
        "after": asdict(work.after),
        "difference": differences(work.before, work.after),
        "bicycle": bicycle_record(work.changed, work.tubes),
    }
