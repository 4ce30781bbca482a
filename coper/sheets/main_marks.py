"""What is marked on a main before its branches are put on: where each lands, and at which clock."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.drawing.bounds import bounds
from coper.drawing.changes import moved
from coper.drawing.marks import GAP_MM, PLAIN_HEIGHT, Mark
from coper.frame.main_landings import MainLanding
from coper.frame.piece import Piece
from coper.joint.sides import clock_words
from coper.pages.compose import Block, parts
from coper.pages.grid import HIGH_MM, WIDE_MM, grid_blocks
from coper.pages.text import TextColumn
from coper.sheets.main_marks_drawing import Unrolled, drawing, unrolled
from coper.telling.cells import length_cells, length_heads, short_cell
from coper.telling.grid import Grid
from coper.telling.words.landing import blank_words, hook_words
from coper.telling.words.piece import zero_words
from coper.units import first_unit, plain

HOW = ("At each distance draw a line across {label}, and at its clock one along it. The footprint "
       "goes on with its own two lines on these; its arrow points to the end of {label}.")


def main_marks_blocks(
    main: Piece, landings: Sequence[MainLanding], letters: Sequence[str]
) -> Iterator[Block]:
    """The sheet of a tube that something lands on, in parts where it is too high for one.

    ``letters`` are those of the pages that have the footprints.
    """
    laid = unrolled(main, landings)
    picture = _picture(laid, landings)
    first, *others = grid_blocks(_grid(main, landings, letters))
    together = moved(first, 0.0, bounds(picture).bottom - 2 * GAP_MM)
    whole = (*picture, *together)
    drawings = [whole] if bounds(whole).height <= HIGH_MM else [picture, first]
    yield from parts(marks_name(main), (*drawings, *others))


def marks_name(main: Piece) -> str:
    """What the sheet of a main is called in the file."""
    return f"marks on {main.label}"


def _picture(laid: Unrolled, landings: Sequence[MainLanding]) -> tuple[Mark, ...]:
    """The drawing under its heading, the upper left corner at the origin."""
    main = laid.main
    head = TextColumn(WIDE_MM)
    head.head(f"Marks on {main.label}")
    head.line(f"Unrolled, seen from outside, its start at the left; drawn 1 : {plain(laid.along)} "
              f"along and 1 : {plain(laid.round)} round. Distances, {first_unit()}, from "
              f"{hook_words(main)}{_along_words(main)}. Clock 0: {zero_words(main.tube)}.")
    drawn = drawing(laid, landings)
    box = bounds(drawn)
    return (*head.marks, *moved(drawn, -box.left, -head.depth - PLAIN_HEIGHT - box.top))


def _along_words(main: Piece) -> str:
    return ", along the middle of the bent tube" if main.tube.is_bent else ""


def _grid(main: Piece, landings: Sequence[MainLanding], letters: Sequence[str]) -> Grid:
    unit = first_unit()
    rows = tuple(
        (f"{number} {one.words}", *length_cells(one.at), short_cell(one.to_end),
         "" if one.clock is None else clock_words(one.clock),
         short_cell(one.reach[0]), short_cell(one.reach[1]), one.heel or "square", letter)
        for number, (one, letter) in enumerate(zip(landings, letters, strict=True), 1))
    note = " ".join(filter(None, (HOW.format(label=main.label), blank_words(main))))
    return Grid(f"What lands on {main.label}",
                ("branch", *length_heads("from start"), f"to end {unit}", "clock",
                 f"edge from {unit}", f"to {unit}", "heel to", "page"), rows, note)
