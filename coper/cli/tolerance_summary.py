"""What a person reads on the terminal after ``coper tolerance``."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

from coper.cli.tables import SHOWN_MM
from coper.joint.cautions import SAFETY
from coper.joint.sides import clock_name
from coper.joint.tolerance.spread import TOLD, Scatter, Spread
from coper.joint.tolerance.tolerance import UNITS, ErrorKind, Sensitivity, SquareCost, Tolerance
from coper.shapes.checks import plain
from coper.telling.words.joint import title
from coper.units import format_gap, format_mm
from coper.work.tolerance import USUAL_PROCESS, ToleranceWork

MEANING: dict[ErrorKind, str] = {
    "angle": "between the two axes",
    "turn": "of the cope on its tube",
    "offset": "between the two axes",
    "diameter": "the main's, real less meant",
    "length": "of a tube that is held between two ends",
}
PLACES = 2
"""Decimals of an error; the last is rounded down, so that what is told is never too much."""
TIE = 1e-4
"""Added before rounding down: what no bench sees, and more than the search for it is off."""


def tolerance_summary(work: ToleranceWork, written: tuple[Path, ...]) -> Iterator[str]:
    """The lines of the summary, the table of errors first."""
    yield title(work.order.joint)
    yield f"  cut          {work.order.cut}"
    yield f"  limit        {_limit(work)}"
    yield from _ideal(work)
    yield from _table(work.found)
    yield from _spread(work.spread, work.found)
    yield from _wall(work, work.found.square)
    yield from (f"  ! {caution}" for caution in SAFETY)
    yield from (f"wrote {path}" for path in written)


def _limit(work: ToleranceWork) -> str:
    limit = work.limit
    asked = f"{format_mm(limit.mm)} ({', '.join(filter(None, (limit.process, limit.source)))})"
    return asked if work.order.limit else (
        f"{asked}; none was given, so that of {USUAL_PROCESS} is taken")


def _ideal(work: ToleranceWork) -> Iterator[str]:
    found = work.found
    if found.ideal < SHOWN_MM:
        yield "  ideal        no gap where nothing is wrong"
        return
    yield f"  ideal        {format_gap(found.ideal)} where nothing is wrong"
    if not found.possible:
        yield (f"  TOO OPEN     {format_mm(found.ideal - work.limit.mm)} above the limit by "
               "itself, no care brings it under:")
        yield ("               dress the inside edge back until the outside closes, cut bevelled,")
        yield f"               or take a process that bridges {format_mm(_up(found.ideal))}"


def _table(found: Tolerance) -> Iterator[str]:
    yield "  alone        what each error adds to the largest gap, all else right"
    yield "    off by      gap for + / for -             under the limit up to"
    for care in found.cares:
        unit = "degree" if care.unit == "deg" else "mm"
        plus, minus = care.per_unit
        adds = f"{_signless(plus)} / {_signless(minus)} mm a {unit}"
        yield f"    {care.thing:<10}  {adds:<28}  {_most(care, found):<26}  {MEANING[care.thing]}"


def _signless(value: float) -> str:
    return format_mm(value)[:-len(" mm")]


def _most(care: Sensitivity, found: Tolerance) -> str:
    """The largest error either way."""
    if not found.possible:
        return "nothing does"
    if care.most == (None, None):
        if max(abs(adds) for adds in care.per_unit) < SHOWN_MM and not _opens(care):
            return "does not matter"
        return f"any up to {_amount(min(care.looked), care)}"
    return " / ".join(
        f"{sign}{_amount(most, care)}" if most is not None
        else f"{sign}(any to {_amount(far, care)})"
        for sign, most, far in zip("+-", care.most, care.looked, strict=True))


def _opens(care: Sensitivity) -> bool:
    """Whether any error that was looked at opens a gap beyond what the ideal cut leaves."""
    return bool(care.gaps.max() - care.gaps.min() >= SHOWN_MM)


def _amount(value: float, care: Sensitivity) -> str:
    """An error, rounded down, but never to nothing."""
    told = math.floor((value + TIE) * 10**PLACES) / 10**PLACES
    sized = plain(told) if told else f"under {10**-PLACES:g}"
    return f"{sized}°" if care.unit == "deg" else f"{sized} mm"


def _up(gap: float) -> float:
    """A gap rounded up to what is shown of it."""
    return float(math.ceil(gap * 10**PLACES) / 10**PLACES)


def _spread(spread: Spread, found: Tolerance) -> Iterator[str]:
    said = ", ".join(
        f"{thing} {plain(getattr(spread.scatter, thing))}{'°' if unit == 'deg' else ' mm'}"
        for thing, unit in UNITS.items())
    yield f"  scatter      {said}"
    usual = "; the usual ones: common practice, no source" if spread.scatter == Scatter() else ""
    yield f"               standard deviations{usual}"
    if not spread.scatter.length:
        yield "               no length is wrong: the tube is pushed home, not held at both ends"
    yield f"  together     {spread.gaps.size} joints, all errors at once, seed {spread.seed}"
    for share, gap in spread.percentiles.items():
        yield f"    {share} in 100   no gap above {format_gap(gap)}"
    yield f"    {spread.good:>6.1%}      under the limit of {format_mm(found.limit)}"
    if spread.saves:
        best = sorted(spread.saves.items(), key=lambda pair: -pair[1])
        told = ", ".join(f"{thing} {max(saved, 0.0):.0%}" for thing, saved in best)
        yield f"  mend first   the gap of {TOLD} in 100 falls, with one thing always right:"
        yield f"               {told}"


def _wall(work: ToleranceWork, square: SquareCost) -> Iterator[str]:
    clock = clock_name(work.order.joint, square.largest_clock)
    if square.largest < SHOWN_MM:
        yield "  wall         a square cut closes as well as a bevelled one"
        return
    root = ("closed at the root" if square.root < SHOWN_MM
            else f"{format_mm(square.root)} open right through")
    yield (f"  wall         an ideal square cut leaves {format_gap(square.largest)} outside at "
           f"clock {clock},")
    yield (f"               {root}; an ideal bevelled one leaves none: dressing the bevel saves "
           f"{format_mm(square.largest)}")
