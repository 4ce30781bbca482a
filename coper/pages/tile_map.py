r"""The map of a drawing in tiles: which page lies where, and how they are joined.

::

    column   1    2    3
     row 1 | K  | L  | M  |
     row 2 | N  | –  | O  |      –: nothing is there, and no page
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from coper.drawing.bounds import bounds
from coper.drawing.letters import text_width, wrap_text
from coper.drawing.marks import FINE, GAP_MM, NOTE_HEIGHT, Mark, Text
from coper.pages.boxes import box_path
from coper.pages.text import LINE_MM, TextColumn, set_lines

Place = tuple[int, int]
"""Column and row, from 0."""

CELL_MM: Final = (8.0, 5.0)
"""Of a page: room for two letters."""

WIDTHS_MM: Final = (60.0, 85.0, 120.0, 170.0)
"""The words of a map are wrapped to one of these: the narrowest that finds room."""

MOST_ROWS: Final = 20
"""A map of more is words alone: it would take a page for itself."""

MOST_NAMED: Final = 6
"""Places that are left out are named up to this many."""

HOW: Final = ("Cut each page along its dashed join lines and tape it to its neighbours so that the "
              "triangles meet; the letters beside a line are the pages on its two sides.")


def place_words(place: Place) -> str:
    """A tile by where it is: ``row 2, column 1``."""
    return f"row {place[1] + 1}, column {place[0] + 1}"


def tile_maps(name: str, letters: Mapping[Place, str]) -> Iterator[tuple[Mark, ...]]:
    """The map of the pages ``letters``, in the shapes that it may have, the best first.

    Each has its upper left corner at the origin; the last one is words alone, and low.
    """
    columns = max(column for column, _ in letters) + 1
    rows = max(row for _, row in letters) + 1
    beside = max(text_width(words, NOTE_HEIGHT) for words in (f"row {rows}", "column")) + GAP_MM
    for wide in WIDTHS_MM:
        if rows <= MOST_ROWS and beside + columns * CELL_MM[0] <= wide:
            yield _map(name, letters, wide, tuple(_cells(letters, columns, rows, beside)))
    ordered = [letters[place] for place in sorted(letters, key=_reading)]
    words = (f"Row by row from the upper left: {ordered[0]} to {ordered[-1]}, in {rows} rows and "
             f"{columns} columns.")
    for wide in WIDTHS_MM[::2]:
        yield _map(name, letters, wide, tuple(
            set_lines(wrap_text(words, wide, NOTE_HEIGHT), 0.0, 0.0)))


def _reading(place: Place) -> Place:
    """The order in which tiles have their letters."""
    return place[1], place[0]


def _map(
    name: str, letters: Mapping[Place, str], wide: float, table: tuple[Mark, ...]
) -> tuple[Mark, ...]:
    """The head, the ``table``, whose top is at ``y`` 0, and how to join, ``wide`` mm."""
    column = TextColumn(wide)
    column.lines(wrap_text(f"{name}: {len(letters)} pages", wide, NOTE_HEIGHT, bold=True),
                 bold=True)
    column.put(table, GAP_MM)
    column.skip(-bounds(table).bottom)
    column.skip(GAP_MM)
    column.line(HOW)
    for words in _left_out(letters):
        column.line(words)
    return column.marks


def _left_out(letters: Mapping[Place, str]) -> list[str]:
    columns = max(column for column, _ in letters) + 1
    rows = max(row for _, row in letters) + 1
    missing = [(column, row) for row in range(rows) for column in range(columns)
               if (column, row) not in letters]
    if not missing:
        return []
    named = "; ".join(map(place_words, missing[:MOST_NAMED]))
    more = f"; and {len(missing) - MOST_NAMED} more" if len(missing) > MOST_NAMED else ""
    return [f"Left out, for nothing is drawn there: {named}{more}."]


def _cells(
    letters: Mapping[Place, str], columns: int, rows: int, beside: float
) -> Iterator[Mark]:
    """A box a tile with its page; the first page's letter bold: it is this one."""
    wide, high = CELL_MM
    base = -LINE_MM
    yield Text((0.0, base), "column", NOTE_HEIGHT)
    for column in range(columns):
        yield Text((beside + (column + 0.5) * wide, base), str(column + 1), NOTE_HEIGHT, "middle")
    below = base - GAP_MM
    first = min(letters, key=_reading)
    for row in range(rows):
        low = below - (row + 1) * high
        middle = low + (high - NOTE_HEIGHT) / 2
        yield Text((0.0, middle), f"row {row + 1}", NOTE_HEIGHT)
        for column in range(columns):
            left, place = beside + column * wide, (column, row)
            yield box_path(left, low, wide, high, FINE, name="tile")
            yield Text((left + wide / 2, middle), letters.get(place, "–"), NOTE_HEIGHT, "middle",
                       bold=place == first)
