"""What a packet holds, every page of it: on the first page, whatever else has to make room."""

from __future__ import annotations

from collections.abc import Sequence

from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.marks import Mark
from coper.pages.compose import Block, page_count
from coper.pages.paper import content_size
from coper.pages.room import GAP_MM
from coper.pages.text import COLUMN_MM, TextColumn

HEAD = "In this packet"

BEFORE = ("job-sheet", "job-sheet frame", "job-sheet lies")
"""The blocks of a job sheet that contents follow: title, frame, which way its tubes lie."""


def with_contents(
    blocks: Sequence[Block], contents: Sequence[str], paper: str, printer: tuple[float, float]
) -> list[Block]:
    """The blocks of a job sheet, the first its title, with the contents (a line each) among them.

    They come after the picture of the frame where that leaves them room on the first page, and
    else before it.
    """
    size = content_size(paper, printer)
    room = float("inf") if size is None else size[1] - bounds(blocks[0].marks).height - GAP_MM
    listed = Block("job-sheet contents", _columns(contents, room), keep_upright=True)
    for after in (sum(block.name in BEFORE for block in blocks), 1):
        made = [*blocks[:after], listed, *blocks[after:]]
        if page_count(made[:after + 1], paper, printer) == 1:
            break
    return made


def _columns(lines: Sequence[str], room: float) -> tuple[Mark, ...]:
    """Columns side by side, none higher than ``room`` mm."""
    columns: list[TextColumn] = []
    for words in lines:
        column = columns[-1] if columns else None
        if column is None or column.depth + column.needs(words) > room:
            column = TextColumn(COLUMN_MM)
            column.head(HEAD if not columns else f"{HEAD}, on")
            columns.append(column)
        column.line(words)
    return tuple(mark for at, column in enumerate(columns)
                 for mark in moved(column.marks, at * (COLUMN_MM + GAP_MM), 0.0))
