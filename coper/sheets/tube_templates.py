"""The sheets of a placed tube: one strip for a short one, a strip an end for a long one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from coper.drawing.marks import Mark
from coper.frame.end import TubeEnd
from coper.frame.main_landings import landed_on
from coper.frame.piece import Piece
from coper.frame.stance import Stance
from coper.frame.tube import Which
from coper.joint.sides import clock_words
from coper.pages.compose import Block
from coper.pages.text import column
from coper.shapes.shape import BranchShape
from coper.sheets.counting import counted_edge
from coper.sheets.footprint import MARGIN_MM, footprint_marks
from coper.sheets.joint_notes import CUT_WORDS
from coper.sheets.setup_card import LEVEL_MM
from coper.sheets.strip import (
    ARC_STEPS,
    DATUM_MM,
    CutEdge,
    Datum,
    Strip,
    end_strip,
    whole_strip,
)
from coper.sheets.strip_marks import strip_marks
from coper.telling.lines import sentence
from coper.telling.words.joint import named
from coper.telling.words.landing import OnMain, place_lines
from coper.telling.words.piece import flat_words, heel_words, taper_words, zero_words
from coper.telling.words.standing import stands_words
from coper.tolerances import SQUARE_DEG
from coper.units import INCH_MM, format_length, format_short, in_inches, plain

SHORT_MM = 200.0
"""A tube no longer than this, between its long points, gets one strip: it fits every page."""

LINES_APART_MM = 11.0
"""A quarter's line is left out where a heel's line stands nearer than this."""

DATUM_STEP_MM, DATUM_STEP_IN = 5.0, 0.25
"""Distances that a tape shows without reading between its lines."""

LEAST_DATUM_MM = 50.0
"""A shorter one is measured with a rule from end to end."""

QUARTERS = (0.0, 90.0, 180.0, 270.0)


Places = Mapping[int, Sequence[OnMain]]
"""Where the footprints of an end go, by the number of its main."""


def piece_blocks(
    piece: Piece, paper: float, glue: float, places: Mapping[Which, Places] | None = None,
    blank: str = "",
) -> Iterator[Block]:
    """Strips and footprints of one tube, all to cut out; ``paper`` and ``glue`` in mm.

    ``places`` is where the footprints of both ends go, as far as they say so, ``blank`` what the
    tube is on the cut list, where that is known.
    """
    label = piece.label
    for name, strip in piece_strips(piece, paper, glue):
        yield Block(f"{label} {name}", strip_marks(replace(strip, blank=blank)))
    for end in piece.ends:
        yield from footprint_blocks(label, end, paper, (places or {}).get(end.which, {}))


def footprint_blocks(
    label: str, end: TubeEnd, paper: float, places: Places
) -> Iterator[Block]:
    """Where an end of the tube ``label`` lands on each of its mains; ``paper`` in mm."""
    for index in landed_on(end):
        assert end.cope is not None
        words = footprint_name(label, end, index)
        yield Block(words, footprint_marks(
            end.cope, paper, _quarter_names(end), index, words,
            place_lines(places[index], MARGIN_MM) if index in places else ()))


def footprint_name(label: str, end: TubeEnd, main: int) -> str:
    """What the footprint of an end of the tube ``label`` on number ``main`` of its mains is."""
    return f"{label} {end.which} on {end.mains[main].label}"


def notes_block(piece: Piece, about: Sequence[str] = ()) -> Block:
    """What is to be known of one tube; ``about`` is said before all else."""
    return Block(notes_name(piece), _notes(piece, about))


def notes_name(piece: Piece) -> str:
    """What its notes are called in the file."""
    return f"{piece.label} notes"


def piece_strips(piece: Piece, paper: float, glue: float) -> Iterator[tuple[str, Strip]]:
    """The strips by name: ``whole``, or ``start`` and ``end`` where those are coped."""
    whole = _whole(piece, paper, glue, _seam(piece))
    if whole.edges[1].long - whole.edges[0].long <= SHORT_MM:
        yield "whole", whole
        return
    for end in piece.ends:
        if end.cope is not None:
            yield end.which, _of_end(piece, end, whole)


def one_strip(
    piece: Piece, end: TubeEnd, paper: float, glue: float, seam: float | None = None
) -> Strip:
    """The strip of one coped end; ``paper`` and ``glue`` in mm, ``seam`` a clock in degrees."""
    at = _seam(piece) if seam is None else seam % 360
    return _of_end(piece, end, _whole(piece, paper, glue, at))


def _whole(piece: Piece, paper: float, glue: float, seam: float) -> Strip:
    branch: BranchShape = piece.tube.seen_from("start")[0]
    edges = (cut_edge(piece, piece.start, seam), cut_edge(piece, piece.end, seam))
    return whole_strip(branch, paper / 2, edges, _sides(piece, branch.girth(paper / 2), seam),
                       piece.label, glue, piece.blank_ends, _tab_names(piece, *piece.ends),
                       piece.allowance)


def _of_end(piece: Piece, end: TubeEnd, whole: Strip) -> Strip:
    at = piece.ends.index(end)
    return end_strip(whole, whole.edges[at], (0.0, piece.tube.length)[at], f"{end.which} point",
                     piece.blank_ends[at], _tab_names(piece, end),
                     None if piece.tube.is_bent else tube_datum(piece, end, whole))


def tube_datum(piece: Piece, end: TubeEnd, whole: Strip) -> Datum | None:
    """Where a tape is laid on at a coped end of a long tube; ``None`` where there is no room.

    The two strips of a tube have theirs a round distance apart; the only one of a tube has it a
    round distance from the plain end. What is left of a step is given to the end's side.
    """
    start, last = (edge.short + edge.body * DATUM_MM for edge in whole.edges)
    coped = [one.cope is not None for one in piece.ends]
    step = DATUM_STEP_IN * INCH_MM if in_inches() else DATUM_STEP_MM
    far, to = last - start, "from line to line"
    if not all(coped):
        far = piece.end.reach - start if coped[0] else last - piece.start.reach
        to = f"to the plain {'end' if coped[0] else 'start'}"
    distance = math.floor(far / step) * step
    if distance < LEAST_DATUM_MM:
        return None
    at = start
    if end.which == "end":
        at = start + distance if all(coped) else piece.start.reach + distance
    elif not all(coped):
        at = piece.end.reach - distance
    return Datum(at, distance, to)


def _tab_names(piece: Piece, *ends: TubeEnd) -> tuple[str, ...]:
    """What a strip is of: the tube with its side in capitals, its end, and what that seats on."""
    side = "" if piece.tube.side == "centre" else f" {piece.tube.side.upper()}"
    which = f", {ends[0].which}" if len(ends) == 1 else ", both ends"
    mains = [main.label for end in ends for main in end.mains]
    on = (f"on {' and '.join(dict.fromkeys(mains))}",) if mains else ()
    return (f"{piece.tube.name}{side}{which}", *on)


def cut_edge(piece: Piece, end: TubeEnd, seam: float) -> CutEdge:
    """The line to cut at one end, drawn finely, in the tube's own clock from the seam on."""
    body = 1 if end.which == "start" else -1
    if end.cope is None:
        clock = np.linspace(seam, seam + 360, ARC_STEPS + 1)
        return CutEdge(clock, np.full(clock.shape, end.long_point.along), body)
    drawn = end.cope.drawn_template(end.cope_cut, 0.0, body * seam)
    return counted_edge(piece.tube, end.which, drawn.clock, drawn.along)


