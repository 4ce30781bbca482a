"""A change to a job's text that is written only as far as the file still loads with it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from coper.errors import CoperError
from coper.job.edit import Edit, edited
from coper.job.faults import JobError
from coper.job.job import Job
from coper.job.read import job_tables, parse_job
from coper.job.schema import TomlTable
from coper.job.shaped import ShapedJob
from coper.job.statements import Path
from coper.verbs.answer import Answer
from coper.verbs.job import job as job_answer

REMEMBERED: Final = 16
"""Texts of jobs that are read once: several windows, and what undo and redo go through."""


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


def tried(
    text: str, table: str | Path, edits: Sequence[Edit]
) -> tuple[str | None, tuple[CoperError, ...]]:
    """The text with a table edited; or why it does not load then."""
    return loading(lambda: edited(text, table, edits))


def loading(make: Callable[[], str]) -> tuple[str | None, tuple[CoperError, ...]]:
    """The text that ``make`` gives; or why it gives none, or none that loads."""
    try:
        made = make()
        job_in(made)
    except CoperError as error:
        return None, faults_of(error)
    return made, ()


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
