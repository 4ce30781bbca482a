"""A log of the dry fits of one end, drawn: cells to write readings into.

::

    +-----------------------------------------------+
    | title, tube and main                          |
    | clock    | template | saw  | 1st | 2nd | 3rd |
    |          | mm       | mm   | mm  | mm  | mm  |   a column for each way to cut it
    | 0 heel   |     0.00 | 0.02 |     |     |     |   the template's heel line
    | 45       |     0.02 | 0.11 |     |     |     |   a tick of its ruler
    | …        |          |      |     |     |     |
    | angle    |      62° |  62° |     |     |     |
    | length   |   382.46 | …    |     |     |     |
    | coper regrind … --gaps "0=__, 45=__, …"       |   of a placed tube's end by its name, and
    | Sawn by its card: type --cut saw too          |   two lines more
    | Finished: coper made … length=__ angle=__     |
    +-----------------------------------------------+
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from coper.bench.setup import EndSetup
from coper.drawing.letters import shortened_name, wrapped
from coper.drawing.marks import NOTE_HEIGHT, THIN, Mark, Text
from coper.frame.piece import Piece
from coper.frame.tube import Tube
from coper.joint.sides import clock_words
from coper.pages.boxes import box_path
from coper.pages.compose import Block
from coper.pages.form import PAD_MM, ROW_MM, form_marks
from coper.pages.text import COLUMN_MM, TextColumn
from coper.sheets.fit_log import BY_SAW, BY_TEMPLATE, FitLog, Reading, end_log
from coper.telling.cells import short_cell
from coper.units import first_unit

ROUNDS = ("1st", "2nd", "3rd")
FRAME_MM = 2.0
"""Between the log's frame and what is in it."""
WIDE_MM = COLUMN_MM - 2 * FRAME_MM
"""Its frame is as wide as a column of notes: two stand side by side on the narrowest page."""
EXPECTED_MM = {BY_TEMPLATE: 17.0, BY_SAW: 11.5}
"""Widths of the columns of what is expected; the clocks' has what is left."""
ROUND_MM = 10.3
"""Width of a column to write in."""
HEAD_MM = 3.0
"""Height of the title: most names of tubes fit one line."""
ABOUT_LINES = 2
"""The tube and its mains take no more lines than this."""


def log_blocks(
    piece: Piece, setups: Sequence[EndSetup], file: str = "", named: Tube | None = None,
    blank: str = "",
) -> list[Block]:
    """A log for every shaped end of ``piece``, from its ``setups`` (``piece_setups``).

    ``file``, ``named`` and ``blank`` as there (``end_log``).
    """
    return [log_block(end_log(piece, setup, file, named, blank)) for setup in setups]


def log_block(log: FitLog) -> Block:
    """The log as a block of a page."""
    return Block(f"log {log.title}", log_marks(log), keep_upright=True)


def log_marks(log: FitLog) -> tuple[Mark, ...]:
    """The log, its upper left corner at the origin, mm."""
    inside = TextColumn(WIDE_MM)
    name = shortened_name(log.title, WIDE_MM, HEAD_MM)
    inside.put([Text((0.0, 0.0), name, HEAD_MM, bold=True)], HEAD_MM)
    inside.lines(wrapped(log.about, WIDE_MM, NOTE_HEIGHT, ABOUT_LINES))
    inside.line(_expected_words(log), name="expected")
    rows, widths = _form(log)
    inside.put([form_marks(rows, widths)], FRAME_MM)
    inside.skip(len(rows) * ROW_MM + PAD_MM)
    inside.line(log.after, name="after")
    if log.sawn:
        inside.line(log.sawn, name="sawn")
    if log.made:
        inside.line(log.made, name="made")
    frame = box_path(-FRAME_MM, -inside.depth - FRAME_MM, COLUMN_MM, inside.depth + 2 * FRAME_MM,
                     THIN, name="log-frame")
    return (frame, *inside.marks)


def _expected_words(log: FitLog) -> str:
    """Which cut the expected gaps are of."""
    if log.sawn:
        return "Expected gap: as cut by the template, or as sawn by the card."
    return "Expected gap: " + (
        "as sawn by the card." if log.by == BY_SAW else "as cut by the template.")


def _form(log: FitLog) -> tuple[list[tuple[str, ...]], list[float]]:
    """The cells of each row, and the columns' widths."""
    cuts = (log.by, BY_SAW) if log.sawn else (log.by,)
    unit = first_unit()
    heads = ("clock, °", *(f"{head}\n{unit}" for head in (*cuts, *ROUNDS)))
    same = [(label, value, *("same",) * bool(value and log.sawn))
            for label, value in (*log.angles, (f"length, {unit}", log.length))]
    rows = [heads, *(_reading_row(one, len(cuts)) for one in log.readings), *same, ("by, date",)]
    others = [*(EXPECTED_MM[cut] for cut in cuts), *(ROUND_MM,) * len(ROUNDS)]
    return rows, [WIDE_MM - sum(others), *others]


def _reading_row(one: Reading, cuts: int) -> tuple[str, ...]:
    expected = map(short_cell, (one.expected, one.sawn)[:cuts])
    rounds = ("open" if np.isnan(one.expected) else "",) * len(ROUNDS)
    return f"{clock_words(one.clock)} {one.side}".rstrip(), *expected, *rounds
