"""The station Bench: the card of an end, with its picture, its rounds and where to grind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np

from coper.book.entries import STEPS, EndName, Reading, Round, Tick
from coper.drawing.svg import Dress, svg_element
from coper.errors import CoperError
from coper.frame.main_changes import main_changes
from coper.job.limits import shop_limit
from coper.job.named_end import JobEnd
from coper.joint.regrind.readings import GAUGE_MM
from coper.joint.sides import clock_words, side_names
from coper.page.answers.bench_answer import (
    AnswerShown,
    RoundShown,
    Unkept,
    last_answer,
    rounds_shown,
)
from coper.page.answers.bench_list import beside
from coper.page.answers.bench_round import (
    CUT,
    ReadingShown,
    cut_choices,
    fit_of,
    readings,
)
from coper.page.answers.named import end_name
from coper.sheets.end_ring import Clock, Ground, enlarged, ring_picture
from coper.sheets.end_seen import EndSeen, end_seen
from coper.sheets.fit_log import FitLog, end_log
from coper.units import format_gap, format_short, in_inches, lengths_in

STEP_MM, STEP_IN = "0.05", "0.002"
"""By how much a button changes a reading: the finest leaves of feeler gauges."""

REMEMBERED: Final = 32

READ: Final = "read"
"""The kind of a clock in the picture that has its reading."""


@dataclass(frozen=True, slots=True)
class Card:
    """The card of one end.

    Attributes
    ----------
    name, about : str
    picture : str
        An element of SVG: the end, heel up, and where to grind after the last round.
    caption : tuple of str
        What is seen there.
    readings : tuple of ReadingShown
    cuts : tuple of (value, words)
        How it may have been cut, and which of them it was.
    cut : str
    limit : str
        The gap that is still good, where the job says one.
    step : str
        By how much a button changes a reading, in the job's unit.
    unit : str
    steps : tuple of (step, whether it is done)
    answer : AnswerShown
        What the last round was answered.
    rounds : tuple of RoundShown
        Those that are kept, the newest first.
    before, after : EndName or None
        The ends beside it in the order of work.
    """

    name: str
    about: str
    picture: str
    caption: tuple[str, ...]
    readings: tuple[ReadingShown, ...]
    cuts: tuple[tuple[str, str], ...]
    cut: str
    limit: str
    step: str
    unit: str
    steps: tuple[tuple[str, bool], ...]
    answer: AnswerShown
    rounds: tuple[RoundShown, ...]
    before: EndName | None
    after: EndName | None


@lru_cache(maxsize=REMEMBERED)
def _log(end: JobEnd) -> FitLog:
    with lengths_in(end.job.units):
        return end_log(end.piece, end.setup())


@lru_cache(maxsize=REMEMBERED)
def _seen(end: JobEnd) -> EndSeen:
    return end_seen(end.joint)


def cut_of(end: JobEnd, last: Round | None, typed: Mapping[str, str]) -> str:
    """How the end was cut: as chosen, as in the last round, as the job says."""
    usual = end.end.cope_cut if last is None else last.readings.cut
    chosen = typed.get(CUT, usual)
    try:
        fit_of(end, chosen)
    except CoperError:
        return end.end.cope_cut
    return chosen


def card(
    end: JobEnd, rounds: Sequence[Round], ticks: Sequence[Tick], typed: Mapping[str, str],
    book: str, unkept: Unkept | None = None,
) -> Card:
    """The card of an end.

    Parameters
    ----------
    end
        Of a job.
    rounds, ticks
        What its book has of it.
    typed
        What stands in its fields.
    book
        The book's name.
    unkept
        What was answered now, where it is not in the book.
    """
    name, log, last = end_name(end), _log(end), rounds[-1] if rounds else None
    cut = cut_of(end, last, typed)
    to_read = readings(end, log, last, cut, typed)
    record, gaps = (
        (unkept.record, unkept.gaps) if unkept is not None
        else (last.answer, last.readings.gaps) if last is not None else (None, ()))
    answer = unkept.answer if unkept is not None else (
        last_answer(end, rounds, book) if rounds else AnswerShown())
    done = {tick.step for tick in ticks if tick.end == name}
    limit = shop_limit(end.job.shop)
    before, after = beside(end.job.text, name)
    with lengths_in(end.job.units):
        ground = None if record is None else _ground(record, gaps)
        return Card(
            name.words, log.about, _picture(end, log, to_read, ground),
            tuple(_caption(end, ground)), to_read, cut_choices(end, cut), cut,
            "" if limit is None else format_gap(limit.mm), STEP_IN if in_inches() else STEP_MM,
            "inches" if in_inches() else "mm", tuple((step, step in done) for step in STEPS),
            answer, rounds_shown(end, rounds), before, after)


def _ground(record: Mapping[str, Any], gaps: Sequence[Reading]) -> Ground:
    """What an answer says to grind, as the picture has it."""
    sure = not record["read_also"]
    if not sure:
        words: tuple[str, ...] = ("read more", "first")
    elif record["seats_deeper"]:
        words = (format_short(record["largest"]), f"at {clock_words(record['largest_clock'])}")
    else:
        words = ("good" if record["ok"] else "leave it",)
    return Ground(
        np.array(record["clock"], dtype=np.float64), np.array(record["remove"], dtype=np.float64),
        record["largest_clock"], words, tuple(one.clock for one in gaps if one.gap <= GAUGE_MM),
        sure)


def _picture(
    end: JobEnd, log: FitLog, to_read: Sequence[ReadingShown], ground: Ground | None
) -> str:
    """The end as one looks into it from outside, and what the last round says to grind."""
    keys = [Clock(one.clock, one.name, clock_words(one.clock), one.below) for one in to_read]
    keys += [Clock(one.clock, "", clock_words(one.clock), "open") for one in log.readings
             if np.isnan(one.expected)]
    kinks = [one.clock for one in main_changes(end.end)]
    dressed = {
        f"dim-{one.name}": Dress(READ if one.typed else "", f"#{one.name}",
                                 f"take clock {one.words} in hand")
        for one in to_read}
    return svg_element(ring_picture(_seen(end), keys, kinks, ground), dressed)


def _caption(end: JobEnd, ground: Ground | None) -> Iterator[str]:
    """What is seen in the picture."""
    heel = side_names(end.joint)[end.joint.side_clock(0)]
    yield f"Looking into the end from outside, {heel} up."
    if ground is not None and ground.most > 0:
        times = f"drawn {enlarged(_seen(end), ground):.0f} times as thick"
        yield (f"Hatched band: the metal to take off, {times}." if ground.sure else
               f"Dashed band: the metal that may have to go, {times}; read more first.")
    if ground is not None and ground.touches:
        yield "Black bar inside: it touches there."
    for start, to in end.end.open:
        yield (f"Dashed wall: open from clock {clock_words(start)} to {clock_words(to)}, "
               "where there is no gap to read.")
    changes = [f"{clock_words(one.clock)} ({one.before} to {one.after})"
               for one in main_changes(end.end)]
    if changes:
        yield f"Strokes across the wall: kinks at clock {' and '.join(changes)}."
