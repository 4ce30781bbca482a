"""What the terminal says, for stations whose answer is words and tables."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final, Literal

from coper.errors import CoperError
from coper.job.job import Job
from coper.page.answers.change import every_fault, job_in
from coper.telling.grid import Grid
from coper.telling.lines import Caution, Fact, Line
from coper.verbs.answer import Answer
from coper.verbs.job import job as job_answer

Kind = Literal["words", "facts", "grid", "caution"]

ASKED: Final[dict[str, Callable[[Job], Answer[object]]]] = {"tubes": job_answer}
"""The verb that answers each of these stations."""


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of a kind that stand together."""

    kind: Kind
    items: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Said:
    """What a station says.

    Attributes
    ----------
    title : str
        Of the job.
    blocks : tuple of Block
    wrong : tuple of str
        Why it has no answer.
    """

    title: str
    blocks: tuple[Block, ...] = ()
    wrong: tuple[str, ...] = ()


def said(station: str, text: str) -> Said:
    """What the verb of a station says of a job."""
    try:
        job = job_in(text)
    except CoperError as error:
        return Said("", wrong=every_fault(error))
    if station not in ASKED:
        return Said(job.title)
    try:
        return Said(job.title, blocks(ASKED[station](job).lines()))
    except CoperError as error:
        return Said(job.title, wrong=every_fault(error))


def blocks(lines: Iterable[Line]) -> tuple[Block, ...]:
    """Lines set together: facts that follow each other are one list."""
    found: list[Block] = []
    for line in lines:
        kind: Kind = ("facts" if isinstance(line, Fact) else "grid" if isinstance(line, Grid)
                      else "caution" if isinstance(line, Caution) else "words")
        if line == "":
            continue
        if kind == "facts" and found and found[-1].kind == kind:
            found[-1] = Block(kind, (*found[-1].items, line))
        else:
            found.append(Block(kind, (line,)))
    return tuple(found)
