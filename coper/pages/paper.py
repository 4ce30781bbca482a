"""The papers that pages are printed on, and what of them is left for blocks."""

from __future__ import annotations

from typing import Final

from coper.drawing.bounds import Bounds
from coper.errors import CoperError, nearest_known
from coper.job.papers import ROLL, TRUE_PRINTER, check_printer, roll_width
from coper.pages.furniture import strip_below, strip_left, strip_right
from coper.pages.tiles import LEAST_OVERLAP_MM
from coper.units import format_number, format_size

PAPERS: Final = {
    "a4": (210.0, 297.0),  # ISO 216
    "a3": (297.0, 420.0),  # ISO 216
    "letter": (215.9, 279.4),  # ANSI/ASME Y14.1, size A
    "legal": (215.9, 355.6),
}
"""Sheets of paper, upright: width and height in mm."""

MARGIN_MM: Final = 10.0
"""Printers leave this much of every edge of a page blank."""
OVERLAP_MM: Final = 10.0
"""What neighbouring tiles share, unless another width is given."""
_MOST_OVERLAP_MM: Final = 50.0

LONGEST_MM: Final = 5000.0
"""A PDF page ends at 14,400 points, 5.08 m (from memory)."""


def content_size(
    paper: str, printer: tuple[float, float] = TRUE_PRINTER
) -> tuple[float, float] | None:
    """Width and height in mm that a page has for blocks; ``None`` for a roll of any width.

    Raises
    ------
    CoperError
        The paper is not known, or ``printer`` is out of its range.
    """
    area = paper_area(paper, printer, OVERLAP_MM)
    if area is None:
        return None
    content = content_of(area)
    return content.width, content.height


def paper_area(paper: str, printer: tuple[float, float], overlap: float) -> Bounds | None:
    """The printable part of a page, of a roll the longest; ``None`` for a roll of any width.

    Raises
    ------
    CoperError
        The paper is not known, or another number is out of its range.
    """
    paper = paper.lower()
    check_paper(paper, printer, overlap)
    width = roll_width(paper)
    if width is not None:
        return sheet_area((width, LONGEST_MM * min(1.0, 100 / printer[1])), printer)
    return None if paper == ROLL else sheet_area(PAPERS[paper], printer)


def is_roll(paper: str) -> bool:
    """Whether a page of it is as long as it needs to be."""
    return paper.lower().partition("=")[0] == ROLL


def page_letter(index: int) -> str:
    """The letter of a page counted from 0: A to Z, then AA, AB, …"""
    letters = ""
    index += 1
    while index:
        index, place = divmod(index - 1, 26)
        letters = chr(ord("A") + place) + letters
    return letters


def check_paper(paper: str, printer: tuple[float, float], overlap: float) -> None:
    """Refuse what no page can be made with."""
    if paper not in PAPERS and not is_roll(paper):
        cure = nearest_known(paper, (*PAPERS, ROLL))
        raise CoperError(f"no paper is called {paper!r}", cure, "paper")
    try:
        check_printer(printer)
    except CoperError as error:
        raise error.at("printer") from error
    if not LEAST_OVERLAP_MM <= overlap <= _MOST_OVERLAP_MM:
        raise CoperError(
            f"tiles cannot overlap by {format_size(overlap)}",
            f"give {format_number(LEAST_OVERLAP_MM)} to {format_size(_MOST_OVERLAP_MM)}",
            "overlap",
        )


def sheet_area(size: tuple[float, float], printer: tuple[float, float]) -> Bounds:
    """The printable part of a sheet, in mm as they come out of the printer.

    All is laid out in those mm and scaled by 100 / bar at the very end, so the sheet is laid out
    ``bar / 100`` times as large as it is. The margin holds in the file. Where the printer enlarges
    about the middle of the sheet, it holds on the paper as well.
    """
    (width, height), (across, along) = size, printer
    side = max(MARGIN_MM * across / 100, MARGIN_MM + width * (across - 100) / 200)
    end = max(MARGIN_MM * along / 100, MARGIN_MM + height * (along - 100) / 200)
    return Bounds(side, end, width * across / 100 - side, height * along / 100 - end)


def content_of(area: Bounds) -> Bounds:
    """What of the printable area is left for blocks."""
    return Bounds(area.left + strip_left(), area.bottom + strip_below(),
                  area.right - strip_right(), area.top)
