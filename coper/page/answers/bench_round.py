"""A round of readings at an end: how it was cut, what to read, and the answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Final

import numpy as np

from coper.arrays import Floats
from coper.bench.setup import GAP_POINTS
from coper.book.entries import EndName, Reading, Round
from coper.errors import CoperError, WordsError
from coper.job.limits import shop_limit
from coper.job.named_end import JobEnd
from coper.joint.cautions import SAFETY
from coper.joint.fit.face import covering_diameter
from coper.joint.fit.fit import Fit, seat
from coper.joint.regrind.cut_end import SAWN
from coper.joint.regrind.regrind import Regrind
from coper.joint.saw.kit import USUAL_KIT_MM
from coper.joint.sides import clock_words
from coper.joint.template import CUTS
from coper.page.answers.fields import with_point
from coper.page.answers.words import Block, blocks
from coper.sheets.fit_log import FitLog
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.telling.words.book import answered_words, kept_lines, when
from coper.tolerances import TOUCH_MM
from coper.units import format_gap, format_short, format_size, lengths_in
from coper.verbs.answer import Answer
from coper.verbs.cut_way import SawnPass, cut_way, cut_words, read_cut
from coper.verbs.gaps import typed_gaps
from coper.verbs.kept_round import keeping_round
from coper.verbs.regrind import regrind

GAP: Final = "gap."
"""What the name of a reading's field begins with; its clock follows."""

CUT: Final = "cut"
"""The field that says how the end was really cut."""

REMEMBERED: Final = 32

SAME_MM: Final = 1e-6
"""An answer to the same readings that differs by more is that of another job."""

LARGE: Final = ("GOOD", "TOO OPEN", "take off")
"""The facts that are shown large."""


@dataclass(frozen=True, slots=True)
class ReadingShown:
    """A clock to read.

    Attributes
    ----------
    clock : float, degrees
    name : str
        That of its field.
    words : str
        The clock, and its side where it has a name.
    below : str
        That side.
    expected : str
        The gap that its cut leaves.
    typed : str
    also : bool
        Whether the last answer asked for it.
    after : str
        The field of the next that is still to be read; empty where there is none.
    """

    clock: float
    name: str
    words: str
    below: str
    expected: str
    typed: str
    also: bool
    after: str = ""


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


def cut_choices(end: JobEnd, chosen: str) -> tuple[tuple[str, str], ...]:
    """How an end may have been cut, as ``--cut`` has it, each with words; ``chosen`` among them."""
    own = end.end.cope_cut
    found: dict[str, str] = {
        cut: f"by its template, {cut}" for cut in sorted(CUTS, key=lambda cut: cut != own)}
    with lengths_in(end.job.units):
        if end.setup().sawn is not None:
            found[SAWN] = "sawn, as its card says"
        if len(end.end.mains) == 1:
            first = end.joint.first
            least = covering_diameter(first) - TOUCH_MM
            for saw in end.job.shop.saws or USUAL_KIT_MM:
                if saw >= least:
                    found[cut_words(SAWN, (SawnPass(saw).of(first),))] = (
                        f"sawn with {format_size(saw)}")
    found.setdefault(chosen, chosen)
    return tuple(found.items())


@lru_cache(maxsize=REMEMBERED)
def fit_of(end: JobEnd, cut: str) -> Fit:
    """The gap that a cut leaves by itself.

    Raises
    ------
    CoperError
        Where the end cannot be cut so.
    """
    how, passes = read_cut(cut_way(cut), end)
    return seat(end.face(how, passes), end.joint.cluster(), points=GAP_POINTS)


