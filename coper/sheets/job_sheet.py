"""The first pages of a packet: what is built, and where everything is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.bench.cut_list.cut_list import CutList
from coper.drawing.changes import moved
from coper.drawing.letters import shortened
from coper.drawing.marks import NOTE_HEIGHT, THIN, TITLE_HEIGHT, Mark, Path, Text
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.pages.compose import Block, parts
from coper.pages.measured import cure_words, measured_marks
from coper.pages.room import GAP_MM
from coper.pages.text import caution_column, column
from coper.sheets.batches import batch_sheets
from coper.sheets.frame_picture import WIDE_MM, frame_marks
from coper.sheets.how_to_wrap import how_to_block
from coper.sheets.joint_picture import JOINT_MM, joint_marks
from coper.telling.words.standing import stands_lines

RULED_MM = 40.0
"""A line to write on."""

ACROSS = 5
"""Pictures of joints stand side by side."""

LISTED_MM = 0.0
"""A list of short lines stands close together."""

UP_ON_TABLE = ", which faces up on the table,"
"""What the left side of a frame does that lies on its right."""

WORDS = (
    "Clock: position round a tube, in degrees, clockwise looking along it from start to end. Each "
    f"tube's page says where its 0 is: the left side{UP_ON_TABLE} or the top of a "
    "tube across the frame, unless the job turns the tube.",
    "Start and end: the tube's two points in the job. Lengths are measured from the start point.",
    "Main: the tube that an end seats on. Main +: the side towards the main's end point; the angle "
    "to a main is from there.",
    "Heel and toe: the sides of the acute and the obtuse corner with the main. On a tube square "
    "to its main, the lines are called main + and main –.",
    "Long point: where the cut end reaches furthest. Blank: the straight piece cut from stock.",
    "Gap: what a feeler gauge measures from outside, with the end pushed home.",
)
"""The words that the pages use."""


def job_sheet_blocks(
    title: str, pieces: Sequence[Piece], measures: Sequence[str],
    cautions: tuple[str, ...], cuts: CutList, command: str, flat: bool = False,
) -> Iterator[Block]:
    """The job sheet, but for its contents; its title and the frame come first.

    Parameters
    ----------
    title
        The job's.
    pieces
        In the order of work.
    measures
        What the frame measures, a line each; empty for no such column.
    cautions
        What was probably forgotten in the job, then those of all work.
    cuts
        What is cut: one picture shows all pieces that are the same.
    command
        How the command begins that prints the packet again.
    flat
        Whether the frame is built flat: tubes are then named in the view from above.
    """
    yield Block("job-sheet", _heading(title), keep_upright=True)
    yield Block("job-sheet frame", frame_marks(pieces, flat), keep_upright=True)
    if lies := stands_lines(pieces):
        yield Block("job-sheet lies", column("Which way they lie", lies, LISTED_MM))
    if measures:
        yield Block("job-sheet measures", column("What it measures", measures, LISTED_MM))
    yield Block("job-sheet cautions", caution_column(cautions))
    words = [line.replace(UP_ON_TABLE, "") for line in WORDS] if flat else WORDS
    yield how_to_block()
    yield Block("job-sheet words", column("Words on these pages", words))
    yield Block("job-sheet bars", column("What the bars measure", (
        measured_marks(), cure_words(f"{command} --out FOLDER"))))
    yield from parts("job-sheet joints", _joint_rows(pieces, cuts))


def _heading(title: str) -> tuple[Mark, ...]:
    """The title over the whole width, and lines to sign on."""
    head = shortened(title or "Job", WIDE_MM, TITLE_HEIGHT, bold=True)
    y = -2.2 * TITLE_HEIGHT
    marks: list[Mark] = [Text((0.0, -TITLE_HEIGHT), head, TITLE_HEIGHT, bold=True)]
    for index, words in enumerate(("Built by", "Begun on", "Done on")):
        x = index * WIDE_MM / 3
        marks.append(Text((x, y), words, NOTE_HEIGHT))
        end = x + WIDE_MM / 3 - 2.0
        marks.append(Path(np.array(((end - RULED_MM, y), (end, y))), THIN))
    return tuple(marks)


def _to_what(end: TubeEnd) -> str:
    if end.flat is None:
        return f"on {', '.join(main.label for main in end.mains)}"
    return f"mitred with {end.flat.partner}" if end.flat.partner else "cut along its face"


def _joint_rows(
    pieces: Sequence[Piece], cuts: CutList
) -> Iterator[tuple[Mark, ...]]:
    """The pictures of all joints in the order of work, row by row."""
    others: dict[tuple[str, str], Piece] = {
        (piece.tube.name, piece.tube.side): piece for piece in pieces}
    pictures = [
        joint_marks(sheet.piece, end, others, f"{sheet.title}, {end.which}, {_to_what(end)}")
        for sheet in batch_sheets(cuts, pieces)
        for end in sheet.piece.ends if end.cope is not None]
    for first in range(0, len(pictures), ACROSS):
        yield tuple(mark for at, picture in enumerate(pictures[first:first + ACROSS])
                    for mark in moved(picture, at * (JOINT_MM + GAP_MM), 0.0))
