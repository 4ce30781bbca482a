"""Bends as plain lists and numbers, under the names of the JSON output."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from coper.bench.bends import BendList
from coper.telling.records.joint import shape_record


def bends_record(lists: Iterable[BendList]) -> list[dict[str, Any]]:
    """Every bent tube and side; ``needed`` and each ``mark`` with what the shop's bender adds."""
    return [{
        "name": found.piece.tube.name,
        "side": found.piece.tube.side,
        "shape": shape_record(found.piece.tube.shape),
        "blank": found.blank,
        "needed": found.needed,
        "straight_after": found.straight,
        "bends": [asdict(bend) for bend in found.bends],
    } for found in lists]
