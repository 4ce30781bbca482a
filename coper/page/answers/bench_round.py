"""A round of readings at an end: how it was cut, and what is to be read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.bench.setup import GAP_POINTS
from coper.book.entries import Round
from coper.errors import WordsError
from coper.job.named_end import JobEnd
from coper.joint.fit.face import covering_diameter
from coper.joint.fit.fit import Fit, seat
from coper.joint.fit.passes import Pass
from coper.joint.regrind.cut_end import SAWN
from coper.joint.saw.kit import USUAL_KIT_MM
from coper.joint.sides import clock_words
from coper.joint.template import CUTS
from coper.page.answers.fields import with_point
from coper.sheets.fit_log import FitLog
from coper.tolerances import TOUCH_MM
from coper.units import format_gap, format_size, lengths_in
from coper.verbs.cut_way import SawnPass, cut_way, cut_words, read_cut

GAP: Final = "gap."
"""What the name of a reading's field begins with; its clock follows."""

CUT: Final = "cut"
"""The field that says how the end was really cut."""

REMEMBERED: Final = 32


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


def cut_choices(end: JobEnd, chosen: str) -> tuple[tuple[str, str], ...]:
    """How an end may have been cut, as ``--cut`` has it, each with words; ``chosen`` among them."""
    offered = _offered(end)
    return offered if chosen in dict(offered) else (*offered, (chosen, chosen))


@lru_cache(maxsize=REMEMBERED)
def _offered(end: JobEnd) -> tuple[tuple[str, str], ...]:
    """By its template, as its card says, and with each saw that is large enough."""
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
    return tuple(found.items())


def cut_in(words: str, end: JobEnd) -> tuple[str | None, tuple[Pass, ...]]:
    """The cut and its passes as the book has them: numbers without a unit are mm.

    Raises
    ------
    CoperError
        Where they are no cut.
    """
    with lengths_in("mm"):
        return read_cut(cut_way(words), end)


@lru_cache(maxsize=REMEMBERED)
def fit_of(end: JobEnd, cut: str) -> Fit:
    """The gap that a cut leaves by itself.

    Raises
    ------
    CoperError
        Where the end cannot be cut so.
    """
    how, passes = cut_in(cut, end)
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