def readings(
    end: JobEnd, log: FitLog, last: Round | None, cut: str, typed: Mapping[str, str]
) -> tuple[ReadingShown, ...]:
    """What to read: the clocks of the log, those of the last round, and those it asked for.

    Where it asked for more, no metal went: what was read before stands in its fields.
    """
    sides = {clock_words(one.clock): one.side for one in log.readings}
    clocks = {clock_words(one.clock): one.clock for one in log.readings
              if not np.isnan(one.expected)}
    also, before = frozenset[str](), dict[str, str]()
    if last is not None:
        also = frozenset(map(clock_words, last.answer["read_also"]))
        clocks |= {clock_words(one.clock): one.clock for one in last.readings.gaps}
        clocks |= {clock_words(one): one for one in last.answer["read_also"]}
        before = _as_typed(last) if also else {}
    heel = log.readings[0].clock
    ordered = sorted(clocks.items(), key=lambda one: (one[1] - heel) % 360)
    gaps = _gaps(end, cut, np.array([clock for _, clock in ordered]))
    with lengths_in(end.job.units):
        return _in_turn(
            ReadingShown(clock, GAP + words, f"{words}° {sides.get(words, '')}".rstrip(),
                         sides.get(words, ""), "open" if np.isnan(gap) else format_gap(abs(gap)),
                         typed.get(GAP + words, before.get(words, "")), words in also)
            for (words, clock), gap in zip(ordered, gaps, strict=True))


def _in_turn(found: Iterable[ReadingShown]) -> tuple[ReadingShown, ...]:
    """The same, each with the next after it that is still to be read."""
    shown: list[ReadingShown] = []
    after = ""
    for one in reversed(list(found)):
        shown.append(replace(one, after=after))
        after = after if one.typed else one.name
    return tuple(reversed(shown))


def _gaps(end: JobEnd, cut: str, clock: Floats) -> list[float]:
    gaps: list[float] = fit_of(end, cut).at(end.joint.counted(clock))[0].tolist()
    return gaps


def _as_typed(last: Round) -> dict[str, str]:
    """What was typed at each clock of a round."""
    words = [part.partition("=")[2].strip() for part in last.readings.typed.split(",")
             if part.strip()]
    return {clock_words(one.clock): gap
            for one, gap in zip(last.readings.gaps, words, strict=True)}


def typed_pairs(typed: Mapping[str, str]) -> str:
    """The readings of a form as ``--gaps`` takes them.

    Raises
    ------
    WordsError
        Where there is none.
    """
    pairs = [(name.removeprefix(GAP), with_point(" ".join(words.split())))
             for name, words in typed.items() if name.startswith(GAP) and words.strip()]
    if not pairs:
        raise WordsError("no reading", "give the gap at 3 clocks at least, 0 where it touches")
    return ",".join(f"{clock}={gap}" for clock, gap in pairs)


@lru_cache(maxsize=REMEMBERED)
def _answer(end: JobEnd, gaps: tuple[tuple[float, float], ...], cut: str) -> Answer[Regrind]:
    how, passes = read_cut(cut_way(cut), end)
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
        how, passes = read_cut(cut_way(cut), end)
    answer = _answer(end, gaps.pairs, cut)
    return keeping_round(answer, end, file, gaps, cut_words(how or end.end.cope_cut, passes),
                         shop_limit(end.job.shop))


def last_answer(end: JobEnd, rounds: Sequence[Round], book: str) -> AnswerShown:
    """What the last round was answered, once more; that the job is another one since, if it is."""
    last = rounds[-1]
    try:
        gaps = tuple((one.clock, one.gap) for one in last.readings.gaps)
        answer = _answer(end, gaps, last.readings.cut)
        same = _same(answer.record()["regrind"], last.answer)
    except CoperError:
        same = False
    if not same:
        return answer_shown((Caution(
            f"the job has changed since round {last.number}: what it was answered holds for the "
            "end as it was; read again"),), False)
    with lengths_in(end.job.units):
        kept = tuple(kept_lines(last, rounds[:-1], False, book))
    return answer_shown((*_after_title(answer), *kept), bool(last.answer["read_also"]))


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


def unkept_answer(
    end: JobEnd, answer: Answer[Regrind], typed: Mapping[str, str], lines: Iterable[Line]
) -> Unkept:
    """An answer to what was typed, with ``lines`` that say why it is not kept."""
    record = answer.record()["regrind"]
    with lengths_in(end.job.units):
        gaps = tuple(Reading(*pair) for pair in typed_gaps(typed_pairs(typed)).pairs)
    shown = answer_shown((*_after_title(answer), *lines), bool(record["read_also"]))
    return Unkept(shown, record, gaps)


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


def end_name(end: JobEnd) -> EndName:
    """Its name as the book has it."""
    return EndName(end.piece.tube.name, end.piece.tube.side, end.end.which)
