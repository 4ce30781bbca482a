"""The order of work in words, tube by tube."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from coper.bench.assembly.assembly import Assembly, EndStep, Sheets, Spacer, Step
from coper.bench.assembly.checks import AngleCheck, LengthCheck
from coper.bench.assembly.places import Place, Seat, Stand
from coper.bench.assembly.sequence import Rank
from coper.bench.cut_list.tapered_blank import sides_label
from coper.frame.piece import Piece
from coper.frame.tube import Side
from coper.shapes.plate import Plate
from coper.telling.lines import Fact, Line
from coper.units import format_angle, format_length, format_number, format_short, format_size

HEADING = "order of work, tube by tube"

AXLES = {"axle": "the rear axle or a bar", "front-axle": "the front axle or a bar", "": "a bar"}
"""What holds two ends apart, by the name of its point."""

BESIDE_MM = 0.05
"""Two axes that pass each other nearer than this cross: a rule reads no finer."""

WAYS = (("back", "front"), ("right", "left"), ("underside", "top"))
"""Against and along the axes of the frame."""

METHOD = ("Tack on opposite sides, then check; where a length is off, break the tack and set the "
            "tube again. A length is taken from the middle of a cut end to the middle "
            "of another, of a mitre from the corner of the axes; a height is above the table.")
"""What is done after each tack, and where tape and rule are held."""

Phrase = tuple[str, Piece]
"""What is said, and the piece that it is said of."""


def assembly_lines(assembly: Assembly) -> Iterator[Line]:
    """Every step with what is done in it; nothing where nothing is to be fitted."""
    if not assembly.steps:
        return
    yield ""
    yield HEADING
    yield from method_lines(assembly)
    for number, step in enumerate(assembly.steps, 1):
        yield f"{number}. {step_title(step)}"
        for name, words in step_words(step, assembly.sheets):
            yield Fact(name, words[0], words[1:])
    yield from last_lines(assembly)


def method_lines(assembly: Assembly) -> Iterator[str]:
    """What holds of every step."""
    yield METHOD
    if assembly.stands:
        where = " over the marks of the layout" if assembly.sheets.layout else ""
        yield f"There already, clamp first{where}: {_all_of(assembly.stands)}."


def last_lines(assembly: Assembly) -> Iterator[str]:
    """What is done once all is tacked."""
    track = (' Measure the tracking before and after every run of beads, and write it in its log, '
             '"Is it straight?".' if assembly.sheets.tracking else "")
    yield ("When all is tacked, measure every length above once more, and weld in short runs on "
           f"opposite sides.{track}")


def step_title(step: Step) -> str:
    """The pieces of a step: ``chain-stay left and right``."""
    return _all_of(step.pieces)


def _all_of(pieces: Iterable[Piece]) -> str:
    """Their names in one phrase; two sides of one name together."""
    sides: dict[str, list[Side]] = {}
    for piece in pieces:
        sides.setdefault(piece.tube.name, []).append(piece.tube.side)
    return ", ".join(sides_label(name, tuple(each)) for name, each in sides.items())


def step_words(step: Step, sheets: Sheets) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What is done in a step, in its order: a name and its lines."""
    for name, lines in (
        ("cut", _cut(step)), ("shape", _shape(step, sheets)), ("hold", _hold(step)),
        ("tack", _tack(step)), ("check", _check(step)),
    ):
        if words := tuple(lines):
            yield name, words


def _merged(step: Step, phrases: Iterable[Phrase]) -> Iterator[str]:
    """Each phrase once, with the pieces that it is said of, unless that is all of them."""
    found: dict[str, list[Piece]] = {}
    for words, piece in phrases:
        found.setdefault(words, []).append(piece)
    for words, pieces in found.items():
        own = [piece for piece in step.pieces if piece in pieces]
        yield words if len(own) == len(step.pieces) else f"{_all_of(own)} {words}"


def _cut(step: Step) -> Iterator[str]:
    yield from _merged(step, ((_blank(piece), piece) for piece in step.pieces))


def _blank(piece: Piece) -> str:
    if isinstance(piece.tube.shape, Plate):
        return "by its own sheet"
    return f"to {format_length(piece.blank)}"


