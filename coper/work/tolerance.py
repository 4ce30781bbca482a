"""How careful to be about one end."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.joint.cautions import SAFETY
from coper.joint.joint import Joint
from coper.joint.template import Cut
from coper.telling.records import joint as record
from coper.telling.records.head import json_head
from coper.work.sheets import picture_file

if TYPE_CHECKING:
    from coper.joint.fit.limits import Limit
    from coper.joint.tolerance.spread import Scatter, Spread
    from coper.joint.tolerance.tolerance import Tolerance

USUAL_PROCESS = "tig"
"""Whose limit is taken where none was given: it forgives the least of those that melt the edges."""


@dataclass(frozen=True, slots=True)
class ToleranceOrder:
    """What a person asks before setting up.

    Attributes
    ----------
    limit : Limit or None
        The largest gap that is still good; that of ``USUAL_PROCESS`` where none was given.
    scatter : Scatter
    seed : int
        The same seed draws the same joints.
    """

    joint: Joint
    cut: Cut
    limit: Limit | None
    scatter: Scatter
    seed: int


@dataclass(frozen=True, slots=True, eq=False)
class ToleranceWork:
    """What comes out of it, for the limit that was taken."""

    order: ToleranceOrder
    limit: Limit
    found: Tolerance
    spread: Spread

    @property
    def ok(self) -> bool | None:
        """Whether the ideal cut stays under the limit; ``None`` where none was given."""
        return None if self.order.limit is None else self.found.possible


def work_tolerance(order: ToleranceOrder) -> ToleranceWork:
    """Each error alone, then all of them together."""
    from coper.joint.fit.limits import process_limit
    from coper.joint.tolerance.spread import JOINTS, spread
    from coper.joint.tolerance.tolerance import tolerance

    limit = order.limit or process_limit(USUAL_PROCESS)
    found = tolerance(order.joint, order.cut, limit.mm)
    spreading = spread(order.joint, order.cut, limit.mm, order.scatter, order.seed, JOINTS)
    return ToleranceWork(order, limit, found, spreading)


def tolerance_json(work: ToleranceWork) -> dict[str, Any]:
    """The one object that ``coper tolerance --json`` prints."""
    from coper.telling.records.tolerance import tolerance_record

    return {
        **json_head(),
        "joint": record.joint_record(work.order.joint),
        "cut": work.order.cut,
        "tolerance": tolerance_record(work.found, work.spread, work.limit),
        "cautions": list(SAFETY),
    }


def tolerance_files(work: ToleranceWork, picture: Path) -> dict[Path, bytes]:
    """The picture, in the format that its name ends in; nothing is written yet."""
    from coper.sheets.tolerance_picture import tolerance_page
    from coper.telling.words.joint import title

    named = title(work.order.joint)
    page = tolerance_page(work.found, work.spread, work.limit, named, work.order.cut)
    return picture_file(page, named, picture)
