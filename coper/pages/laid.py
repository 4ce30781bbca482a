"""Blocks laid out on pages, before the pages have their bars and their foot lines."""

from __future__ import annotations

from dataclasses import dataclass

from coper.drawing.bounds import Bounds
from coper.drawing.changes import scaled
from coper.drawing.marks import Group, Mark
from coper.drawing.page import Page
from coper.pages.code import code_of_marks
from coper.pages.furniture import Foot, furniture
from coper.pages.lettered import lettered
from coper.pages.paper import page_letter

Sheet = tuple[Bounds, list[Mark]]
"""The printable part of a page, and what is put there."""

Span = tuple[int, int]
"""The first and the last of some pages, counted from 0."""


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """Blocks laid out, before the bars and the foot lines are there.

    Attributes
    ----------
    sheets : list of Sheet
    printer : (across, along), mm
        What the check bars of an earlier print measured.
    before : int
        How many pages of the same stack come before these.
    """

    sheets: list[Sheet]
    printer: tuple[float, float]
    before: int = 0

    @property
    def sizes(self) -> tuple[tuple[float, float], ...]:
        """Width and height of every page, mm."""
        across, along = 100 / self.printer[0], 100 / self.printer[1]
        return tuple(((area.left + area.right) * across, (area.bottom + area.top) * along)
                     for area, _ in self.sheets)

    @property
    def places(self) -> dict[str, Span]:
        """The first and the last page, from 0, that each block is on, by its name."""
        found: dict[str, Span] = {}
        for number, (_, content) in enumerate(self.sheets):
            for mark in content:
                if isinstance(mark, Group):
                    first, _ = found.get(mark.name, (number, number))
                    found[mark.name] = first, number
        return found

    def pages(
        self, title: str = "", after: int = 0, code: str = ""
    ) -> tuple[Page, ...]:
        """The pages; ``after`` them come others of the same stack.

        ``code`` is that of the whole stack, of what is drawn here where it is empty; the first
        page opens the sheet of that title.
        """
        count = self.before + len(self.sheets) + after
        code = code or code_of_marks(mark for _, content in self.sheets for mark in content)
        return tuple(
            self._page(index, size, Foot(title, page_letter(self.before + index), count, code),
                       (title,) if title and not index else ())
            for index, size in enumerate(self.sizes))

    def _page(
        self, index: int, size: tuple[float, float], foot: Foot, opens: tuple[str, ...]
    ) -> Page:
        """A page, its check bars and foot line added, scaled for the printer."""
        area, content = self.sheets[index]
        marks = (*lettered(content, foot.letter), furniture(area, foot))
        across, along = (100 / bar for bar in self.printer)
        return Page(foot.letter, *size, scaled(marks, across, along), opens)
