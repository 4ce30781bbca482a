"""What the shop book holds, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coper.book.entries import EndName, MadePart, Round, Tick, Version
from coper.frame.tube import labelled
from coper.joint.regrind.readings import GAUGE_MM
from coper.joint.sides import clock_words
from coper.telling.cells import bare
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.units import first_unit, format_angle, format_short


def kept_lines(kept: Round, before: Sequence[Round], again: bool, book: str) -> Iterator[Line]:
    """That a round is kept, and what became of the one before it.

    ``before`` are the rounds before it, ``again`` says that it had been kept already.
    """
    name = f"round {kept.number} of {kept.readings.end.words}"
    yield Fact("book", f"{name} was kept already, in {book}" if again
               else f"{name}, kept in {book}")
    if not before:
        return
    last = before[-1]
    yield Fact(f"round {last.number}", f"{_largest(last)} at the most, then "
               f"{format_short(last.promised)} was to be expected: it is {_largest(kept)}")
    grown = kept.readings.largest - last.readings.largest
    if grown > 2 * GAUGE_MM:
        yield Caution(f"the largest gap has grown by {format_short(grown)} since round "
                      f"{last.number}: see that the tube is home and turned as it was, and read "
                      "again before any metal goes")
    if last.readings.cut != kept.readings.cut:
        yield Caution(f"round {last.number} was answered for an end cut "
                      f"{_cut(last.readings.cut)}, this one for {_cut(kept.readings.cut)}: give "
                      "the cut that was made, with --cut")
    if last.version != kept.version:
        yield Caution("the job file has changed since the last round: the end may have been cut "
                      "for other numbers")


def book_lines(
    rounds: Sequence[Round], ticks: Sequence[Tick], made: Sequence[MadePart],
    versions: Sequence[Version],
) -> Iterator[Line]:
    """All that is in it: the rounds of each end, ticks, finished parts, the job file's versions."""
    for end in dict.fromkeys(one.readings.end for one in rounds):
        yield _rounds_grid(end, [one for one in rounds if one.readings.end == end])
    if ticks:
        yield Grid("done", ("end", "step", "when"), tuple(
            (one.end.words, one.step, when(one.at)) for one in ticks))
    if made:
        yield Grid("measured on finished parts", ("part", "what", "is", "when"), tuple(
            (labelled(one.tube, one.side), one.what, value_words(one), when(one.at))
            for one in made))
    yield Grid("the job file as it was when something was kept", ("version", "when", "lines"),
               tuple((str(one.number), when(one.at), _difference(versions, place))
                     for place, one in enumerate(versions)))


def _rounds_grid(end: EndName, rounds: Sequence[Round]) -> Grid:
    unit = first_unit()
    return Grid(f"rounds of {end.words}",
                ("round", "when", f"largest {unit}", "clock", f"then {unit}", "answered", "cut"),
                tuple(_round_row(one) for one in rounds))


def _round_row(one: Round) -> tuple[str, ...]:
    at = max(one.readings.gaps, key=lambda reading: reading.gap)
    return (str(one.number), when(one.at), bare(format_short(at.gap)), clock_words(at.clock),
            bare(format_short(one.promised)), answered_words(one), one.readings.cut)


def answered_words(one: Round) -> str:
    """What to take off, as it was answered; nothing goes where the end was good or fitted."""
    if one.answer["ok"] or not one.answer["largest"]:
        return "leave it"
    return (f"take off up to {format_short(one.answer['largest'])} at "
            f"{clock_words(one.answer['largest_clock'])}")


def value_words(part: MadePart) -> str:
    """What it measured."""
    return format_short(part.value) if part.what == "length" else format_angle(part.value)


def when(at: str) -> str:
    """A time of the book as it is read: ``2026-11-26 07:31 UTC``."""
    return f"{at[:16].replace('T', ' ')} UTC"


def _difference(versions: Sequence[Version], place: int) -> str:
    """How many lines a version has, or what came and went since the one before."""
    own = versions[place].text.splitlines()
    if not place:
        return f"{len(own)} lines"
    other = versions[place - 1].text.splitlines()
    came, went = (len([line for line in one if line not in frozenset(rest)])
                  for one, rest in ((own, other), (other, own)))
    return f"{came} new, {went} gone"


def _largest(one: Round) -> str:
    return format_short(one.readings.largest)


def _cut(cut: str) -> str:
    return f"by {cut}" if cut.startswith("saw") else cut
