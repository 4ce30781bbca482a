"""What a round of readings is answered, and what is kept of those before it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np

from coper.book.entries import Reading, Round
from coper.errors import CoperError
from coper.job.limits import shop_limit
from coper.job.named_end import JobEnd
from coper.joint.cautions import SAFETY
from coper.joint.regrind.regrind import Regrind
from coper.joint.sides import clock_words
from coper.page.answers.bench_round import cut_in, typed_pairs
from coper.page.answers.words import Block, blocks
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.telling.records.regrind import regrind_record
from coper.telling.words.book import answered_words, kept_lines, when
from coper.units import format_short, lengths_in
from coper.verbs.answer import Answer
from coper.verbs.cut_way import cut_words
from coper.verbs.gaps import typed_gaps
from coper.verbs.kept_round import keeping_round
from coper.verbs.regrind import regrind

REMEMBERED: Final = 32

SAME_MM: Final = 1e-6
"""An answer to the same readings that differs by more is that of another job."""

LARGE: Final = ("GOOD", "TOO OPEN", "take off")
"""The facts that are shown large."""


@dataclass(frozen=True, slots=True)
class AnswerShown:
    """An answer as it is shown: what is large, the rest, and what is there to look up."""

    large: tuple[Block, ...] = ()
    blocks: tuple[Block, ...] = ()
    more: tuple[Block, ...] = ()


@dataclass(frozen=True, slots=True)
class Unkept:
    """A round that was answered and could not be kept.

    Attributes
    ----------
    answer : AnswerShown
    record : dict
        ``regrind`` of the JSON.
    gaps : tuple of Reading
    """

    answer: AnswerShown
    record: Mapping[str, Any]
    gaps: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class RoundShown:
    """A round that is kept: its number, when, what was read, promised and came; as typed."""

    number: int
    when: str
    words: str
    typed: str


@lru_cache(maxsize=REMEMBERED)
def _answer(end: JobEnd, gaps: tuple[tuple[float, float], ...], cut: str) -> Answer[Regrind]:
    how, passes = cut_in(cut, end)
    shop = end.job.shop
    return regrind(end, gaps, how, passes, shop_limit(shop), shop.printer)


def answered(end: JobEnd, typed: Mapping[str, str], file: str, cut: str) -> Answer[Regrind]:
    """Where to grind, by what was typed; its ``keep`` keeps the round in the book of ``file``.

    Raises
    ------
    CoperError
        Where the readings or the cut cannot be used.
    """
    with lengths_in(end.job.units):
        gaps = typed_gaps(typed_pairs(typed))
    how, passes = cut_in(cut, end)
    answer = _answer(end, gaps.pairs, cut)
    return keeping_round(answer, end, file, gaps, cut_words(how or end.end.cope_cut, passes),
                         shop_limit(end.job.shop))


def unkept_answer(
    end: JobEnd, answer: Answer[Regrind], typed: Mapping[str, str], lines: Iterable[Line]
) -> Unkept:
    """An answer to what was typed, with ``lines`` that say why it is not kept."""
    record = _record(end, answer)
    with lengths_in(end.job.units):
        gaps = tuple(Reading(*pair) for pair in typed_gaps(typed_pairs(typed)).pairs)
    shown = answer_shown((*_after_title(answer), *lines), bool(record["read_also"]))
    return Unkept(shown, record, gaps)


def last_answer(end: JobEnd, rounds: Sequence[Round], book: str) -> AnswerShown:
    """What the last round was answered, once more; that the job is another one since, if it is."""
    last = rounds[-1]
    try:
        gaps = tuple((one.clock, one.gap) for one in last.readings.gaps)
        answer = _answer(end, gaps, last.readings.cut)
        same = _same(_record(end, answer), last.answer)
    except CoperError:
        same = False
    if not same:
        return answer_shown((Caution(
            f"the job has changed since round {last.number}: what it was answered holds for the "
            "end as it was; read again"),), False)
    with lengths_in(end.job.units):
        kept = tuple(kept_lines(last, rounds[:-1], False, book))
    return answer_shown((*_after_title(answer), *kept), bool(last.answer["read_also"]))


def _record(end: JobEnd, answer: Answer[Regrind]) -> dict[str, Any]:
    """What the book has of an answer."""
    limit = shop_limit(end.job.shop)
    return regrind_record(end.joint, answer.result, None if limit is None else limit.mm)


def _after_title(answer: Answer[Regrind]) -> Iterator[Line]:
    """Its lines, without the end that the card is about anyway."""
    return (line for line in answer.lines() if line != answer.title)


def _same(now: Mapping[str, Any], then: Mapping[str, Any]) -> bool:
    return len(now["remove"]) == len(then["remove"]) and np.allclose(
        np.array(now["remove"], dtype=np.float64), np.array(then["remove"], dtype=np.float64),
        rtol=0.0, atol=SAME_MM, equal_nan=True)


def answer_shown(lines: Iterable[Line], read_also: bool) -> AnswerShown:
    """The lines of an answer as they are shown; nothing is called good before all is read."""
    large: list[Line] = []
    rest: list[Line] = []
    more: list[Line] = []
    for line in lines:
        match line:
            case Caution(words) if words.startswith("read also"):
                large.append(line)
            case Fact(name) if name in LARGE and not read_also:
                large.append(line)
            case Grid(head) if head == "The metal":
                more.append(line)
            case Caution(words) if words in SAFETY:
                more.append(line)
            case _:
                rest.append(line)
    return AnswerShown(blocks(large), blocks(rest), blocks(more))


def rounds_shown(end: JobEnd, rounds: Sequence[Round]) -> tuple[RoundShown, ...]:
    """The rounds, the newest first: what was read, what was promised, and what came."""
    with lengths_in(end.job.units):
        found = []
        for one, after in zip(rounds, [*rounds[1:], None], strict=False):
            largest = max(one.readings.gaps, key=lambda reading: reading.gap)
            came = "" if after is None else f": it was {format_short(after.readings.largest)}"
            found.append(RoundShown(
                one.number, when(one.at),
                f"largest {format_short(largest.gap)} at clock {clock_words(largest.clock)}; "
                f"{answered_words(one)}; then {format_short(one.promised)} was to be "
                f"expected{came}", one.readings.typed))
        return tuple(reversed(found))
