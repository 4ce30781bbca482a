"""A whole job: every tube, both ends."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from coper.joint.cautions import WORK
from coper.work.head import head
from coper.work.sheets import GLUE_MM, PAPER_MM, sheet_files

if TYPE_CHECKING:
    from coper.frame.piece import Piece
    from coper.job.job import Job
    from coper.paper.pages import Page


@dataclass(frozen=True, slots=True, eq=False)
class JobWork:
    """What comes out of a job: its pieces in the file's order, the right twin with its left."""

    job: Job
    pieces: tuple[Piece, ...]
    cautions: tuple[str, ...]


def work_job(job: Job) -> JobWork:
    """Shape both ends of every tube of ``job``."""
    from coper.job.frame import make_pieces

    return JobWork(job, make_pieces(job), WORK)


def job_json(work: JobWork) -> dict[str, Any]:
    """The one object that ``coper job --json`` prints."""
    from coper.frame.record import piece_record

    return {
        **head(),
        "title": work.job.title,
        "tubes": [piece_record(piece) for piece in work.pieces],
        "cautions": list(work.cautions),
    }


def job_pages(work: JobWork) -> tuple[Page, ...]:
    """The templates of every shaped tube, in the job's order, on the shop's paper."""
    from coper.paper.notes import caution_column
    from coper.paper.pages import Block, compose
    from coper.paper.piece import piece_blocks

    blocks = [
        block for piece in work.pieces if any(end.cope for end in piece.ends)
        for block in piece_blocks(piece, PAPER_MM, GLUE_MM)
    ]
    blocks.append(Block("cautions", caution_column(work.cautions)))
    return compose(blocks, work.job.shop.paper or "a4", title=work.job.title)


def job_files(work: JobWork, folder: Path) -> dict[Path, bytes]:
    """What ``coper job --out`` writes: the templates as one PDF."""
    return sheet_files(job_pages(work), work.job.title, None, folder / "templates.pdf")
