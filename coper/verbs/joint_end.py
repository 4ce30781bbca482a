"""``coper joint`` of an end of a job: its own template, counted as its tube counts."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from typing import Any

from coper.drawing.page import Page
from coper.errors import WordsError
from coper.frame.end_joint import EndJoint
from coper.job.named_end import JobEnd
from coper.joint.cautions import SAFETY
from coper.joint.cope import Cope, make_cope
from coper.joint.ordinates import make_ordinates
from coper.joint.saw.setting import own_saw
from coper.joint.steps import Progress
from coper.joint.template import GLUE_MM, PAPER_MM
from coper.sheets.end_sheet import end_pages
from coper.sheets.joint_sheet import Sheet
from coper.telling.lines import Caution, Line
from coper.telling.records.end import (
    end_cope_record,
    end_footprint_record,
    end_head,
    end_template_record,
)
from coper.telling.records.head import json_head
from coper.telling.records.joint import saw_record
from coper.telling.records.ordinates_csv import table_csv
from coper.telling.words.end import end_facts, end_ordinates, end_title
from coper.verbs.about import about
from coper.verbs.answer import Answer, in_unit
from coper.verbs.asked import printer_of
from coper.verbs.options import POINTS, STEPS


def ask_end(end: JobEnd, arguments: Namespace) -> Answer[Cope]:
    """The answer to what the options ask."""
    if arguments.cut is not None:
        raise WordsError("the job says how the end is cut",
                         "take it out, or change cut at the end in the file", "--cut")
    sheet = Sheet(arguments.seam, arguments.overlap, arguments.paper_thickness,
                  end.job.shop.paper_for(arguments.paper), printer_of(arguments, end))
    return in_unit(end.job.units,
                   lambda: joint_end(end, sheet, arguments.points, arguments.steps))


def usual_joint_end(end: JobEnd) -> Answer[Cope]:
    """The same where nothing else is asked for."""
    shop = end.job.shop
    sheet = Sheet(None, GLUE_MM, PAPER_MM, shop.paper_for(), shop.printer)
    return in_unit(end.job.units, lambda: joint_end(end, sheet))


def joint_end(
    end: JobEnd, sheet: Sheet, points: int = POINTS, steps: int = STEPS
) -> Answer[Cope]:
    """The cope of an end of a job; its table is the file ``table``.

    Parameters
    ----------
    end
        On all that it seats on.
    sheet
        How its paper is made.
    points, steps
        Even clocks of the cope, and ordinates: 8, 12, 16 or 24.

    Raises
    ------
    CoperError
        Where a number cannot be used.
    """
    joint, cut = end.joint, end.end.cope_cut
    cope = make_cope(joint.cluster(), points)
    template = cope.template(cut, sheet.thickness)
    ordinates = joint.counted_table(make_ordinates(cope, cut, steps))
    said = (*about(end).question, *end.end.cautions, *SAFETY)

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            **end_head(end),
            "cope": end_cope_record(joint, cope),
            "template": end_template_record(joint, template),
            "footprint": end_footprint_record(joint, cope),
            "saw": _own_saw(joint),
            "cautions": list(said),
        }

    def lines() -> Iterator[Line]:
        yield end_title(end)
        yield from end_facts(end, template)
        yield end_ordinates(end, ordinates)
        yield from map(Caution, said)

    def pages(progress: Progress) -> tuple[Page, ...]:
        return end_pages(end, sheet)

    def table() -> bytes:
        return table_csv(ordinates, "line_from_start_mm").encode()

    return Answer(end_title(end), cope, record, lines, pages, files={"table": table})


def _own_saw(joint: EndJoint) -> dict[str, Any] | None:
    """The saw of the size of its only main."""
    first = joint.first
    if len(joint.mains) > 1 or first.main.kind != "round":
        return None
    return saw_record(own_saw(first, first.cope()))
