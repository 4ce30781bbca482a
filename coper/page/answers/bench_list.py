"""The list of the station Bench: every end in the order of work, how far it is, which is next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.book.entries import STEPS, EndName, Round, Tick
from coper.errors import CoperError
from coper.job.assembly import fitting_order
from coper.page.answers.change import answer_in, every_fault, job_in
from coper.units import format_short, lengths_in

REMEMBERED: Final = 8

TACKED: Final = STEPS.index("tacked") + 1
"""Every end is tacked before any is welded."""


@dataclass(frozen=True, slots=True)
class EndShown:
    """An end in the list.

    Attributes
    ----------
    name : str
    parts : tuple of str
        Those of its address.
    done : tuple of str
        The steps that are ticked, in their order.
    rounds : str
        How many rounds, and what the last one came to; empty where there is none.
    next : str
        The step that is next, of the end whose turn it is; empty of all others.
    """

    name: str
    parts: tuple[str, str, str]
    done: tuple[str, ...]
    rounds: str
    next: str


@lru_cache(maxsize=REMEMBERED)
def order(text: str) -> tuple[EndName, ...]:
    """Every end that seats on a main, in the order of work.

    Raises
    ------
    CoperError
        Where the job cannot be shaped.
    """
    return tuple(
        EndName(piece.tube.name, piece.tube.side, end.which)
        for piece in fitting_order(answer_in(text).result) for end in piece.ends
        if end.cope is not None and end.flat is None)


def ends(
    text: str, rounds: Sequence[Round], ticks: Sequence[Tick]
) -> tuple[tuple[EndShown, ...], tuple[str, ...]]:
    """Every end that seats on a main, in the order of work; or why there is none."""
    try:
        names = order(text)
    except CoperError as error:
        return (), every_fault(error)
    done = {name: _done(name, ticks) for name in names}
    turn = _turn(names, done)
    with lengths_in(job_in(text).units):
        return tuple(
            EndShown(name.words, parts(name), done[name], _rounds_words(name, rounds),
                     _next(done[name]) if name == turn else "")
            for name in names), ()


def parts(name: EndName) -> tuple[str, str, str]:
    """The parts of an end's address."""
    return name.tube, name.side, name.end


def beside(text: str, name: EndName) -> tuple[EndName | None, EndName | None]:
    """The ends before and after one in the order of work."""
    names = order(text)
    at = names.index(name)
    return (names[at - 1] if at else None), (names[at + 1] if at + 1 < len(names) else None)


def _done(name: EndName, ticks: Sequence[Tick]) -> tuple[str, ...]:
    ticked = {tick.step for tick in ticks if tick.end == name}
    return tuple(step for step in STEPS if step in ticked)


def _far(done: Sequence[str]) -> int:
    """How many steps are behind an end: all before the last that is ticked are."""
    return STEPS.index(done[-1]) + 1 if done else 0


def _next(done: Sequence[str]) -> str:
    return STEPS[_far(done)]


def _turn(names: Sequence[EndName], done: dict[EndName, tuple[str, ...]]) -> EndName | None:
    """The end whose turn it is: the first that is not tacked, then the first not welded."""
    for far in (TACKED, len(STEPS)):
        for name in names:
            if _far(done[name]) < far:
                return name
    return None


def _rounds_words(name: EndName, rounds: Sequence[Round]) -> str:
    own = [one for one in rounds if one.readings.end == name]
    if not own:
        return ""
    last = own[-1]
    count = f"{len(own)} {'round' if len(own) == 1 else 'rounds'}"
    if last.answer["read_also"]:
        found = "more to read"
    elif last.answer["ok"] or not last.answer["largest"]:
        found = "good" if last.answer["ok"] else "leave it"
    else:
        found = f"take off up to {format_short(last.answer['largest'])}"
    return f"{count}, {format_short(last.readings.largest)} at the most: {found}"
