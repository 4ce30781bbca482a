"""What gap an end leaves as it is put together."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.errors import JointError
from coper.joint.cautions import SAFETY
from coper.joint.joint import Joint
from coper.telling.records import joint as record
from coper.telling.records.head import json_head
from coper.work.sheets import picture_file

if TYPE_CHECKING:
    from coper.joint.fit.fit import Fit
    from coper.joint.fit.limits import Limit
    from coper.joint.fit.mount import Mounting


@dataclass(frozen=True, slots=True)
class FitOrder:
    """What a person asks of a fit-up.

    Attributes
    ----------
    cut : str
        ``bevelled``, ``square`` or ``saw``.
    saw : float or None, mm
        Diameter of the saw, where one cuts.
    """

    joint: Joint
    cut: str
    saw: float | None
    errors: Mounting
    limit: Limit | None = None
    points: int = 720


@dataclass(frozen=True, slots=True, eq=False)
class FitWork:
    """What comes out of it: the joint as it is put together, and its gap."""

    order: FitOrder
    mounted: Joint
    fit: Fit

    @property
    def ok(self) -> bool | None:
        """Whether no gap is above the limit; ``None`` where none was asked for."""
        limit = self.order.limit
        return None if limit is None else self.fit.within(limit.mm)


def work_fit(order: FitOrder) -> FitWork:
    """Push the shaped end home."""
    from coper.joint.fit.face import cut_face
    from coper.joint.fit.fit import seat

    face = cut_face(order.joint, order.cut, order.saw)
    try:
        mounted = order.errors.of(order.joint)
        return FitWork(order, mounted,
                       seat(face, mounted.cluster(), order.errors.clock, order.points))
    except JointError as error:
        if mounted_as_meant(order):
            raise
        raise JointError(f"as mounted, {error.fault}", "make the error smaller",
                         f"{error.where} error") from error


def mounted_as_meant(order: FitOrder) -> bool:
    """Whether no error of the mounting was asked about."""
    return not any((order.errors.angle, order.errors.clock, order.errors.offset))


def fit_json(work: FitWork) -> dict[str, Any]:
    """The one object that ``coper fit --json`` prints."""
    from coper.telling.records.fit import gap_record

    order = work.order
    return {
        **json_head(),
        "joint": record.joint_record(order.joint),
        "cut": order.cut,
        "saw_diameter": order.saw,
        "errors": {"angle": order.errors.angle, "clock": order.errors.clock,
                   "offset": order.errors.offset},
        "gap": gap_record(work.fit, order.limit),
        "cautions": list(SAFETY),
    }


def fit_files(work: FitWork, picture: Path) -> dict[Path, bytes]:
    """The picture of the gap, in the format that its name ends in; nothing is written yet."""
    from coper.sheets.gap_picture import gap_page
    from coper.telling.words.joint import title

    order = work.order
    page = gap_page(work.mounted, work.fit, order.limit, f"{title(order.joint)}, {order.cut} cut")
    return picture_file(page, title(order.joint), picture)
