"""What every page carries besides its content: two check bars and a foot line."""

from __future__ import annotations

from typing import Final

import numpy as np

from coper.drawing.bounds import Bounds
from coper.drawing.changes import moved, turned90
from coper.drawing.letters import DESCENT_CAPS, shortened, text_width
from coper.drawing.marks import NOTE_HEIGHT, THIN, Group, Mark, Path, Text

BAR_MM: Final = 100.0
"""Length of a check bar."""
_TICK_STEP_MM: Final = 10.0
_TICK_MM: Final = 2.0
_END_TICK_MM: Final = 3.0
_GAP_MM: Final = 2.0
"""Between things that must not touch: a bar and its label, a strip and the content."""
_FOOT_MM: Final = NOTE_HEIGHT * (1 + DESCENT_CAPS)
"""Height of the foot line, descenders included."""
_BAR_ACROSS_MM: Final = _FOOT_MM + 1.5
"""The bar across stands this far above the margin, clear of the foot line."""

STRIP_BELOW_MM: Final = _BAR_ACROSS_MM + _END_TICK_MM + _GAP_MM
"""Height of the strip for the bar across and the foot line."""
STRIP_LEFT_MM: Final = _END_TICK_MM + _GAP_MM
"""Width of the strip for the bar along."""

_SCALE_WORDS: Final = "print at 100 %, no scaling"
_BAR_WORDS: Final = "100 mm {}: measure me"
_LABEL_MM: Final = max(
    text_width(_BAR_WORDS.format(way), NOTE_HEIGHT) for way in ("across", "along")
)
LEAST_SIZE_MM: Final = BAR_MM + _GAP_MM + _LABEL_MM
"""A page needs this much inside its margins, both ways, for the bars and their labels."""


def furniture(area: Bounds, title: str, letter: str, count: int) -> Group:
    """The check bars and the foot line of one page.

    Parameters
    ----------
    area : Bounds, mm
        The page inside its margins.
    title
        What the foot line says first; shortened where it is too long.
    letter
        The page's letter.
    count
        How many pages there are.
    """
    floor = area.bottom + _BAR_ACROSS_MM
    across = moved(_bar("across"), area.left, floor)
    standing = turned90(_bar("along"))  # its ticks now point to the left
    along = moved(standing, area.left + _END_TICK_MM, area.bottom + STRIP_BELOW_MM)
    return Group((*across, *along, *_foot(area, title, letter, count)), "furniture")


def _bar(way: str) -> tuple[Mark, ...]:
    """A bar of 100 mm along the x axis from the origin, its ticks upwards, its label behind it."""
    marks: list[Mark] = [Path(np.array(((0.0, 0.0), (BAR_MM, 0.0))), THIN, name=f"check-{way}")]
    for x in np.arange(0.0, BAR_MM + _TICK_STEP_MM / 2, _TICK_STEP_MM):
        tick = _END_TICK_MM if x in (0.0, BAR_MM) else _TICK_MM
        marks.append(Path(np.array(((x, 0.0), (x, tick))), THIN))
    marks.append(Text((BAR_MM + _GAP_MM, 0.0), _BAR_WORDS.format(way), NOTE_HEIGHT))
    return tuple(marks)


def _foot(area: Bounds, title: str, letter: str, count: int) -> tuple[Mark, ...]:
    """The title at the left, the page and how to print it at the right."""
    words = f"page {letter} of {count} · {_SCALE_WORDS}"
    room = area.width - text_width(words, NOTE_HEIGHT) - _GAP_MM
    base = area.bottom + DESCENT_CAPS * NOTE_HEIGHT
    page = Text((area.right, base), words, NOTE_HEIGHT, "right", name="page")
    if not title:
        return (page,)
    said = shortened(title, room, NOTE_HEIGHT)
    return Text((area.left, base), said, NOTE_HEIGHT, name="title"), page