def _seam(piece: Piece) -> float:
    """Across from the first end's heel; at clock 180 where both ends are plain."""
    heels = [seat.heel_clock for end in piece.ends for seat in end.stances]
    return (heels[0] + 180) % 360 if heels else 180.0


def _sides(piece: Piece, girth: float, seam: float) -> dict[float, str]:
    """The lines along the tube: both heels, and the quarters that stand clear of them."""
    seats: dict[str, Stance] = {end.which: end.stances[0] for end in piece.ends if end.stances}
    clocks = [seat.heel_clock for seat in seats.values()]
    if len(clocks) == 2 and _apart(clocks[0], clocks[1], girth) < LINES_APART_MM:
        seats = {"both ends": seats["start"]}
    sides = {seat.heel_clock: f"{plain(round(seat.heel_clock, 1))} {_heel_name(seat)}, {which}"
             for which, seat in seats.items()}
    for clock in QUARTERS:
        taken = (*sides, seam - LINES_APART_MM / 2 / girth * 360)
        if all(_apart(known, clock, girth) >= LINES_APART_MM for known in taken):
            sides[clock] = f"{clock:.0f}"
    return sides


def _heel_name(seat: Stance) -> str:
    """What its heel is called: where a tube stands square on its main, it has none."""
    return "main +" if abs(seat.angle - 90) <= SQUARE_DEG else "heel"


