"""A whole job: every tube, both ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from coper.joint.cautions import SAFETY
from coper.telling.records.head import json_head

if TYPE_CHECKING:
    from coper.bench.cut_list.cut_list import CutList
    from coper.frame.piece import Piece
    from coper.job.job import Job, Shop


@dataclass(frozen=True, slots=True, eq=False)
class JobWork:
    """What comes out of a job: its pieces in the file's order, the right twin with its left."""

    job: Job
    pieces: tuple[Piece, ...]
    cautions: tuple[str, ...]
    cut_list: CutList


def work_job(job: Job) -> JobWork:
    """Shape both ends of every tube of ``job``."""
    from coper.job.frame import make_pieces
    from coper.job.stock import job_cut_list

    pieces = make_pieces(job)
    return JobWork(job, pieces, SAFETY, job_cut_list(job, pieces))


def job_json(work: JobWork) -> dict[str, Any]:
    """The one object that ``coper job --json`` prints."""
    from coper.telling.records.cut_list import cut_list_record
    from coper.work.setups import piece_json

    return {
        **json_head(),
        "title": work.job.title,
        "shop": _shop_record(work.job.shop),
        "points": {name: list(point) for name, point in work.job.points.items()},
        "bicycle": _bicycle_record(work),
        "tubes": [piece_json(piece, work.job.shop) for piece in work.pieces],
        "cut_list": cut_list_record(work.cut_list),
        "cautions": list(work.cautions),
    }


def _bicycle_record(work: JobWork) -> dict[str, Any] | None:
    from coper.telling.records.bicycle import bicycle_record

    bicycle = work.job.bicycle
    tubes = [piece.tube for piece in work.pieces]
    return None if bicycle is None else bicycle_record(bicycle, tubes)


def _shop_record(shop: Shop) -> dict[str, Any]:
    """What the shop works with, and the largest gap that it still calls good, mm."""
    from coper.job.limits import shop_limit

    limit = shop_limit(shop)
    return {
        "process": shop.process,
        "limit": None if limit is None else limit.mm,
        "limit_source": None if limit is None else limit.source,
        "saws": list(shop.saws),
        "depth": shop.depth,
        "material": shop.material,
    }
