"""The order of work on paper: what is done before, then every step, tube by tube."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bench.assembly.assembly import Assembly
from coper.drawing.marks import Mark
from coper.pages.compose import Block, parts
from coper.pages.furniture import check_bars
from coper.pages.text import TextColumn, column
from coper.sheets.frame_picture import WIDE_MM
from coper.telling.words.assembly import last_lines, method_lines, step_title, step_words

PRINT = ("Print every page at 100 %, on one side, and measure {bars} on it. If one is off, the "
         "templates and the layout are off too: what to do then stands with the boxes for what "
         "they measure.")
"""``bars`` are those of the order's unit."""
LAYOUT = "Mark out the layout on the table, and check its diagonals with a tape."
CUT = "Cut the blanks to the cut list, and write each one's name on it."
SCISSORS = "Cut up the pages for scissors; all others are kept whole."
SHAPE = ("Shape the ends, mains first, by template or by saw and card. Leave the line, then dress "
         "to it.")
MARK = ("Mark each main where its branches land: its page of marks says how far along and at "
        "which clock. A footprint goes on with its two lines on those marks.")
FIT = ("Dry-fit each end, measure the gap all round and write it in its log. Where it is over the "
       "limit, coper regrind says where to take metal off.")
SET = "Set the tubes {where}, drill the vents, clamp, and tack as the steps below say."


def order_blocks(assembly: Assembly) -> Iterator[Block]:
    """The order of work: common practice, no source; no line for a sheet that is not there."""
    lines = [f"{number}. {line}" for number, line in enumerate(_before(assembly), 1)]
    yield Block("job-sheet order", column("Order of work", lines), new_page=True)
    if assembly.steps:
        yield Block("job-sheet method", column(
            "Tube by tube", (*method_lines(assembly), *last_lines(assembly))))
        yield from parts("job-sheet steps", _steps(assembly))


def _steps(assembly: Assembly) -> Iterator[tuple[Mark, ...]]:
    """Every step over the whole width, each of its parts behind a box to tick."""
    for number, step in enumerate(assembly.steps, 1):
        notes = TextColumn(WIDE_MM)
        notes.head(f"{number}. {step_title(step)}")
        for name, said in step_words(step, assembly.sheets):
            notes.ticked(f"{name.capitalize()}: {'; '.join(said)}.")
        yield notes.marks


def _before(assembly: Assembly) -> Iterator[str]:
    """What is done before the first tube is tacked."""
    coped = [one.end for step in assembly.steps for one in step.ends if one.end.cope is not None]
    yield PRINT.format(bars=check_bars())
    if assembly.steps:
        yield CUT
    if assembly.sheets.layout:
        yield LAYOUT
    if coped:
        yield SCISSORS
        yield SHAPE
    if any(end.flat is None for end in coped):
        yield MARK
        yield FIT
    if assembly.steps:
        on = "on their blocks over the layout" if assembly.sheets.layout else "in their places"
        yield SET.format(where=on)
