"""Bends in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from coper.bench.bends import Bend, BendList
from coper.joint.sides import clock_words
from coper.shapes.words import tube_words
from coper.telling.cells import length_cells, length_heads, short_cell
from coper.telling.grid import Grid
from coper.telling.lines import Fact, Line
from coper.units import first_unit, format_length, format_short, plain

SAME_DEG = 0.05
"""Turns are shown to a tenth of a degree."""

HOW = ("Begins: where the bend begins, from the end of the blank that becomes the start of the "
       "tube, along the centreline. Turn: how far the tube is turned about its axis from the bend "
       "before, clockwise looking from the start.")

MARKED = ("Mark: the same on the blank for a bender that stretches {mm} in 90 degrees.")

UNMARKED = ("How much a bender stretches is not known: give it as stretch under [shop] to have its "
            "own marks.")

TRY = "Bend a piece of scrap first and measure it."


def bends_lines(lists: Sequence[BendList], title: str, stretch: float) -> Iterator[Line]:
    """Every bent tube with its table."""
    if title:
        yield title
    for found in lists:
        yield ""
        yield f"{found.piece.label}: {tube_words(found.piece.tube.shape)}"
        yield from (Fact(name, words) for name, words in blank_facts(found, stretch))
        yield bends_grid(found, stretch)
    yield ""
    yield from bends_notes(stretch)


def bends_notes(stretch: float) -> tuple[str, ...]:
    """What the columns mean."""
    return HOW, MARKED.format(mm=format_short(stretch)) if stretch else UNMARKED, TRY


def blank_facts(found: BendList, stretch: float) -> Iterator[tuple[str, str]]:
    """How long the blank is, and what is left straight after the last bend."""
    yield "blank", f"{format_length(found.blank)} along the centreline"
    if stretch:
        yield "needed", f"{format_length(found.needed)} with what the bender stretches"
    yield "last", f"{format_length(found.straight)} straight after the last bend"


def bends_grid(found: BendList, stretch: float) -> Grid:
    """A row for each bend."""
    columns = ["bend", f"straight, {first_unit()}", "angle", "turn", f"radius, {first_unit()}",
               "inside", *length_heads("begins,")]
    if stretch:
        columns += length_heads("mark,")
    rows = tuple(tuple(_cells(number, bend, stretch)) for number, bend in enumerate(found.bends, 1))
    return Grid(f"Bends of {found.piece.label}", tuple(columns), rows)


def _cells(number: int, bend: Bend, stretch: float) -> Iterator[str]:
    yield str(number)
    yield short_cell(bend.straight)
    yield f"{plain(round(bend.angle, 1))}°"
    yield turn_words(bend.turn)
    yield short_cell(bend.radius)
    yield "" if bend.clock is None else f"clock {clock_words(bend.clock)}"
    for place in (bend.begins, bend.mark) if stretch else (bend.begins,):
        yield from length_cells(place)


def turn_words(turn: float | None) -> str:
    """How far the tube is turned before a bend."""
    if turn is None:
        return "–"
    if abs(turn) < SAME_DEG:
        return "none"
    if 180 - abs(turn) < SAME_DEG:
        return "180°"
    way = "clockwise" if turn > 0 else "anticlockwise"
    return f"{plain(round(abs(turn), 1))}° {way}"


def labels(bends: Iterable[Bend]) -> tuple[str, ...]:
    """What stands at each bend of a drawing."""
    return tuple(f"{number}: {plain(round(bend.angle, 1))}°, {format_short(bend.begins)}"
                 for number, bend in enumerate(bends, 1))
