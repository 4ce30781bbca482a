"""One joint: its cope, its templates, its table."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.errors import JointError
from coper.joint.cautions import cautions
from coper.joint.cope import Cope
from coper.joint.footprint import Footprint
from coper.joint.joint import Joint
from coper.joint.ordinates import Ordinates, make_ordinates
from coper.joint.saw.setting import SawSetting, own_saw
from coper.joint.template import Cut, Template
from coper.sheets.paper import GLUE_MM, PAPER_MM
from coper.telling.records import joint as record
from coper.telling.records.head import json_head
from coper.work.sheets import sheet_files, together

if TYPE_CHECKING:
    from coper.drawing.page import Page

MOST_GLUE_MM = 50.0
LONGEST_STRIP_MM = 5000.0
"""No paper is wrapped that is longer; a PDF page ends at 14,400 points, 5.08 m (from memory)."""

MOST_PAGES = 60
"""A template of more pages than this is a slip of a number, or a job for a roll."""


@dataclass(frozen=True, slots=True)
class JointOrder:
    """What a person asks of one joint.

    Attributes
    ----------
    seam : float or None, degrees
        Clock of the template's seam; the toe where ``None``.
    paper_thickness, glue : float, mm
    printer : (across, along), mm
        What the printed 100 mm bars measured.
    """

    joint: Joint
    cut: Cut = "bevelled"
    points: int = 720
    steps: int = 16
    seam: float | None = None
    paper: str = "a4"
    paper_thickness: float = PAPER_MM
    printer: tuple[float, float] = (100.0, 100.0)
    glue: float = GLUE_MM


@dataclass(frozen=True, slots=True, eq=False)
class JointWork:
    """What comes out of it; ``saw`` is ``None`` where no saw has the main's section."""

    order: JointOrder
    cope: Cope
    template: Template
    footprint: Footprint
    ordinates: Ordinates
    saw: SawSetting | None
    cautions: tuple[str, ...]


def work_joint(order: JointOrder) -> JointWork:
    """Compute everything but the pages."""
    joint = order.joint
    cope = joint.cope(order.points)
    return JointWork(
        order,
        cope,
        cope.template(order.cut, order.paper_thickness),
        cope.footprint(),
        make_ordinates(cope, order.cut, order.steps),
        own_saw(joint, cope) if joint.main.kind == "round" else None,
        cautions(cope, order.cut),
    )


def joint_json(work: JointWork) -> dict[str, Any]:
    """The one object that ``--json`` prints."""
    return {
        **json_head(),
        "joint": record.joint_record(work.order.joint),
        "cope": record.cope_record(work.cope),
        "template": record.template_record(work.template),
        "footprint": record.footprint_record(work.footprint),
        "saw": None if work.saw is None else record.saw_record(work.saw),
        "cautions": list(work.cautions),
    }


def joint_pages(work: JointWork) -> tuple[Page, ...]:
    """The joint's pages: both templates, the notes beside them, bars on each."""
    from coper.joint.sides import side_names
    from coper.pages.compose import Block, compose
    from coper.sheets.footprint import footprint_marks
    from coper.sheets.joint_notes import bevel_notes, caution_notes, footprint_notes, strip_notes
    from coper.sheets.strip import joint_strip
    from coper.sheets.strip_marks import strip_marks
    from coper.telling.words.joint import title

    order, cope = work.order, work.cope
    if not 0 <= order.glue <= MOST_GLUE_MM:
        raise JointError(f"{order.glue:g} mm to glue", f"give 0 to {MOST_GLUE_MM:g} mm",
                         "overlap")
    seam = order.joint.toe_clock if order.seam is None else order.seam
    sides = {clock: f"{clock:.0f}" for clock in side_names(order.joint)}
    template = cope.drawn_template(order.cut, order.paper_thickness, seam)
    strip = joint_strip(order.joint, cope, template, order.glue)
    if strip.high - strip.low > LONGEST_STRIP_MM:
        raise JointError(f"the template is {(strip.high - strip.low) / 1000:.1f} m long",
                         "check the angle and the diameters", "paper")
    blocks = [
        Block("template", strip_marks(strip)),
        Block("footprint", footprint_marks(cope, order.paper_thickness, sides)),
        Block("template-notes", strip_notes(order.joint, cope, template, order.glue)),
        Block("footprint-notes", footprint_notes(order.joint, cope)),
        Block("cautions", caution_notes(cope, order.cut)),
    ]
    if order.cut == "bevelled":
        blocks.insert(3, Block("bevel", bevel_notes(order.joint, cope)))
    pages = compose(blocks, order.paper, order.printer, title=title(order.joint))
    if len(pages) > MOST_PAGES:
        raise JointError(f"the template needs {len(pages)} pages of {order.paper}",
                         "check the angle, or use --paper roll", "paper")
    return pages


def joint_files(
    work: JointWork, svg: Path | None, pdf: Path | None, table: Path | None
) -> dict[Path, bytes]:
    """Every file that was asked for, whole, by its path; nothing is written yet."""
    from coper.telling.words.joint import title

    pages = joint_pages(work) if svg or pdf else ()
    sheets = sheet_files(pages, title(work.order.joint), svg, pdf)
    if table is None:
        return sheets
    from coper.telling.records.ordinates_csv import table_csv

    return together(sheets, {table: table_csv(work.ordinates).encode()})
