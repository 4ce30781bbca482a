"""``coper book``: what the shop book of a job holds.

The book is one file beside the job file, frame.book beside frame.toml. It keeps every round of
readings that "coper regrind FILE" answered, with the answer; the steps of an end that are ticked;
what finished parts measured, by "coper made"; and the job file itself as it was each time. What a
command said to be kept is on the disk: neither a kill nor a cut of the power takes it away. A
book that is damaged is moved aside, under a name with the date, and a new one is begun.

The name of an end shows the rounds of that end alone. --tick and --untick say that a step of it
is done, or is not: cut, fitted, tacked, welded.

--version N --write FILE writes the job file as it was at that version.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from coper.book.book import Book, opened
from coper.book.entries import STEPS, EndName, MadePart, Round, Tick, Version
from coper.book.place import book_path
from coper.errors import CoperError, FileError, WordsError
from coper.job.job import Job
from coper.job.named_end import check_side, find_tube
from coper.job.read import read_job
from coper.telling.lines import Caution, Line
from coper.telling.records.book import book_record
from coper.telling.records.head import json_head
from coper.telling.words.book import book_lines
from coper.telling.words.typed import typed_word
from coper.verbs.answer import Answer, in_unit
from coper.verbs.asked import read_name
from coper.verbs.kept import typed_book
from coper.verbs.options import add_output, choice, file_name, whole

HELP = "Show what the shop book holds: rounds of readings, ticks, finished parts, versions."
EXAMPLES = """\
examples:
  coper book demo/wagtail.toml
  coper book demo/wagtail.toml chain-stay left start
  coper book demo/wagtail.toml chain-stay left start --tick fitted
  coper book demo/wagtail.toml --json
  coper book demo/wagtail.toml --version 1 --write before.toml
"""


@dataclass(frozen=True, slots=True)
class Contents:
    """What a book holds, of one end or of all."""

    rounds: tuple[Round, ...] = ()
    ticks: tuple[Tick, ...] = ()
    made: tuple[MadePart, ...] = ()
    versions: tuple[Version, ...] = ()
    notes: tuple[str, ...] = ()


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add("more", metavar="TUBE [left|right] start|end", nargs="*", help="one end of it")
    add("--tick", metavar="STEP", type=choice(*STEPS),
        help=f"a step of the end is done: {', '.join(STEPS)}")
    add("--untick", metavar="STEP", type=choice(*STEPS), help="it is not")
    add("--version", metavar="N", type=whole, help="a version of the job file")
    add("--write", metavar="FILE", type=file_name, help="write that version to this file")
    add_output(parser)


def ask(arguments: Namespace) -> Answer[Contents]:
    """The answer to what the options ask."""
    file, number = arguments.file, arguments.version
    job, fault = _job(file)
    end = _end(arguments, job, fault)
    found = _work(arguments, job, end)
    text = None if number is None else _version(found, number, file)

    def answer() -> Answer[Contents]:
        return book(file, found, fault, {} if text is None else {"write": text.encode})

    return in_unit("mm" if job is None else job.units, answer)


def _job(file: str) -> tuple[Job | None, str]:
    """The job, or what is wrong with it: its book can be read all the same."""
    try:
        return read_job(file), ""
    except CoperError as error:
        if not book_path(file).exists():
            raise
        return None, str(error).splitlines()[0]


def _end(arguments: Namespace, job: Job | None, fault: str) -> EndName | None:
    """The end that was named, if one was."""
    step = arguments.tick or arguments.untick
    if arguments.tick and arguments.untick:
        raise WordsError("to tick and to untick", "give one of the two", "--tick")
    if (arguments.write is None) != (arguments.version is None):
        raise WordsError("missing", "give both --version N and --write FILE",
                         "--write" if arguments.write is None else "--version")
    if not arguments.more:
        if step:
            raise WordsError("of which end", f"name it: coper book {typed_word(arguments.file)} "
                             f"TUBE start --tick {step}", "--tick")
        return None
    if job is None:
        raise FileError(fault, "mend the job first: its ends are not known")
    begin = f"coper book {typed_word(arguments.file)}"
    try:
        tube, side, which = read_name(arguments.more, begin, job)
        check_side(find_tube(job, tube), side, which)
    except CoperError as error:
        raise error.at(arguments.file) from error
    return EndName(tube, "left" if side == "left" else "right" if side else "centre", which)


def _work(arguments: Namespace, job: Job | None, end: EndName | None) -> Contents:
    """Tick what is to be ticked, and read the book; there need be none to read."""
    path, step = book_path(arguments.file), arguments.tick or arguments.untick
    if not (step or path.exists()):
        return Contents()
    with opened(path) as base:
        if step and job is not None and end is not None:
            base.tick(end, step, job.text, done=arguments.tick is not None)
        return _contents(base, end)


def _contents(base: Book, end: EndName | None) -> Contents:
    made = [one for one in base.made() if end in (None, EndName(one.tube, one.side, "start"),
                                                  EndName(one.tube, one.side, "end"))]
    ticks = [one for one in base.ticks() if end in (None, one.end)]
    return Contents(base.rounds(end), tuple(ticks), tuple(made), base.versions(), base.notes)


def _version(found: Contents, number: int, file: str) -> str:
    """The job file at that version."""
    for one in found.versions:
        if one.number == number:
            return one.text
    last = max((one.number for one in found.versions), default=0)
    raise WordsError(f"its book has no version {number}",
                     f"give 1 to {last}" if last else "nothing has been kept yet", file)


def book(
    file: str, found: Contents, fault: str = "",
    files: Mapping[str, Callable[[], bytes]] | None = None,
) -> Answer[Contents]:
    """What a book holds.

    Parameters
    ----------
    file
        The job file, as it was typed.
    found
        What the book holds of an end, or of all.
    fault
        What is wrong with the job file.
    files
        Those that an option asks for.
    """
    path = typed_book(file)
    parts = (found.rounds, found.ticks, found.made, found.versions)
    cautions = [*found.notes, *([f"the job cannot be read: {fault}"] if fault else [])]

    def record() -> dict[str, Any]:
        return {**json_head(), "file": str(path), **book_record(*parts), "cautions": cautions}

    def lines() -> Iterator[Line]:
        yield str(path)
        yield from book_lines(*parts) if found.versions else (
            f"  nothing is kept yet: coper regrind {typed_word(file)} … keeps its first round",)
        yield from map(Caution, cautions)

    return Answer(f"the book of {file}", found, record, lines, files=files or {})
