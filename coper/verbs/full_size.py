"""A layout at full size: how many sheets it takes, known before any page is made."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from coper.bench.layout.layout import Layout
from coper.drawing.marks import Group
from coper.errors import CoperError
from coper.job.papers import ROLL, paper_words
from coper.units import format_far

if TYPE_CHECKING:  # a layout in words only loads no pages
    from coper.pages.laid import Laid

MOST_PAGES = 150
"""A drawing on more pages than this is work for a roll."""

LONGEST_ROLL_MM = 4500.0
"""A PDF page ends at 14,400 points, 5.08 m (from memory); the ordinates need some of it."""


@dataclass(frozen=True, slots=True, eq=False)
class FullSize:
    """The drawing and its tables on sheets.

    Attributes
    ----------
    laid : Laid
    paper : str
    drawing : int
        Sheets that have some of the drawing.
    """

    laid: Laid
    paper: str
    drawing: int

    @property
    def count(self) -> int:
        """Sheets of all."""
        return len(self.laid.sheets)

    @property
    def length(self) -> float | None:
        """Of a roll what they take, mm; ``None`` of other papers."""
        rolled = self.paper.partition("=")[0] == ROLL
        return sum(size[1] for size in self.laid.sizes) if rolled else None

    def words(self) -> str:
        """``44 sheets of a4, 40 of them for the drawing``."""
        what = "sheet" if self.length is None else "piece"
        words = f"{self.count} {what}{'' if self.count == 1 else 's'} of {paper_words(self.paper)}"
        if self.drawing < self.count:
            words += f", {self.drawing} of them for the drawing"
        return words if self.length is None else (
            f"{words}, {format_far(self.length)} in all")

    def record(self) -> dict[str, Any]:
        """The same under the names of the JSON output, mm."""
        return {"paper": self.paper, "count": self.count, "drawing": self.drawing,
                "roll_length": self.length}


def full_sheets(layout: Layout, paper: str, printer: tuple[float, float]) -> FullSize:
    """A layout at full size on sheets of ``paper``, laid out and counted.

    Raises
    ------
    CoperError
        Nobody would glue as many together, or no roll is so long.
    """
    from coper.pages.compose import lay_out
    from coper.sheets.layout import layout_blocks

    _check(layout, paper, printer)
    drawing, *tables = layout_blocks(layout, paper, printer, full=True)
    laid = lay_out((drawing, *tables), paper, printer)
    return FullSize(laid, paper, sum(
        any(isinstance(mark, Group) and mark.name == drawing.name for mark in marks)
        for _, marks in laid.sheets))


def _check(layout: Layout, paper: str, printer: tuple[float, float]) -> None:
    """Refuse a full-size drawing that nobody would glue together."""
    from coper.pages.paper import content_size

    size, table = content_size(paper, printer), layout.table
    if size is None:
        if max(table.width, table.depth) > LONGEST_ROLL_MM:
            raise CoperError("at full size the drawing is "
                             f"{format_far(table.width, table.depth)}", "draw it to scale",
                             "full-size")
        return
    pages = math.ceil(table.width / max(size)) * math.ceil(table.depth / min(size))
    if pages > MOST_PAGES:
        raise CoperError(f"at full size the drawing needs about {pages} pages of "
                         f"{paper_words(paper)}", "draw it on a roll, or to scale", "full-size")
