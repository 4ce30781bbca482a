"""A shaped job as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from coper.bench.assembly.assembly import Assembly
from coper.bicycle.before_after import measured
from coper.frame.alike import Alike
from coper.frame.clash import Clash
from coper.frame.main_landings import MainLanding, find_landings
from coper.frame.piece import Piece
from coper.job.job import Shop
from coper.job.limits import shop_limit
from coper.job.setups import ShopSetups
from coper.job.shaped import ShapedJob
from coper.joint.steps import Progress, silent
from coper.telling.records.assembly import assembly_record
from coper.telling.records.bicycle import bicycle_record
from coper.telling.records.cut_list import cut_list_record
from coper.telling.records.piece import piece_record
from coper.telling.records.setup import setup_record


def job_record(
    shaped: ShapedJob, order: Assembly, progress: Progress = silent
) -> dict[str, Any]:
    """Everything that is known of the job, every tube and side of it, and the order of work."""
    job = shaped.job
    return {
        "title": job.title,
        "shop": _shop_record(job.shop),
        "points": {name: list(point) for name, point in job.points.items()},
        "bicycle": None if job.bicycle is None else bicycle_record(
            measured(job.bicycle, [piece.tube for piece in shaped.pieces])),
        "tubes": list(_tube_records(shaped.pieces, job.shop, progress)),
        "cut_list": cut_list_record(shaped.cut_list),
        "order": assembly_record(order),
        "alike": [alike_record(group) for group in shaped.cut_list.alike if group.count > 1],
        "clashes": [clash_record(clash) for clash in shaped.clashes],
    }


def _shop_record(shop: Shop) -> dict[str, Any]:
    """What the shop works with, and the largest gap that it still calls good, mm."""
    limit = shop_limit(shop)
    return {
        "process": shop.process,
        "limit": None if limit is None else limit.mm,
        "limit_source": None if limit is None else limit.source,
        "saws": list(shop.saws),
        "depth": shop.depth,
        "material": shop.material,
    }


def _tube_records(
    pieces: Sequence[Piece], shop: Shop, progress: Progress
) -> Iterator[dict[str, Any]]:
    """Every tube and side; shaped ends have the ``gap`` to expect and their ``setup``."""
    setups, limit, landings = ShopSetups(shop), shop_limit(shop), find_landings(pieces)
    for number, piece in enumerate(pieces, 1):
        progress(f"saws for {piece.label} ({number} of {len(pieces)})")
        record = piece_record(piece)
        for setup in setups.of(piece):
            record["ends"][setup.end.which] |= setup_record(setup, limit)
        named = piece.tube.name, piece.tube.side
        yield {**record, "landings": list(map(landing_record, landings.get(named, [])))}


def landing_record(landing: MainLanding) -> dict[str, Any]:
    """Where an end lands on the tube whose record this is in, mm and degrees."""
    return {
        "name": landing.piece.tube.name,
        "side": landing.piece.tube.side,
        "end": landing.which,
        "at": landing.at,
        "along": landing.along,
        "clock": landing.clock,
        "aside": landing.aside,
        "heel": landing.heel,
        "reach": list(landing.reach),
    }


def alike_record(group: Alike) -> dict[str, Any]:
    """Pieces that are the same, and those that are their mirror image.

    ``clock_0`` is where a piece has the clock 0 of the first of its list, in degrees of its own.
    """
    same, mirror = ([] if batch is None else [
        {"name": member.piece.tube.name, "side": member.piece.tube.side,
         "clock_0": member.laid.clock_0, "end_for_end": member.laid.end_for_end}
        for member in batch.members] for batch in (group.batch, group.mirror))
    return {"count": group.count, "pieces": same, "mirror_images": mirror}


def clash_record(clash: Clash) -> dict[str, Any]:
    """Two tubes that run through each other: which, how deep in mm, and where."""
    return {
        "tubes": [{"name": piece.tube.name, "side": piece.tube.side}
                  for piece in (clash.one, clash.other)],
        "deep": clash.deep,
        "at": list(clash.at),
    }
