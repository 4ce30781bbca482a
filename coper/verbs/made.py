"""``coper made``: what follows from a tube that came out otherwise than it was designed.

Give what you measured on it: length, over all, from tip to tip along the tube, as its log has it;
and angle, at the end that is put home first, to the main that takes most of it. That is the coped
end; of a tube with two it is the start, or write angle-end. The answer says how far the other
end's point then moves, and what is measured from the same point with it; for a stay that holds
the rear axle how far that is askew, where the rim comes to stand, what the slot can do about it
and how many links the chain then has; what still works with a tube that is too long or too short;
and which of the packet's other sheets hold, and which are to be printed again.

What was measured is kept in the shop book (coper book FILE; --no-book keeps nothing), and counts
when the twin is measured: a pair of stays is judged by both.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any, Final

from coper.book.book import Book, opened
from coper.book.entries import MadePart
from coper.book.place import book_path
from coper.errors import CoperError, FileError, WordsError, nearest_known
from coper.frame.tube import Side, Which, across
from coper.job.job import Job
from coper.job.made import Measured, Outcome, find_outcome
from coper.job.named_end import SIDES, check_side, find_tube
from coper.job.read import read_job
from coper.joint.cautions import SAFETY
from coper.telling.lines import Caution, Fact, Line
from coper.telling.records.head import json_head
from coper.telling.records.made import outcome_record
from coper.telling.words.made import made_title, outcome_lines
from coper.telling.words.typed import typed_word
from coper.units import lengths_in, parse_angle, shown
from coper.verbs.answer import Answer, Kept, in_job_unit, placed
from coper.verbs.kept import add_no_book, keep_in
from coper.verbs.options import add_output, size

HELP = "Say what follows from a tube that came out too long, too short or at another angle."
EXAMPLES = """\
examples:
  coper made demo/wagtail.toml chain-stay left length=385.1
  coper made demo/wagtail.toml chain-stay left length=385.1 angle=88.2
  coper made demo/wagtail.toml top-tube length=388 angle-start=74 --no-book --json
"""

LENGTH: Final = "length"
ANGLES: Final[dict[str, Which | None]] = {"angle": None, "angle-start": "start",
                                          "angle-end": "end"}
"""The angle, and the end that it is of where that is said."""
WHATS: Final = (LENGTH, *ANGLES)
"""What can be measured."""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add("more", metavar="TUBE [left|right] length=MM angle=D", nargs="*",
        help="the tube, which of two twins, and what was measured on it")
    add_no_book(parser)
    add_output(parser)


def ask(arguments: Namespace) -> Answer[Outcome]:
    """The answer to what the options ask."""
    file = arguments.file
    job = read_job(file)
    return placed(lambda: made_in_words(job, file, arguments.more, keeps=not arguments.no_book),
                  lambda error: error.at(file))


def made_in_words(
    job: Job, file: str, words: Sequence[str], keeps: bool = True
) -> Answer[Outcome]:
    """What follows from what was measured, as it is typed: ``chain-stay left length=385.1``.

    Parameters
    ----------
    job
        As it was read from its file.
    file
        That file: the twin's part is in its book.
    words
        The tube, which of two twins, and what was measured.
    keeps
        Whether the answer's ``keep`` keeps it in that book.

    Raises
    ------
    CoperError
        As :func:`made`, and where the words name no tube or measure nothing.
    """
    with lengths_in(job.units):
        parts = _read(job, file, words)
    tube, side = parts[0].tube, parts[0].side
    answer = made(job, tube, side, measured_of(parts), _twin(file, tube, side))
    return replace(answer, keep=_keeping(job, file, parts)) if keeps else answer


@in_job_unit
def made(
    job: Job, tube: str, side: Side, measured: Measured, twin: Measured | None = None
) -> Answer[Outcome]:
    """What follows from what a tube of a job measured.

    Parameters
    ----------
    job
        As it was read from its file.
    tube, side
        ``left``, ``right`` or ``centre``.
    measured
        On that tube.
    twin
        On its twin, if that is made.

    Raises
    ------
    CoperError
        Where the job cannot be made, or what was measured cannot be.
    """
    found = find_outcome(job, tube, side, measured, twin)
    title = made_title(found.made.piece)

    def record() -> dict[str, Any]:
        return {**json_head(), "job": job.title, "file": job.file, **outcome_record(found),
                "cautions": list(SAFETY)}

    def lines() -> Iterator[Line]:
        yield title
        yield from outcome_lines(found)
        yield from map(Caution, SAFETY)

    return Answer(title, found, record, lines)


def measured_of(parts: Iterable[MadePart]) -> Measured:
    """What the parts say, a later one before an earlier."""
    length = angle = at = None
    for part in parts:
        if part.what == LENGTH:
            length = part.value
        else:
            angle, at = part.value, ANGLES[part.what]
    return Measured(length, angle, at)


def _read(job: Job, file: str, words: Sequence[str]) -> tuple[MadePart, ...]:
    """What was measured on which tube; one part at least."""
    begin = f"coper made {typed_word(file)}"
    names = [word for word in words if "=" not in word]
    if not names:
        raise WordsError("no tube", f"write such as {begin} TUBE length=393.8")
    plan, *after = find_tube(job, names[0]), *names[1:]
    if len(after) > 1 or (after and after[0] not in SIDES):
        raise WordsError(f"{shown(' '.join(after))!r} is no side of it", "write left or right, "
                         "then what was measured: length=393.8", names[0])
    check_side(plan, after[0] if after else None, "")
    side: Side = "left" if after == ["left"] else "right" if after else "centre"
    parts = tuple(_part(plan.name, side, word) for word in words if "=" in word)
    if not parts:
        raise WordsError("nothing was measured", f"add {LENGTH}=393.8 or angle=62.4", names[0])
    _check_once([part.what for part in parts], names[0])
    return parts


def _check_once(whats: Sequence[str], tube: str) -> None:
    """Refuse a length twice, and two angles."""
    angles = [what for what in whats if what in ANGLES]
    if whats.count(LENGTH) > 1 or len(set(angles)) < len(angles):
        twice = LENGTH if whats.count(LENGTH) > 1 else angles[0]
        raise WordsError(f"{twice} is given twice", "give it once", tube)
    if len(angles) > 1:
        raise WordsError(f"{' and '.join(angles)}", "the tube is put home at one end first: give "
                         "the angle there", tube)


def _part(tube: str, side: Side, word: str) -> MadePart:
    what, _, text = word.partition("=")
    if what not in WHATS:
        raise WordsError(f"{shown(what)!r} is not measured", nearest_known(what, WHATS))
    try:
        value = size(text) if what == LENGTH else parse_angle(text)
    except CoperError as error:
        raise error.at(what) from error
    return MadePart(tube, side, what, value, text)


def _twin(file: str, tube: str, side: Side) -> Measured | None:
    """What the book has of the twin; a book that cannot be read has nothing."""
    path = book_path(file)
    if side == "centre" or not path.exists():
        return None
    try:
        with opened(path) as book:
            parts = [one for one in book.made() if one.tube == tube and one.side == across(side)]
    except FileError:
        return None
    return measured_of(parts) if parts else None


def _keeping(job: Job, file: str, parts: tuple[MadePart, ...]) -> Callable[[], Kept]:
    def keep(book: Book, typed: str) -> Kept:
        book.keep_made(parts, job.text)
        return Kept((Fact("book", f"kept in {typed}"),), {"made": len(parts)})

    return lambda: keep_in(file, keep)
