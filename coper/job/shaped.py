"""A job shaped: its pieces, and what they are cut from."""

from __future__ import annotations

from dataclasses import dataclass

from coper.arrays import OneLine
from coper.bench.cut_list.cut_list import CutList
from coper.frame.clash import Clash, find_clashes
from coper.frame.piece import Piece
from coper.job.frame import make_pieces
from coper.job.job import Job
from coper.job.stock import job_cut_list


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class ShapedJob(OneLine):
    """A job and what comes out of it.

    Attributes
    ----------
    job : Job
    pieces : tuple of Piece
        In the file's order, the right twin with its left.
    cut_list : CutList
    clashes : tuple of Clash
        Tubes that run through each other though neither seats on the other.
    """

    job: Job
    pieces: tuple[Piece, ...]
    cut_list: CutList
    clashes: tuple[Clash, ...]


def shape_job(job: Job) -> ShapedJob:
    """Both ends of every tube of ``job`` shaped, and the blanks shared out.

    Raises
    ------
    JobError
        With every tube that cannot be made.
    """
    pieces = make_pieces(job)
    return ShapedJob(job, pieces, job_cut_list(job, pieces), find_clashes(pieces))
