"""Whether a frame tracks, and the log to find it out with."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.bicycle.tracking.doubts import good
from coper.bicycle.tracking.rear_end import RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge
from coper.bicycle.tracking.tracking import DROPOUT_LIMIT, TrackingReadings, track
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import Limit
from coper.telling.records.head import json_head
from coper.telling.words.tracking import TRACKING_CAUTIONS
from coper.work.sheets import sheet_files

if TYPE_CHECKING:
    from coper.bicycle.tracking.tracking import Tracking
    from coper.drawing.page import Page

CAUTIONS = (*TRACKING_CAUTIONS, *SAFETY)


@dataclass(frozen=True, slots=True)
class TrackingOrder:
    """What a person asks: the frame, the edge, what was read, and the limit, if one was given."""

    rear: RearEnd
    edge: StraightEdge = field(default_factory=StraightEdge)
    readings: TrackingReadings = field(default_factory=TrackingReadings)
    limit: Limit | None = None
    paper: str = "a4"


@dataclass(frozen=True, slots=True)
class TrackingWork:
    """What comes out of it."""

    order: TrackingOrder
    found: Tracking

    @property
    def falls_short(self) -> bool:
        """Whether a limit was given, and the readings do not show that all is within it."""
        return self.order.limit is not None and not good(self.found)


def work_tracking(order: TrackingOrder) -> TrackingWork:
    """What the readings say."""
    limit = order.limit or DROPOUT_LIMIT
    return TrackingWork(order, track(order.rear, order.edge, order.readings, limit))


def tracking_json(work: TrackingWork) -> dict[str, Any]:
    """The one object that ``coper tracking --json`` prints."""
    from coper.telling.records.tracking import tracking_record

    return {**json_head(), "tracking": tracking_record(work.found), "cautions": list(CAUTIONS)}


def tracking_pages(work: TrackingWork) -> tuple[Page, ...]:
    """The log, complete with its cautions."""
    from coper.pages.compose import Block, compose
    from coper.pages.text import caution_column
    from coper.sheets.tracking_log import tracking_log_blocks

    blocks = [*tracking_log_blocks(work.found), Block("cautions", caution_column(CAUTIONS))]
    return compose(blocks, work.order.paper, title="tracking log")


def tracking_files(work: TrackingWork, svg: Path | None, pdf: Path | None) -> dict[Path, bytes]:
    """The log in the formats that were asked for; nothing is written yet."""
    pages = tracking_pages(work) if svg or pdf else ()
    return sheet_files(pages, "tracking log", svg, pdf)
