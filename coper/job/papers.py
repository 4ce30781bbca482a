"""The papers that a job and the command line may ask for, by name: what costs no import."""

from __future__ import annotations

from typing import Final

from coper.errors import CoperError
from coper.units import format_number, format_size, plain

ROLL: Final = "roll"
PAPERS: Final = ("a4", "a3", "letter", "legal", ROLL)
"""Those that pages are composed for; a roll is as wide as it needs to be, or ``roll=WIDTH``."""

ROLL_RANGE_MM: Final = (200.0, 5000.0)
"""Narrower, a roll has no room for the check bars; a PDF page ends at 5.08 m (from memory)."""


TRUE_PRINTER: Final = (100.0, 100.0)
"""What the two check bars measure where the printer needs no correction, mm."""
_BAR_RANGE_MM: Final = (90.0, 110.0)
"""A bar outside this was measured wrong, or printed fitted to the page."""


def check_printer(printer: tuple[float, float]) -> None:
    """Refuse what no check bars can have measured, across and along, mm."""
    low, high = _BAR_RANGE_MM
    for way, bar in zip(("across", "along"), printer, strict=True):
        if not low <= bar <= high:
            raise CoperError(
                f"a check bar of 100 mm cannot have measured {bar:g} mm {way}",
                f"print at 100 %, without scaling, and give what the bars measure, "
                f"{low:g} to {high:g} mm")


def roll_paper(width: float) -> str:
    """The name of a roll ``width`` mm wide: ``roll=914.4``.

    Raises
    ------
    CoperError
        No roll is so narrow or so wide.
    """
    low, high = ROLL_RANGE_MM
    if not low <= width <= high:
        raise CoperError(f"a roll cannot be {format_size(width)} wide",
                         f"give its width, {format_number(low)} to {format_size(high)}")
    return f"{ROLL}={plain(width)}"


def roll_width(paper: str) -> float | None:
    """The width in mm of a roll that has one; ``None`` of any other paper."""
    name, given, width = paper.partition("=")
    return float(width) if given and name == ROLL else None


def a_paper(name: str | None, roll: float | None = None) -> str:
    """The paper of that name, A4 where it is ``None``; a roll of no width is ``roll`` mm wide."""
    paper = name or PAPERS[0]
    return roll_paper(roll) if paper == ROLL and roll else paper


def paper_words(paper: str) -> str:
    """A paper as it is spoken of: ``a4``, ``a roll``, ``a roll 914.4 mm wide``."""
    width = roll_width(paper)
    if width is not None:
        return f"a roll {format_size(width)} wide"
    return "a roll" if paper == ROLL else paper
