"""What another fork, other wheels or another rear end would do, beside what was measured."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.bicycle.before_after import BeforeAfter
from coper.bicycle.before_after import Measured as Standing
from coper.bicycle.bicycle import Bicycle
from coper.bicycle.change import Change as Asked
from coper.bicycle.clearance.clearance import Clearances
from coper.bicycle.clearance.wheel_room import kept_out
from coper.bicycle.measured import Measured
from coper.bicycle.wheel import Wheel
from coper.errors import CoperError, WordsError
from coper.job.bicycle import WHEELS
from coper.job.changed import changed_job, kept_job
from coper.job.job import Job
from coper.job.schema import MOST_TEXT
from coper.page.answers.change import Change, faults_of, job_in
from coper.page.answers.fields import said_length, with_point
from coper.page.answers.words import Block, blocks
from coper.telling.lines import Fact, Line
from coper.telling.words.bicycle import compared, wheel_words
from coper.telling.words.clearance import tightest_words
from coper.telling.words.plausible import change_doubts, job_doubts
from coper.telling.words.wheel_room import kept_out_words
from coper.units import format_angle, lengths_in
from coper.verbs.answer import Answer
from coper.verbs.bicycle import bicycle
from coper.verbs.changes import READERS
from coper.verbs.clearance import clearance

TRY: Final = "try."
"""What the name of a field begins with that is tried; the name of the change follows."""

NAMES: Final = {
    "fork_length": ("fork length", "another fork, crown race to axle"),
    "rake": ("rake", "another fork, steering axis to axle"),
    "front_wheel": ("front wheel", "as on the tyre"),
    "rear_wheel": ("rear wheel", "as on the tyre"),
    "drop": ("drop", "the rear axle moved, at the same chain stay"),
    "chain_stay": ("chain stay", "another length, at the same drop"),
    "head_angle": ("head angle", "on the ground: which drop gives it?"),
}
"""What can be tried: its name on the page, and what it is."""

FIELDS: Final = tuple(TRY + name for name in NAMES)
"""The names of all fields."""

FRONT: Final = ("front_wheel", "fork_length", "rake")
"""Which of them a wheel that does not go into its fork stands beside."""

SEEN: Final = ("tubes that move", "cut anew")
"""Facts of the answer that are said at once."""

NOTHING: Final = WordsError("nothing is to be different", "type another number above")
"""Where Keep is pressed and nothing is tried."""

REMEMBERED: Final = 16


@dataclass(frozen=True, slots=True)
class TryShown:
    """A field as it is shown: its names, what is measured now, what was typed, what is said."""

    key: str
    name: str
    how: str
    now: str
    typed: str
    said: str = ""
    wrong: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Rooms:
    """Where each tyre has the least room, as name, before and after; and which has none."""

    rows: tuple[tuple[str, str, str], ...] = ()
    wrong: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Trying:
    """The second column as it is shown.

    Attributes
    ----------
    fields : tuple of TryShown
    rows : tuple of (name, before, after, difference)
        The measures; empty where nothing is tried.
    rooms : Rooms or None
        ``None`` where they were not looked at yet.
    facts : tuple of Fact
        Which tubes move or are cut anew.
    blocks : tuple of Block
        All that the command line says of it.
    wrong, asked : tuple of str
        What is wrong with no field of it, and what is asked about none.
    after : Bicycle or None
        The bicycle with the change.
    """

    fields: tuple[TryShown, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    rooms: Rooms | None = Rooms()
    facts: tuple[Fact, ...] = ()
    blocks: tuple[Block, ...] = ()
    wrong: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    after: Bicycle | None = None

    @property
    def becomes(self) -> dict[str, str]:
        """Each measure as it is after the change, by its name."""
        return {name: after for name, _, after, _ in self.rows}


def trying(
    text: str, file: str, typed: Mapping[str, str], faults: tuple[CoperError, ...] = (),
    with_rooms: bool = False,
) -> Trying:
    """The second column; empty where the job has no bicycle, or does not load.

    Parameters
    ----------
    text, file
        All of the file, and its name.
    typed
        What stands in the fields, by their names.
    faults
        Why a change was not kept, each at the name of what was tried.
    with_rooms
        Whether the tyres' room is measured, which takes long.
    """
    try:
        job = job_in(text)
    except CoperError:
        return Trying()
    if job.bicycle is None:
        return Trying()
    with lengths_in(job.units):
        asked, unread = _read(typed)
        said = _Said(asked.asked, [*unread, *faults])
        found = _answered(job, file, asked, said) if asked.asked else None
        rooms = _rooms(text, asked) if found is not None and with_rooms else None
        fields = tuple(said.field(name, job.measured, asked, typed) for name in NAMES)
        if found is None:
            return Trying(fields, rooms=Rooms(), wrong=said.of("wrong"))
        both = found.result
        assert isinstance(both, BeforeAfter)
        lines, after = tuple(found.lines()), both.after.bicycle
        return Trying(fields, compared(both).rows, rooms, _facts(lines), blocks(lines),
                      said.of("wrong"), said.of("asked"), after)


def kept_text(text: str, typed: Mapping[str, str]) -> Change:
    """The text with what was tried written into it, the head tube left where it is.

    All of it is written, or nothing.
    """
    job = job_in(text)
    with lengths_in(job.units):
        asked, unread = _read(typed)
        if unread or not asked.asked:
            return Change(text, typed, unread or (NOTHING,))
        try:
            return Change(kept_job(job, asked).after.text, {})
        except CoperError as error:
            return Change(text, typed, faults_of(error))


class _Said:
    """What is wrong and what is asked, beside the field that it is about, or of none."""

    def __init__(self, asked: tuple[str, ...], faults: list[CoperError]) -> None:
        self._asked = asked
        self._words: dict[tuple[str, str], list[str]] = {}
        for fault in faults:
            self.fault(fault)

    def fault(self, fault: CoperError) -> None:
        """One fault; where a single thing is tried it is that one's."""
        if fault.where in NAMES:
            self.add("wrong", fault.where, str(CoperError(fault.fault, fault.cure)))
        else:
            self.add("wrong", self._asked[0] if len(self._asked) == 1 else "", str(fault))

    def add(self, kind: str, name: str, words: str) -> None:
        """Words of a kind beside the field of a name; each is said once."""
        said = self._words.setdefault((kind, name), [])
        if words not in said:
            said.append(words)

    def beside(self, kind: str, names: tuple[str, ...], words: str) -> None:
        """Words beside the first of the fields that is tried, else beside none."""
        self.add(kind, next((name for name in names if name in self._asked), ""), words)

    def of(self, kind: str, name: str = "") -> tuple[str, ...]:
        """All words of a kind beside a field."""
        return tuple(self._words.get((kind, name), ()))

    def field(
        self, name: str, measured: Measured, asked: Asked, typed: Mapping[str, str]
    ) -> TryShown:
        """A field with all that stands beside it."""
        words, how = NAMES[name]
        value = getattr(asked, name)
        now = "" if name == "head_angle" else _value_words(getattr(measured, name))
        return TryShown(TRY + name, words, how, now, typed.get(TRY + name, ""),
                        _value_words(value, angle=name == "head_angle"),
                        self.of("wrong", name), self.of("asked", name))


