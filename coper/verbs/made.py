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
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from coper.book.book import Book, opened
from coper.book.entries import MadePart
from coper.book.place import book_path
from coper.errors import CoperError, FileError, WordsError, nearest_known
from coper.frame.made import seated_end
from coper.frame.tube import Side
from coper.job.frame import make_pieces
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

LENGTH, ANGLE, ANGLES = "length", "angle", {"angle-start": "start", "angle-end": "end"}
WHATS: Final = (LENGTH, ANGLE, *ANGLES)
"""What can be measured."""


@dataclass(frozen=True, slots=True)
class TypedPart:
    """What was typed of a part: what, its value in mm or degrees, and the words."""

    what: str
    value: float
    typed: str


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

    def work() -> Answer[Outcome]:
        with lengths_in(job.units):
            tube, side, parts = _read(job, file, arguments.more)
        measured = measured_of(job, tube, side, parts)
        twin = _twin(job, file, tube, side)
        answer = made(job, tube, side, measured, twin)
        return answer if arguments.no_book else replace(
            answer, keep=_keeping(job, file, tube, side, parts))

    return placed(work, lambda error: error.at(file))


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


def measured_of(job: Job, tube: str, side: Side, parts: Sequence[TypedPart]) -> Measured:
    """What the parts say; an ``angle`` is that of the end that is put home first."""
    known = {part.what: part.value for part in parts}
    if ANGLE in known:
        piece = next(one for one in make_pieces(job)
                     if (one.tube.name, one.tube.side) == (tube, side))
        known.setdefault(f"{ANGLE}-{seated_end(piece)}", known[ANGLE])
    return Measured(known.get(LENGTH), *(known.get(name) for name in ANGLES))


def _read(job: Job, file: str, words: Sequence[str]) -> tuple[str, Side, tuple[TypedPart, ...]]:
    """The tube, its side, and what was measured."""
    begin = f"coper made {typed_word(file)}"
    names = [word for word in words if "=" not in word]
    if not names:
        raise WordsError("no tube", f"write such as {begin} TUBE length=393.8")
    plan, *after = find_tube(job, names[0]), *names[1:]
    if len(after) > 1 or (after and after[0] not in SIDES):
        raise WordsError(f"{shown(' '.join(after))!r} is no side of it", "write left or right, "
                         "then what was measured: length=393.8", names[0])
    check_side(plan, after[0] if after else None, "")
    parts = tuple(_part(word) for word in words if "=" in word)
    whats = [part.what for part in parts]
    for what in whats:
        if whats.count(what) > 1 or (what == ANGLE and set(whats) & set(ANGLES)):
            raise WordsError(f"{what} is given twice", "give it once", names[0])
    if not parts:
        raise WordsError("nothing was measured", f"add {LENGTH}=393.8 or {ANGLE}=62.4", names[0])
    side: Side = "left" if after == ["left"] else "right" if after else "centre"
    return plan.name, side, parts


def _part(word: str) -> TypedPart:
    what, _, text = word.partition("=")
    if what not in WHATS:
        raise WordsError(f"{shown(what)!r} is not measured", nearest_known(what, WHATS))
    try:
        return TypedPart(what, size(text) if what == LENGTH else parse_angle(text), text)
    except CoperError as error:
        raise error.at(what) from error


def _twin(job: Job, file: str, tube: str, side: Side) -> Measured | None:
    """What the book has of the twin; a book that cannot be read has nothing."""
    path = book_path(file)
    if side == "centre" or not path.exists():
        return None
    try:
        with opened(path) as book:
            parts = [one for one in book.made() if one.tube == tube and one.side not in
                     (side, "centre")]
    except FileError:
        return None
    if not parts:
        return None
    known = {one.what: one.value for one in parts}
    return Measured(known.get(LENGTH), *(known.get(name) for name in ANGLES))


def _keeping(
    job: Job, file: str, tube: str, side: Side, parts: Sequence[TypedPart]
) -> Callable[[], Kept]:
    kept = tuple(MadePart(tube, side, one.what, one.value, one.typed) for one in parts)

    def keep(book: Book, typed: str) -> Kept:
        book.keep_made(kept, job.text)
        return Kept((Fact("book", f"kept in {typed}"),), {"made": len(kept)})

    return lambda: keep_in(file, keep)
