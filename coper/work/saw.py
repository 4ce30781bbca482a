"""Which saw of a kit, and how it is set."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.joint.cautions import SAFETY
from coper.joint.joint import Joint
from coper.telling.records import joint as record
from coper.telling.records.head import json_head
from coper.work.sheets import sheet_files

if TYPE_CHECKING:
    from coper.drawing.page import Page
    from coper.joint.fit.limits import Limit
    from coper.joint.saw.kit import SawKit


@dataclass(frozen=True, slots=True)
class SawOrder:
    """What a person asks of a kit: its saws and their cutting depth, mm."""

    joint: Joint
    kit: tuple[float, ...]
    depth: float
    limit: Limit | None = None
    paper: str = "a4"


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
    """Try every saw of the kit; two passes of one where one pass is above the limit or has none."""
    from coper.joint.saw.kit import choose_saws

    enough = 0.0 if order.limit is None else order.limit.mm
    return SawWork(order, choose_saws(order.joint, order.kit, order.depth, enough))


def saw_json(work: SawWork) -> dict[str, Any]:
    """The one object that ``coper saw --json`` prints."""
    from coper.telling.records.fit import kit_records

    limit = work.order.limit
    rows = kit_records(work.kit, None if limit is None else limit.mm)
    return {
        **json_head(),
        "joint": record.joint_record(work.order.joint),
        "limit": None if limit is None else limit.mm,
        "covering_diameter": work.kit.needed,
        "saw": rows[0],
        "choices": rows,
        "cautions": list(SAFETY),
    }


def saw_pages(work: SawWork) -> tuple[Page, ...]:
    """The set-up card of the best saw, and the log of the fit."""
    from coper.pages.compose import Block, compose
    from coper.pages.text import caution_column
    from coper.sheets.fit_log import joint_log, log_block
    from coper.sheets.setup_card import joint_card
    from coper.sheets.setup_card_marks import card_block
    from coper.telling.words.joint import title

    joint, best = work.order.joint, work.kit.choices[0]
    blocks = (
        card_block(joint_card(joint, best, work.order.limit)),
        Block("cautions", caution_column(SAFETY)),
        log_block(joint_log(joint, best.fit)),
    )
    return compose(blocks, work.order.paper, title=f"saw: {title(joint)}")


def saw_files(work: SawWork, svg: Path | None, pdf: Path | None) -> dict[Path, bytes]:
    """The card and the log in the formats that were asked for; nothing is written yet."""
    from coper.telling.words.joint import title

    pages = saw_pages(work) if svg or pdf else ()
    return sheet_files(pages, title(work.order.joint), svg, pdf)
