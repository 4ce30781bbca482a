"""The station Bench: the shaped ends, and of each its rounds of readings and where to grind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from coper.book.entries import STEPS, EndName, Round, Tick
from coper.drawing.svg import svg_element
from coper.errors import CoperError, WordsError
from coper.job.limits import shop_limit
from coper.job.named_end import JobEnd
from coper.joint.regrind.regrind import Regrind
from coper.joint.sides import clock_words
from coper.page.answers.change import every_fault
from coper.page.answers.named import end_name, pieces_of
from coper.sheets.end_ring import Seen, ring_picture
from coper.sheets.fit_log import FitLog, end_log
from coper.units import format_gap, in_inches, lengths_in
from coper.verbs.answer import Answer
from coper.verbs.cut_way import cut_words
from coper.verbs.gaps import TypedGaps, typed_gaps
from coper.verbs.kept_round import keeping_round
from coper.verbs.regrind import regrind

STEP_MM, STEP_IN = "0.05", "0.002"
"""By how much a button changes a reading: the finest leaves of feeler gauges."""

GAP: Final = "gap."
"""What the name of a reading's field begins with; its clock follows."""

REMEMBERED: Final = 32


@dataclass(frozen=True, slots=True)
class EndShown:
    """An end in the list: its name, the parts of its address, the steps done, how many rounds."""

    name: str
    parts: tuple[str, str, str]
    done: tuple[str, ...]
    rounds: int


@dataclass(frozen=True, slots=True)
class ReadingShown:
    """A clock to read: the name of its field, its words, the gap to expect, what was typed."""

    name: str
    words: str
    expected: str
    typed: str = ""


@dataclass(frozen=True, slots=True)
class Card:
    """The card of one end.

    Attributes
    ----------
    title, about : str
    picture : str
        An element of SVG: the end, heel up, and where to grind after the last round.
    readings : tuple of ReadingShown
    limit : str
        The gap that is still good, where the job says one.
    step : str
        By how much a button changes a reading, in the job's unit.
    unit : str
    steps : tuple of (step, whether it is done)
    rounds : tuple of Round
        Those that are kept, the newest first.
    """

    title: str
    about: str
    picture: str
    readings: tuple[ReadingShown, ...]
    limit: str
    step: str
    unit: str
    steps: tuple[tuple[str, bool], ...]
    rounds: tuple[Round, ...]


def ends(
    text: str, rounds: Sequence[Round], ticks: Sequence[Tick]
) -> tuple[tuple[EndShown, ...], tuple[str, ...]]:
    """Every end that seats on a main; or why there is none."""
    try:
        pieces = pieces_of(text)
    except CoperError as error:
        return (), every_fault(error)
    shown = []
    for piece in pieces:
        for end in piece.ends:
            if end.cope is None or end.flat is not None:
                continue
            name = EndName(piece.tube.name, piece.tube.side, end.which)
            shown.append(EndShown(
                name.words, (name.tube, name.side, name.end),
                tuple(tick.step for tick in ticks if tick.end == name),
                sum(one.readings.end == name for one in rounds)))
    return tuple(shown), ()


@lru_cache(maxsize=REMEMBERED)
def _log(end: JobEnd) -> FitLog:
    with lengths_in(end.job.units):
        return end_log(end.piece, end.setup())


def card(
    end: JobEnd, rounds: Sequence[Round], ticks: Sequence[Tick], typed: Mapping[str, str]
) -> Card:
    """The card of an end, with what is kept of it and what stands in its fields."""
    log, name = _log(end), end_name(end)
    with lengths_in(end.job.units):
        limit = shop_limit(end.job.shop)
        readings = tuple(
            ReadingShown(GAP + clock_words(one.clock),
                         f"{clock_words(one.clock)}°{f' {one.side}' if one.side else ''}",
                         format_gap(one.expected), typed.get(GAP + clock_words(one.clock), ""))
            for one in log.readings if not np.isnan(one.expected))
        done = {tick.step for tick in ticks if tick.end == name}
        return Card(
            log.title, log.about, _picture(end, log, rounds[-1] if rounds else None), readings,
            "" if limit is None else format_gap(limit.mm), STEP_IN if in_inches() else STEP_MM,
            "in" if in_inches() else "mm", tuple((step, step in done) for step in STEPS),
            tuple(reversed(rounds)))


def _picture(end: JobEnd, log: FitLog, last: Round | None) -> str:
    """The end as one looks into it from outside, and what the last round says to grind."""
    remove = None
    if last is not None:
        values = [np.nan if one is None else one for one in last.answer["remove"]]
        remove = (last.answer["clock"], values)
    heel = end.joint.counted(end.joint.heel_clock)
    seen = Seen(float(heel), end.end.which == "start")
    clocks = [(one.clock, f"{clock_words(one.clock)}{f' {one.side}' if one.side else ''}")
              for one in log.readings]
    return svg_element(ring_picture(seen, clocks, remove))


def answered(end: JobEnd, typed: Mapping[str, str], file: str) -> Answer[Regrind]:
    """Where to grind, by what was typed; its ``keep`` keeps the round in the book of ``file``.

    Raises
    ------
    CoperError
        Where the readings cannot be used.
    """
    pairs = [(name.removeprefix(GAP), " ".join(words.split())) for name, words in typed.items()
             if name.startswith(GAP) and words.strip()]
    if not pairs:
        raise WordsError("no reading", "give the gap at 3 clocks at least, 0 where it touches")
    with lengths_in(end.job.units):
        gaps: TypedGaps = typed_gaps(",".join(f"{clock}={gap}" for clock, gap in pairs))
        limit = shop_limit(end.job.shop)
        answer = regrind(end, gaps.pairs, limit=limit, printer=end.job.shop.printer)
        return keeping_round(answer, end, file, gaps, cut_words(end.end.cope_cut, ()), limit)