def _read(typed: Mapping[str, str]) -> tuple[Asked, tuple[CoperError, ...]]:
    """The change that was typed, as the options of the command line read it."""
    values, unread = {}, list[CoperError]()
    for name, read in READERS.items():
        words = typed.get(TRY + name, "").strip()
        if not words:
            continue
        try:
            if len(words) > MOST_TEXT:
                raise WordsError(f"{len(words)} characters", f"write {MOST_TEXT} at most")
            values[name] = read(words if name in WHEELS else with_point(words))
        except CoperError as error:
            unread.append(type(error)(error.fault, error.cure, name))
    return Asked(**values), tuple(unread)


def _answered(
    job: Job, file: str, asked: Asked, said: _Said
) -> Answer[Standing | BeforeAfter] | None:
    """What the command line answers; with all that it would write, where it can be written."""
    for write in (file, ""):
        try:
            found = bicycle(job, asked, write)
        except CoperError as error:
            for fault in faults_of(error):
                said.fault(fault)
            continue
        assert isinstance(found.result, BeforeAfter)
        after = found.result.after.bicycle
        for doubt in change_doubts(job, asked, after):
            if doubt not in job_doubts(job):
                _ask(doubt, said)
        for one in kept_out(after, job.drive):
            said.beside("wrong", FRONT, kept_out_words(one))
        return found
    return None


def _ask(doubt: str, said: _Said) -> None:
    """A doubt beside the number that it is about."""
    place, _, words = doubt.partition(", ")
    name = place.removeprefix("bicycle.")
    said.add("asked", name, words) if name in NAMES else said.add("asked", "", doubt)


def _rooms(text: str, asked: Asked) -> Rooms:
    """Where each tyre has the least room, before and after."""
    try:
        before, after = _clear(text, Asked()), _clear(text, asked)
    except CoperError as error:
        return Rooms(wrong=tuple(map(str, faults_of(error))))
    was = {wheel.name: tightest_words(before, wheel)[0] for wheel in before.wheels}
    rows, wrong = [], []
    for wheel in after.wheels:
        words, clear = tightest_words(after, wheel)
        rows.append((f"{wheel.name} tyre's least room", was.get(wheel.name, ""), words))
        if not clear:
            wrong.append(f"{wheel.name} tyre: {words}")
    return Rooms(tuple(rows), tuple(wrong))


@lru_cache(maxsize=REMEMBERED)
def _clear(text: str, asked: Asked) -> Clearances:
    return clearance(changed_job(job_in(text), asked)).result


def _facts(lines: tuple[Line, ...]) -> tuple[Fact, ...]:
    return tuple(line for line in lines if isinstance(line, Fact) and line.name in SEEN)


def _value_words(value: float | Wheel | None, angle: bool = False) -> str:
    if value is None:
        return ""
    if isinstance(value, Wheel):
        return wheel_words(value)
    return format_angle(value) if angle else said_length(value)