def _shape(step: Step, sheets: Sheets) -> Iterator[str]:
    if sheets.bends:
        yield from _merged(step, (("bent first, by the sheet of bends", piece)
                                  for piece in step.pieces if piece.tube.is_bent))
    coped = [(_shape_words(one), one.piece) for one in step.ends
             if one.end.cope is not None]
    yield from _merged(step, coped)
    if any(one.end.flat is None for one in step.ends if one.end.cope is not None):
        yield "try it in place, and dress it until the gap in its log holds"
    yield from _merged(step, ((f"{one.end.which}: its cap, by the sheet of caps, welded on last",
                               one.piece) for one in step.ends if one.end.cap))


def _shape_words(one: EndStep) -> str:
    if one.end.flat is not None:
        how = f"mitre, with {one.joins[0]}" if one.joins else "cut along its face"
        return f"{one.end.which}: {how}"
    square = ", cut square" if one.end.cut == "square" else ""
    return f"{one.end.which}: cope to {' and '.join(one.joins)}{square}"


def _hold(step: Step) -> Iterator[str]:
    yield from _merged(step, ((words, one.piece) for one in step.ends
                              for words in _held(one)))
    yield from map(_spacer_words, step.spacers)
    if step.rank == Rank.BRIDGE:
        yield "what holds the ends of the tubes that it bridges apart stays in until it is welded"


def _held(one: EndStep) -> Iterator[str]:
    which = one.end.which
    seats = {seat.label: seat for seat in one.seats}
    if one.stand is None:
        for label in one.joins:
            where = f", {_seat_words(seats[label])}" if label in seats else ", by its sheet"
            yield f"{which} seated on {label}{where}"
    if one.stand is not None:
        yield f"{which} {_stand_words(one.stand, f'{one.piece.label} {which}')}"


def _seat_words(seat: Seat) -> str:
    """How far from the main's end the two axes cross."""
    past = " past" if seat.along < 0 else " from"
    where = f"{format_short(abs(seat.along))}{past} its {seat.by}"
    axis = int(np.abs(seat.beside).argmax())
    beside = float(seat.beside[axis])
    if abs(beside) < BESIDE_MM:
        return f"axes cross {where}"
    way = WAYS[axis][int(beside > 0)]
    return f"axis {format_short(float(np.linalg.norm(seat.beside)))} to the {way}, {where}"


def _stand_words(stand: Stand, own: str) -> str:
    if stand.mark is None or stand.height is None:
        at = ", ".join(map(format_number, (round(value, 2) for value in stand.at)))
        where = f"at [{at}]"
    else:
        name = "" if stand.name == own else f", {stand.name}"
        where = f"over mark {stand.mark}{name}, {format_short(stand.height)} high"
    short = f", cut {format_size(round(stand.short, 2))} short of it" if stand.short else ""
    return f"{where}{short}"


def _spacer_words(spacer: Spacer) -> str:
    what = AXLES[spacer.axle]
    held = "dropouts" if spacer.axle else "points of the two ends"
    return f"{what} of {format_short(spacer.length)} holds the {held} apart"


def _tack(step: Step) -> Iterator[str]:
    if not step.tacks:
        yield "nothing yet: clamp it"
        return
    own = {piece.label: piece for piece in step.pieces}
    yield from _merged(step, ((f"{tack.which} to {tack.to}", own[tack.label])
                              for tack in step.tacks))


def _check(step: Step) -> Iterator[str]:
    own = {piece.label: piece for piece in step.pieces}
    yield from map(_length_words, step.lengths)
    yield from _merged(step, ((_angle_words(one), own[one.label]) for one in step.angles))
    for place in step.heights:
        assert place.height is not None
        yield f"{place.name} still {format_short(place.height)} high"
    if step.track:
        yield 'the tracking, in its log, "Is it straight?", before anything is welded'


def _length_words(check: LengthCheck) -> str:
    said = f"{_pair_words(*check.pairs[0])} {format_length(check.length)}"
    return f"{said}, and {_pair_words(*check.pairs[1])} the same" if check.pairs[1:] else said


def _pair_words(one: Place, other: Place) -> str:
    return f"{_place_words(one)} to {_place_words(other)}"


def _place_words(place: Place) -> str:
    return place.name if place.mark is None else f"{place.name} ({place.mark})"


def _angle_words(check: AngleCheck) -> str:
    return f"at {format_angle(check.angle)} to {check.to}"
