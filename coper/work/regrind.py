"""Where metal goes next, from feeler readings."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.joint.cautions import SAFETY
from coper.joint.joint import Joint
from coper.joint.template import Cut
from coper.sheets.paper import GLUE_MM, PAPER_MM
from coper.telling.records import joint as record
from coper.telling.records.head import json_head
from coper.work.sheets import sheet_files

if TYPE_CHECKING:
    from coper.drawing.page import Page
    from coper.joint.regrind.regrind import Regrind


@dataclass(frozen=True, slots=True)
class RegrindOrder:
    """What a person asks after a dry fit; ``gaps`` are pairs of clock (degrees) and gap (mm)."""

    joint: Joint
    cut: Cut
    gaps: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class RegrindWork:
    """What comes out of it."""

    order: RegrindOrder
    found: Regrind


def work_regrind(order: RegrindOrder) -> RegrindWork:
    """Find what is wrong with the fit, and the metal to take off."""
    from coper.joint.regrind.regrind import regrind

    return RegrindWork(order, regrind(order.joint, order.cut, order.gaps))


def regrind_json(work: RegrindWork) -> dict[str, Any]:
    """The one object that ``coper regrind --json`` prints."""
    from coper.telling.records.regrind import regrind_record

    return {
        **json_head(),
        "joint": record.joint_record(work.order.joint),
        "cut": work.order.cut,
        "regrind": regrind_record(work.found),
        "cautions": list(SAFETY),
    }


def regrind_pages(work: RegrindWork) -> tuple[Page, ...]:
    """The strip to wrap along the existing edge, and how it is used."""
    from coper.pages.compose import Block, compose
    from coper.pages.text import caution_column
    from coper.sheets.regrind_strip import regrind_marks, regrind_notes
    from coper.telling.words.joint import title

    joint, found = work.order.joint, work.found
    blocks = [
        Block("regrind", regrind_marks(joint, found, PAPER_MM, GLUE_MM)),
        Block("regrind-notes", regrind_notes(joint, found)),
        Block("cautions", caution_column(SAFETY)),
    ]
    return compose(blocks, "a4", title=f"regrind: {title(joint)}")


def regrind_files(work: RegrindWork, svg: Path | None, pdf: Path | None) -> dict[Path, bytes]:
    """The strip in the formats that were asked for; nothing is written yet."""
    from coper.telling.words.joint import title

    pages = regrind_pages(work) if svg or pdf else ()
    return sheet_files(pages, title(work.order.joint), svg, pdf)
