"""A tube and the set-up of its ends, as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from coper.frame.piece import Piece
    from coper.job.job import Shop


def piece_json(piece: Piece, shop: Shop) -> dict[str, Any]:
    """One tube and side; its shaped ends have the ``gap`` to expect and their ``setup``."""
    from coper.job.limits import shop_limit
    from coper.job.setups import shop_setups
    from coper.telling.records.piece import piece_record
    from coper.telling.records.setup import setup_record

    record = piece_record(piece)
    for setup in shop_setups(piece, shop):
        record["ends"][setup.end.which] |= setup_record(setup, shop_limit(shop))
    return record
