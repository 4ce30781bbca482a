"""The set-up of every shaped end of a tube, with the shop's saws."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from coper.bench.setup import EndSetup
    from coper.frame.piece import Piece
    from coper.job.job import Shop


def shop_setups(piece: Piece, shop: Shop) -> tuple[EndSetup, ...]:
    """The set-ups of ``piece``; the usual saws and depth where the shop does not say."""
    from coper.bench.setup import SawShop, piece_setups
    from coper.job.limits import shop_limit
    from coper.joint.saw.setting import USUAL_DEPTH_MM

    limit = shop_limit(shop)
    return piece_setups(piece, SawShop(
        shop.saws, USUAL_DEPTH_MM if shop.depth is None else shop.depth,
        0.0 if limit is None else limit.mm))


def piece_json(piece: Piece, shop: Shop) -> dict[str, Any]:
    """One tube and side; its shaped ends have the ``gap`` to expect and their ``setup``."""
    from coper.job.limits import shop_limit
    from coper.telling.records.piece import piece_record
    from coper.telling.records.setup import setup_record

    record = piece_record(piece)
    for setup in shop_setups(piece, shop):
        record["ends"][setup.end.which] |= setup_record(setup, shop_limit(shop))
    return record
