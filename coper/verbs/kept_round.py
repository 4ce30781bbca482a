"""A round of readings, kept in the shop book with what was answered."""

from __future__ import annotations

from dataclasses import replace

from coper.book.book import Book
from coper.book.entries import EndName, Reading, Readings
from coper.job.named_end import JobEnd
from coper.joint.fit.limits import Limit
from coper.joint.regrind.regrind import Regrind
from coper.telling.records.book import round_record
from coper.telling.records.regrind import regrind_record
from coper.telling.words.book import kept_lines
from coper.units import lengths_in
from coper.verbs.answer import Answer, Kept
from coper.verbs.gaps import TypedGaps
from coper.verbs.kept import keep_in


def keeping_round(
    answer: Answer[Regrind], asked: JobEnd, file: str, gaps: TypedGaps, cut: str,
    limit: Limit | None,
) -> Answer[Regrind]:
    """The answer, which keeps itself in the book of the job ``file``."""
    good = None if limit is None else limit.mm
    tube = asked.piece.tube
    readings = Readings(EndName(tube.name, tube.side, asked.end.which),
                        tuple(Reading(*pair) for pair in gaps.pairs), gaps.typed, cut, good)
    said = regrind_record(asked.joint, answer.result, good)

    def keep(book: Book, typed: str) -> Kept:
        before = book.rounds(readings.end)
        kept = book.keep_round(readings, said, asked.job.text)
        again = kept.number == len(before)
        earlier = before[:kept.number - 1]
        with lengths_in(asked.job.units):
            lines = tuple(kept_lines(kept, earlier, again, typed))
        return Kept(lines, round_record(kept))

    return replace(answer, keep=lambda: keep_in(file, keep))
