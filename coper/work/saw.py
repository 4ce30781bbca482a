"""Which saw of a kit, and how it is set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from coper.joint import record
from coper.joint.cautions import WORK
from coper.joint.joint import Joint
from coper.work.head import head

if TYPE_CHECKING:
    from coper.joint.limits import Limit
    from coper.joint.saw_kit import SawKit


@dataclass(frozen=True, slots=True)
class SawOrder:
    """What a person asks of a kit: its saws and their cutting depth, mm."""

    joint: Joint
    kit: tuple[float, ...]
    depth: float
    limit: Limit | None = None


@dataclass(frozen=True, slots=True)
class SawWork:
    """What comes out of it."""

    order: SawOrder
    kit: SawKit

    @property
    def ok(self) -> bool:
        """Whether the best saw is deep enough and leaves no gap above the limit."""
        limit = self.order.limit
        return self.kit.choices[0].ok(None if limit is None else limit.mm)


def work_saw(order: SawOrder) -> SawWork:
    """Try every saw of the kit."""
    from coper.joint.saw_kit import choose_saws

    return SawWork(order, choose_saws(order.joint, order.kit, order.depth))


def saw_json(work: SawWork) -> dict[str, Any]:
    """The one object that ``coper saw --json`` prints."""
    from coper.joint.fit_record import kit_records

    limit = work.order.limit
    rows = kit_records(work.kit, None if limit is None else limit.mm)
    return {
        **head(),
        "joint": record.joint_record(work.order.joint),
        "limit": None if limit is None else limit.mm,
        "covering_diameter": work.kit.needed,
        "saw": rows[0],
        "choices": rows,
        "cautions": list(WORK),
    }
