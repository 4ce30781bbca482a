"""The pages of one joint: both templates, the notes beside them, bars on each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coper.drawing.page import Page
from coper.errors import JointError
from coper.joint.cope import Cope
from coper.joint.joint import Joint
from coper.joint.sides import side_names
from coper.joint.template import Cut
from coper.pages.compose import Block, compose
from coper.sheets.footprint import footprint_marks
from coper.sheets.how_to_wrap import how_to_block
from coper.sheets.joint_notes import bevel_notes, caution_notes, footprint_notes, strip_notes
from coper.sheets.strip import Strip, joint_strip
from coper.sheets.strip_marks import strip_marks
from coper.sheets.template_pages import check_pages
from coper.telling.words.joint import title
from coper.units import format_far, format_size

MOST_GLUE_MM = 50.0
LONGEST_STRIP_MM = 5000.0
"""Nobody wraps a longer paper; a PDF page ends at 14,400 points, 5.08 m (from memory)."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """How the end's paper is made.

    Attributes
    ----------
    seam : float or None, degrees
        The tube's clock at the template's seam; across from the heel where ``None``.
    glue : float, mm
        Width of the tab under the seam.
    thickness : float, mm
        Of the paper that wraps.
    paper
        The name of its size.
    printer : (across, along), mm
        What the check bars of an earlier print measured.
    """

    seam: float | None
    glue: float
    thickness: float
    paper: str
    printer: tuple[float, float]


def joint_pages(joint: Joint, cope: Cope, cut: Cut, sheet: Sheet) -> tuple[Page, ...]:
    """Everything on paper; the template is for ``cut``.

    Raises
    ------
    JointError
        Where no paper of that size or that many pages would do.
    """
    blocks = tuple(_blocks(joint, cope, cut, sheet))
    check_pages(blocks, sheet.paper, sheet.printer, "check the angle, or use --paper roll", "paper")
    return compose(blocks, sheet.paper, sheet.printer, title=title(joint))


def check_glue(glue: float) -> None:
    """Refuse a tab, mm, that no template has."""
    if not 0 <= glue <= MOST_GLUE_MM:
        raise JointError(f"{format_size(glue)} to glue", f"give 0 to {format_size(MOST_GLUE_MM)}",
                         "overlap")


def check_long(strip: Strip) -> None:
    """Refuse a template that nobody can wrap."""
    if strip.high - strip.low > LONGEST_STRIP_MM:
        raise JointError(f"the template is {format_far(strip.high - strip.low)} long",
                         "check the angle and the diameters", "paper")


def _blocks(joint: Joint, cope: Cope, cut: Cut, sheet: Sheet) -> Iterator[Block]:
    check_glue(sheet.glue)
    seam = joint.toe_clock if sheet.seam is None else sheet.seam
    template = cope.drawn_template(cut, sheet.thickness, seam)
    strip = joint_strip(joint, cope, template, sheet.glue)
    check_long(strip)
    sides = {clock: f"{clock:.0f}" for clock in side_names(joint)}
    yield Block("template", strip_marks(strip))
    yield Block("footprint", footprint_marks(cope, sheet.thickness, sides))
    yield Block("template-notes", strip_notes(joint, cope, template, sheet.glue))
    if cut == "bevelled":
        yield Block("bevel", bevel_notes(joint, cope))
    yield Block("footprint-notes", footprint_notes(joint, cope))
    yield how_to_block()
    yield Block("cautions", caution_notes(cope, cut))
