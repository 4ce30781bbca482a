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

COLUMNS_MM = {2: COLUMN_MM, 3: 55.0, 4: 39.75}
"""Columns side by side on the narrowest page, and how wide they are."""

BEFORE = ("job-sheet", "job-sheet frame", "job-sheet lies")
"""The blocks of a job sheet that contents follow: title, frame, which way its tubes lie."""


def with_contents(
    blocks: Sequence[Block], contents: Sequence[str], paper: str, printer: tuple[float, float]
) -> list[Block]:
    """The blocks of a job sheet, the first its title, with the contents (a line each) among them.

    They come after the picture of the frame where that leaves them room on the first page, and
    else before it. More than a page holds goes on on the next.
    """
    size = content_size(paper, printer)
    room = float("inf") if size is None else size[1] - bounds(blocks[0].marks).height - GAP_MM
    listed = [Block("job-sheet contents", marks, keep_upright=True)
              for marks in _listed(contents, room)]
    for after in (sum(block.name in BEFORE for block in blocks), 1):
        made = [*blocks[:after], *listed, *blocks[after:]]
        if page_count(made[:after + len(listed)], paper, printer) == 1:
            break
    return made


def _listed(lines: Sequence[str], room: float) -> list[tuple[Mark, ...]]:
    """The lines in as few columns side by side as hold them, none higher than ``room`` mm.

    Several drawings where not even the most columns do.
    """
    for most, width in COLUMNS_MM.items():
        columns = _columns(lines, room, width)
        if len(columns) <= most:
            break
    return [tuple(mark for at, column in enumerate(columns[first:first + most])
                  for mark in moved(column.marks, at * (width + GAP_MM), 0.0))
            for first in range(0, len(columns), most)]


def _columns(lines: Sequence[str], room: float, width: float) -> list[TextColumn]:
    columns: list[TextColumn] = []
    for words in lines:
        if not columns or columns[-1].depth + columns[-1].needs(words) > room:
            columns.append(TextColumn(width))
            columns[-1].head(f"{HEAD}, on" if columns[1:] else HEAD)
        columns[-1].line(words)
    return columns
