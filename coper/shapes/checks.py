"""Checks that every shape makes on its numbers, and how it prints them."""

from __future__ import annotations

import math

from coper.errors import ShapeError
from coper.units import format_number, format_size, plain


def check_size(value: float, what: str) -> None:
    """Refuse a size that is not a positive, finite number of mm."""
    if isinstance(value, str):
        raise ShapeError(f"{what} {value!r} is text", "give a number of mm, or read the words of "
                         "a tube with parse_tube")
    if not math.isfinite(value) or value <= 0:
        raise ShapeError(f"{what} {format_size(value)} is not a size", f"give a {what} above 0")


def check_wall(wall: float | None, across: float) -> None:
    """Refuse a wall that leaves no bore in a section ``across`` mm wide."""
    if wall is None:
        return
    check_size(wall, "wall")
    if 2 * wall >= across:
        raise ShapeError(
            f"wall {format_size(wall)} is too thick for {format_size(across)}",
            f"give a wall below {format_size(across / 2)}",
        )


def check_oval(major: float, minor: float) -> None:
    """Refuse two axes that make no oval."""
    check_size(major, "major axis")
    check_size(minor, "minor axis")
    if major < minor:
        raise ShapeError(
            f"major axis {format_size(major)} is below minor axis {format_size(minor)}",
            f"swap them: oval {format_number(minor)} by {format_number(major)}",
        )
    if major > FLATTEST * minor:
        raise ShapeError(
            f"oval {format_number(major)} by {format_number(minor)} is flatter than any tube",
            f"check the two numbers; the first is at most {FLATTEST} times the second",
        )


def wall_words(wall: float | None) -> str:
    """The wall in the grammar of the command line, with the space before it, or nothing."""
    return "" if wall is None else f" x {plain(wall)}"


FLATTEST = 1000
"""The largest ratio of an oval's axes; a larger one is a misplaced decimal point."""
