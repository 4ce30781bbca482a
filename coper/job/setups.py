"""The set-ups of a job's shaped ends, with the shop's saws."""

from __future__ import annotations

from coper.bench.setup import EndSetup, Known, SawShop, piece_setups
from coper.frame.piece import Piece
from coper.job.job import Shop
from coper.job.limits import shop_limit
from coper.joint.saw.setting import USUAL_DEPTH_MM


def saw_shop(shop: Shop) -> SawShop:
    """What a job's shop saws with; the usual saws and depth where it does not say."""
    limit = shop_limit(shop)
    return SawShop(shop.saws, USUAL_DEPTH_MM if shop.depth is None else shop.depth,
                   0.0 if limit is None else limit.mm)


class ShopSetups:
    """Set-ups with one shop's saws.

    Choosing saws is slow, and many tubes of a job are cut alike: ends that are the same are worked
    out once.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = saw_shop(shop)
        self._known: Known = {}

    def of(self, piece: Piece) -> tuple[EndSetup, ...]:
        """The set-up of every shaped end of ``piece``."""
        return piece_setups(piece, self._shop, self._known)
