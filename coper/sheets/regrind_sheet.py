"""The pages of a regrind: the strip to wrap along the existing edge, and how it is used."""

from __future__ import annotations

from coper.drawing.page import Page
from coper.job.papers import PAPERS
from coper.joint.cautions import SAFETY
from coper.joint.mountable import Mountable
from coper.joint.regrind.regrind import Regrind
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.pages.compose import Block, compose, parts
from coper.pages.text import caution_column
from coper.sheets.regrind_strip import metal_table, regrind_marks, regrind_notes
from coper.sheets.template_pages import check_pages


def regrind_pages(
    joint: Mountable, found: Regrind, title: str, printer: tuple[float, float]
) -> tuple[Page, ...]:
    """The strip for what was ``found`` of an end; ``title`` is what that is.

    ``printer`` is what the check bars of an earlier print measured, across and along, mm.

    Raises
    ------
    JointError
        Where it would be cut into too many pages.
    """
    blocks = (
        Block("regrind", regrind_marks(joint, found, title, PAPER_MM, GLUE_MM)),
        Block("regrind-notes", regrind_notes(joint, found, title)),
        *parts("regrind-metal", metal_table(joint, found)),
        Block("cautions", caution_column(SAFETY)),
    )
    check_pages(blocks, PAPERS[0], printer, "check the angle and the diameters", "branch")
    return compose(blocks, PAPERS[0], printer, title=f"regrind: {title}")