def _apart(one: float, other: float, girth: float) -> float:
    """How far two clocks lie apart round the outside, mm."""
    return abs((one - other + 180) % 360 - 180) / 360 * girth


def _quarter_names(end: TubeEnd) -> dict[float, str]:
    """The quarters by the end's own clock, and their names by the tube's."""
    way = 1 if end.which == "start" else -1
    return {way * clock % 360: f"{clock:.0f}" for clock in QUARTERS}


def _notes(piece: Piece, about: Sequence[str]) -> tuple[Mark, ...]:
    tube = piece.tube
    lines = [
        *about,
        named(tube.shape),
        f"Blank {format_length(piece.blank)}, shaped {format_short(piece.shaped)}; "
        f"point to point {format_length(tube.length)}",
        f"Clock 0: {zero_words(tube)}.",
        *(sentence(words) for words in (stands_words(tube),) if words),
        *(line for end in piece.ends for line in _end_lines(piece, end)),
        *(f"{cut.capitalize()} cut: {CUT_WORDS[cut]}"
          for cut in dict.fromkeys(end.cut for end in piece.ends if end.cope)),
    ]
    if any(end.cope for end in piece.ends):
        lines.append(WRAP)
    if piece.heels is not None:
        lines.append(f"Turn: {heel_words(piece.heels)}.")
    if taper := taper_words(tube):
        lines.append(f"Taper: {taper}.")
    return column(piece.label, (*lines, *piece.cautions))


def end_notes(piece: Piece, end: TubeEnd, title: str) -> tuple[Mark, ...]:
    """What one end's template is for and how it is used."""
    return column(title, (
        named(piece.tube.shape), f"Clock 0: {zero_words(piece.tube)}.", *_end_lines(piece, end),
        f"{end.cut.capitalize()} cut: {CUT_WORDS[end.cut]}", WRAP))


WRAP = "Wrap a template with its dashed line on the blank's end."


def _end_lines(piece: Piece, end: TubeEnd) -> Iterator[str]:
    if end.cope is None:
        yield (f"{end.which.capitalize()}: cut off plain, {format_length(end.reach)} from the "
               f"start point, {_from_blank(piece, end)}")
        return
    if end.flat is not None:
        yield f"{end.which.capitalize()}: {flat_words(end.flat)}"
    for main, seat in () if end.flat else zip(end.mains, end.stances, strict=True):
        offset = (f"offset {format_length(seat.offset)}" if abs(seat.offset) >= LEVEL_MM
                  else "no offset")
        yield (f"{end.which.capitalize()} on {main.label}: angle {plain(round(seat.angle, 2))}°, "
               f"{offset}, {_heel_name(seat)} at own clock {clock_words(seat.heel_clock)}")
    yield f"Long point at {long_point_words(piece, end)}"


def long_point_words(piece: Piece, end: TubeEnd) -> str:
    """Where the long point is: round the tube, on it, and on its blank."""
    return (f"clock {plain(round(end.long_point.clock, 1))}, {format_length(end.long_point.along)} "
            f"from the start point, {_from_blank(piece, end)}")


def _from_blank(piece: Piece, end: TubeEnd) -> str:
    return f"{format_short(piece.from_blank(end, end.long_point.along))} from the blank's end"
