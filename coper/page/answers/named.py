"""An end of a job by the name that its address has: for every station that shows one."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from coper.book.entries import EndName
from coper.frame.piece import Piece
from coper.frame.tube import Which
from coper.job.frame import make_pieces
from coper.job.named_end import JobEnd, check_seats, find_end
from coper.page.answers.change import job_in
from coper.units import lengths_in

NO_SIDE: Final = "centre"
"""The side, in an address, of a tube that has no twin."""

REMEMBERED: Final = 32


@lru_cache(maxsize=REMEMBERED)
def pieces_of(text: str) -> tuple[Piece, ...]:
    """Every tube of a job, both ends shaped.

    Raises
    ------
    CoperError
        Where the job does not load, or a tube of it cannot be made.
    """
    job = job_in(text)
    with lengths_in(job.units):
        return make_pieces(job)


@lru_cache(maxsize=REMEMBERED)
def end_of(text: str, tube: str, side: str, which: Which) -> JobEnd:
    """The shaped end of a job by its name.

    Raises
    ------
    CoperError
        Where there is none.
    """
    job = job_in(text)
    with lengths_in(job.units):
        return find_end(job, tube, None if side == NO_SIDE else side, which)


def seated_end(text: str, tube: str, side: str, which: Which) -> JobEnd:
    """The same; refused where it seats on no main."""
    found = end_of(text, tube, side, which)
    check_seats(found.end, found.name)
    return found


def end_name(end: JobEnd) -> EndName:
    """Its name as the book has it, and its address."""
    return EndName(end.piece.tube.name, end.piece.tube.side, end.end.which)
