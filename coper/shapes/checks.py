"""Checks that every shape makes of its numbers, and how it prints them."""

from __future__ import annotations

import math

from coper.errors import ShapeError


def check_size(value: float, what: str) -> None:
    """Refuse a size that is not a positive, finite number of mm."""
    if not math.isfinite(value) or value <= 0:
        raise ShapeError(f"{what} {plain(value)} mm is no size", f"give a {what} above 0")


def check_wall(wall: float | None, across: float) -> None:
    """Refuse a wall that leaves no bore in a section ``across`` mm wide."""
    if wall is None:
        return
    check_size(wall, "wall")
    if 2 * wall >= across:
        raise ShapeError(
            f"wall {plain(wall)} mm is too thick for {plain(across)} mm",
            f"give a wall below {plain(across / 2)} mm",
        )


def plain(value: float) -> str:
    """A number of mm or degrees for the reader: at most four decimals, none that say nothing."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
