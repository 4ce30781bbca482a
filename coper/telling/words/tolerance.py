"""How careful to be, in words: each error alone, all of them together, what the wall costs."""

from __future__ import annotations

import math
from collections.abc import Iterator

from coper.joint.fit.limits import Limit
from coper.joint.mountable import Mountable
from coper.joint.sides import clock_name
from coper.joint.tolerance.spread import JUDGED, Scatter, Spread
from coper.joint.tolerance.tolerance import UNITS, ErrorKind, Sensitivity, SquareCost, Tolerance
from coper.telling.cells import SHOWN_MM, short_cell
from coper.telling.grid import Cells, Grid
from coper.telling.lines import Fact, Line
from coper.units import (
    INCH_PLACES,
    first_unit,
    format_gap,
    format_short,
    format_size,
    in_first_unit,
    in_inches,
    plain,
    shown_up,
)

MEANING: dict[ErrorKind, str] = {
    "angle": "between the two axes",
    "turn": "of the cope on its tube",
    "offset": "between the two axes",
    "diameter": "the main's: real less intended",
    "length": "of a tube that is held between two ends",
}
PLACES = 2
"""Decimals of an error; the last is rounded down, so that no error is allowed that is too much."""
TIE = 1e-4
"""Added before rounding down: less than any bench sees, and more than the search's own error."""


def limit_fact(limit: Limit, usual: str | None) -> Fact:
    """The limit; ``usual`` is the process whose limit is taken because none was given."""
    return Fact("limit", f"{limit.words()}; none was given, so that of {usual} is used"
                if usual else limit.words())


def ideal_facts(found: Tolerance) -> Iterator[Fact]:
    """The gap with nothing wrong, and what to do where it is too large by itself."""
    if found.ideal < SHOWN_MM:
        yield Fact("ideal", "no gap when nothing is wrong")
        return
    yield Fact("ideal", f"{format_gap(found.ideal)} when nothing is wrong")
    if not found.possible:
        yield Fact(
            "TOO OPEN", f"{format_short(found.ideal - found.limit)} above the limit with nothing "
            "wrong, no amount of care closes it:",
            ("dress the inside edge back until the outside closes, cut bevelled,",
             f"or use a process that bridges {format_short(shown_up(found.ideal))}"))


def alone_table(found: Tolerance) -> Grid:
    """What each error does by itself."""
    return Grid(
        "Alone", ("off by", "gap for + / for -", "under the limit up to", "meaning"),
        tuple(_alone_row(care, found) for care in found.cares),
        "What each error adds to the largest gap when all else is right.")


def _alone_row(care: Sensitivity, found: Tolerance) -> Cells:
    unit = first_unit()
    if care.unit == "deg":
        plus, minus = map(short_cell, care.per_unit)
        per = "degree"
    else:  # a length for a length: a ratio, the same in every unit
        plus, minus = (f"{one:.{PLACES}f}" for one in care.per_unit)
        per = unit
    return care.thing, f"{plus} / {minus} {unit} per {per}", _most(care, found), MEANING[care.thing]


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
    if care.unit == "deg":
        return f"{_down(value, PLACES)}°"
    return f"{_down(in_first_unit(value), INCH_PLACES if in_inches() else PLACES)} {first_unit()}"


def _down(value: float, places: int) -> str:
    """An error rounded down to ``places`` decimals."""
    shown = math.floor((value + TIE) * 10**places) / 10**places
    return plain(shown) if shown else f"under {10**-places:g}"


def spread_lines(spread: Spread, limit: float) -> Iterator[Line]:
    """The gaps to expect of many joints, and what to mend first; ``limit`` in mm."""
    yield _scatter_fact(spread.scatter)
    yield Grid(
        "Together", ("joints", "largest gap"),
        (*((f"{share} in 100", f"no gap above {format_gap(gap)}")
           for share, gap in spread.percentiles.items()),
         (f"{spread.good:.1%}", f"under the limit of {format_short(limit)}")),
        f"{spread.gaps.size} joints, all errors at once, seed {spread.seed}.")
    if spread.saves:
        best = sorted(spread.saves.items(), key=lambda pair: -pair[1])
        yield Fact(
            "mend first", f"the gap of {JUDGED} in 100 shrinks, if one thing is always right:",
            (", ".join(f"{thing} {max(saved, 0.0):.0%}" for thing, saved in best),))


def _scatter_fact(scatter: Scatter) -> Fact:
    values = ", ".join(
        f"{thing} {_scatter_words(getattr(scatter, thing), unit)}"
        for thing, unit in UNITS.items())
    usual = "; the usual ones: common practice, no source" if scatter == Scatter() else ""
    free = () if scatter.length else (
        "no error in length: the tube is pushed home, not held at both ends",)
    return Fact("scatter", values, (f"standard deviations{usual}", *free))


def _scatter_words(value: float, unit: str) -> str:
    return f"{plain(value)}°" if unit == "deg" else format_size(value)


def wall_fact(joint: Mountable, square: SquareCost) -> Fact:
    """What a square cut leaves open, and so what dressing the bevel saves."""
    if square.largest < SHOWN_MM:
        return Fact("wall", "a square cut closes as well as a bevelled one")
    root = ("closed at the root" if square.root < SHOWN_MM
            else f"{format_short(square.root)} open right through")
    return Fact(
        "wall", f"an ideal square cut leaves {format_gap(square.largest)} outside at clock "
        f"{clock_name(joint, square.largest_clock)},",
        (f"{root}; an ideal bevelled one leaves none: dressing the bevel saves "
         f"{format_short(square.largest)}",))
