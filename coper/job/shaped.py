"""A job shaped: its pieces, and what they are cut from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from coper.arrays import OneLine
from coper.bench.cut_list.cut_list import CutList
from coper.frame.clash import Clash, find_clashes
from coper.frame.piece import Piece
from coper.job.frame import make_pieces
from coper.job.job import Job
from coper.job.stock import job_cut_list


@dataclass(frozen=True, eq=False, repr=False)  # without slots: what is asked for is kept
class ShapedJob(OneLine):
    """A job and what comes out of it; the cut list and the clashes once they are asked for.

    Attributes
    ----------
    job : Job
    pieces : tuple of Piece
        In the file's order, the right twin with its left.
    """

    job: Job
    pieces: tuple[Piece, ...]

    @cached_property
    def cut_list(self) -> CutList:
        """The blanks shared out."""
        return job_cut_list(self.job, self.pieces)

    @cached_property
    def clashes(self) -> tuple[Clash, ...]:
        """Tubes that run through each other though neither seats on the other."""
        return find_clashes(self.pieces)


def shape_job(job: Job) -> ShapedJob:
    """Both ends of every tube of ``job`` shaped.

    Raises
    ------
    JobError
        With every tube that cannot be made.
    """
    return ShapedJob(job, make_pieces(job))
