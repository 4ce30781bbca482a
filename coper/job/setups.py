"""The set-up of every shaped end of a tube, with the shop's saws."""

from __future__ import annotations

from coper.bench.setup import EndSetup, SawShop, piece_setups
from coper.frame.piece import Piece
from coper.job.job import Shop
from coper.job.limits import shop_limit
from coper.joint.saw.setting import USUAL_DEPTH_MM


def shop_setups(piece: Piece, shop: Shop) -> tuple[EndSetup, ...]:
    """The set-ups of ``piece``; the usual saws and depth where the shop does not say."""
    limit = shop_limit(shop)
    return piece_setups(piece, SawShop(
        shop.saws, USUAL_DEPTH_MM if shop.depth is None else shop.depth,
        0.0 if limit is None else limit.mm))
