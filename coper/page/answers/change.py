"""A change to a job's text that is written only as far as the file still loads with it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache, reduce
from typing import Final

from coper.errors import CoperError
from coper.job.edit import Edit, edited
from coper.job.faults import JobError
from coper.job.job import Job
from coper.job.new_table import with_table
from coper.job.read import job_tables, parse_job
from coper.job.schema import TomlTable
from coper.job.shaped import ShapedJob
from coper.verbs.answer import Answer
from coper.verbs.job import job as job_answer

REMEMBERED: Final = 16
"""Texts of jobs that are read once: several windows, and what undo and redo go through."""

Make = Callable[[str], str]
"""The text of a job with something of it changed."""

Check = Callable[[str], None]
"""Raises what is wrong with a text that loads."""


@dataclass(frozen=True, slots=True)
class Change:
    """What a change comes to: the file's text with all that could be used, and what could not.

    Attributes
    ----------
    text : str
    typed : dict of key to str
        What is not in the text and stays in its field.
    faults : tuple of CoperError
        Why.
    why : dict of key to faults
        Which of them each field is left for, where that is known.
    """

    text: str
    typed: Mapping[str, str]
    faults: tuple[CoperError, ...] = ()
    why: Mapping[str, tuple[CoperError, ...]] = field(default_factory=dict)

    @property
    def elsewhere(self) -> tuple[str, ...]:
        """Faults that stand beside no field."""
        beside = {str(fault) for faults in self.why.values() for fault in faults}
        return tuple(str(fault) for fault in self.faults if str(fault) not in beside)


@lru_cache(maxsize=REMEMBERED)
def job_in(text: str) -> Job:
    """The job that a text describes."""
    return parse_job(text)


@lru_cache(maxsize=REMEMBERED)
def answer_in(text: str) -> Answer[ShapedJob]:
    """All tubes of the job that a text describes, shaped.

    Raises
    ------
    CoperError
        Where it does not load, or a tube of it cannot be made.
    """
    return job_answer(job_in(text))


def as_far(
    text: str, table: str, edits: Sequence[Edit], check: Check | None = None
) -> tuple[str, Sequence[Edit], tuple[CoperError, ...]]:
    """The text with those edits of a table that it takes, which these are, and why not the others.

    Edits that need each other are tried together, then without those that are at fault, then one
    by one.

    Parameters
    ----------
    text, table
        All of the file, and the table of it.
    edits
        What was asked for.
    check
        What a text that loads has to pass besides.
    """
    if not edits:
        return text, (), ()
    try:
        base = with_table(text, table)
    except CoperError as error:
        return text, (), faults_of(error)
    made, faults = _tried(base, table, edits, check)
    if made is not None:
        return made, edits, ()
    at_fault = {key_of(fault, table, {edit.key for edit in edits}) for fault in faults}
    sound = [edit for edit in edits if edit.key not in at_fault]
    if sound and len(sound) < len(edits):
        made, _ = _tried(base, table, sound, check)
        if made is not None:
            return made, sound, faults
    kept: list[Edit] = []
    for edit in edits:
        made, _ = _tried(base, table, (edit,), check)
        if made is not None:
            base = made
            kept.append(edit)
    return base if kept else text, kept, faults


def _tried(
    text: str, table: str, edits: Sequence[Edit], check: Check | None
) -> tuple[str | None, tuple[CoperError, ...]]:
    """The text with a table edited; or why it does not load then, or does not pass."""
    made, faults = loading(lambda: edited(text, table, edits))
    if made is not None and check is not None:
        try:
            check(made)
        except CoperError as error:
            return None, faults_of(error)
    return made, faults


def loading(make: Callable[[], str]) -> tuple[str | None, tuple[CoperError, ...]]:
    """The text that ``make`` gives; or why it gives none, or none that loads."""
    try:
        made = make()
        job_in(made)
    except CoperError as error:
        return None, faults_of(error)
    return made, ()


def whole(text: str, typed: Mapping[str, str], make: Callable[[], str]) -> Change:
    """The text that ``make`` gives; where that does not load, what was typed stays."""
    made, faults = loading(make)
    return Change(text, typed, faults) if made is None else Change(made, {})


def attempted(text: str, makes: Sequence[Make]) -> tuple[str | None, tuple[CoperError, ...]]:
    """The text changed; or why the job does not load then, or its tubes cannot be made.

    Tubes that could not be made before need not be made after.
    """
    after, faults = loading(lambda: reduce(lambda old, make: make(old), makes, text))
    if after is None or after == text or not _can_be_made(text):
        return after, faults
    try:
        answer_in(after)
    except CoperError as error:
        return None, faults_of(error)
    return after, ()


def _can_be_made(text: str) -> bool:
    try:
        answer_in(text)
    except CoperError:
        return False
    return True


def faults_of(error: CoperError) -> tuple[CoperError, ...]:
    """Each fault of a job that does not load."""
    return error.faults if isinstance(error, JobError) else (error,)


def every_fault(error: CoperError) -> tuple[str, ...]:
    """A sentence for each fault."""
    return tuple(map(str, faults_of(error)))


@lru_cache(maxsize=REMEMBERED)
def tables_in(text: str) -> TomlTable:
    """The tables of a text; none where it is no TOML. They are read, and never changed."""
    try:
        return job_tables(text)
    except CoperError:
        return {}


def table_of(text: str, name: str) -> TomlTable:
    """A table of a text; empty where there is none, or the text is no TOML."""
    table = tables_in(text).get(name)
    return table if isinstance(table, dict) else {}


def title_and_units(text: str) -> tuple[str, str]:
    """What a job is called and measured in, even where it does not load."""
    tables = tables_in(text)
    return str(tables.get("title", "")), str(tables.get("units", "mm"))


def key_of(fault: CoperError, table: str, keys: Collection[str]) -> str:
    """Which of the keys of a table a fault is about; empty where it is about none."""
    name, _, rest = fault.where.partition(".")
    key = rest.split(".")[0].split("[")[0]
    return key if name == table and key in keys else ""
