"""What every page carries besides its content: two check bars and a foot line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.bounds import Bounds
from coper.drawing.changes import moved, turned90
from coper.drawing.letters import DESCENT_CAPS, shortened, text_width
from coper.drawing.marks import NOTE_HEIGHT, THIN, Group, Mark, Path, Text
from coper.units import INCH_MM, in_inches

BAR_MM: Final = 100.0
"""Length of a check bar."""
INCH_BAR_MM: Final = 4 * INCH_MM
"""Length of the one on its other side, where the order is in inches."""
_TICK_STEP_MM: Final = 10.0
_INCH_TICKS: Final = 9
"""Half inches, from the first to the last."""
_TICK_MM: Final = 2.0
_END_TICK_MM: Final = 3.0
_BESIDE_MM: Final = 2.0
"""The lettering of the bar along stands so far towards its ticks, out of the content's way."""
PUNCHED_MM: Final = 15.0
"""Holes for a file reach so far in from the edge: 6 mm wide, 12 mm in (ISO 838, from memory)."""
_BEFORE_STRIP_MM: Final = 10.0
"""What of that is margin."""
_BESIDE_TICKS_MM: Final = 1.0
"""Between a page's content and the bar along or its lettering, which ends nearer still."""
_GAP_MM: Final = 2.0
"""Between things that must not touch: a bar and its label, a strip and the content."""
_FOOT_MM: Final = NOTE_HEIGHT * (1 + DESCENT_CAPS)
"""Height of the foot line, descenders included."""
_OVER_FOOT_MM: Final = 1.5
"""The bar across stands clear of the foot line."""

_SCALE_WORDS: Final = "print at 100 %, no scaling"


def strip_below() -> float:
    """Height in mm of the strip for the bar across and the foot line."""
    return _floor() + _END_TICK_MM + _GAP_MM


def strip_left() -> float:
    """Width in mm of the strip that is left empty for the punch."""
    return PUNCHED_MM - _BEFORE_STRIP_MM


def strip_right() -> float:
    """Width in mm of the strip for the bar along."""
    return _END_TICK_MM + _other_side() + _BESIDE_TICKS_MM


def least_size() -> float:
    """A page needs so much inside its margins, mm, both ways, for the bars and their labels."""
    label = max(text_width(_bar_label(way), NOTE_HEIGHT) for way in ("across", "along"))
    return _bar_length() + _GAP_MM + label


def check_bars() -> str:
    """The bars that the sheets ask to measure."""
    return f"both {'4 in' if in_inches() else '100 mm'} bars"


def _floor() -> float:
    """How far the bar across stands above the margin, mm."""
    return _FOOT_MM + _OVER_FOOT_MM + _other_side()


def _other_side() -> float:
    """What the ticks of half inches on the other side of a bar take, mm."""
    return _END_TICK_MM if in_inches() else 0.0


def _bar_length() -> float:
    return INCH_BAR_MM if in_inches() else BAR_MM


def _bar_label(way: str) -> str:
    return f"{'4 in, 100 mm' if in_inches() else '100 mm'} {way}: measure me"


@dataclass(frozen=True, slots=True)
class Foot:
    """What the foot line of a page says.

    Attributes
    ----------
    title : str
        What it says first; shortened where it is too long.
    letter : str
        The page's letter.
    count : int
        How many pages there are.
    code : str
        That of what the pages are made from.
    """

    title: str
    letter: str
    count: int
    code: str


def furniture(area: Bounds, foot: Foot) -> Group:
    """The check bars and the foot line of one page.

    The bar along stands at the right: at the left the page is punched, and no bar of 100 mm stands
    clear of the holes there.

    Parameters
    ----------
    area : Bounds, mm
        The page inside its margins.
    foot
        What its foot line says.
    """
    floor = area.bottom + _floor()
    across = moved(_bar("across", 1, 0.0), area.left, floor)
    standing = turned90(_bar("along", -1, -_BESIDE_MM))  # its ticks of mm now point to the right
    along = moved(standing, area.right - _END_TICK_MM, area.bottom + strip_below())
    return Group((*across, *along, *_foot(area, foot)), "furniture")


def _bar(way: str, up: int, base: float) -> tuple[Mark, ...]:
    """A bar along the x axis from the origin, its label behind it on ``base`` mm.

    Its ticks of 10 mm point upwards where ``up`` is 1, else downwards; in an order in inches those
    of half inches point the other way, as on the two sides of a rule.
    """
    marks = [*_scale(f"check-{way}", BAR_MM, np.arange(0.0, BAR_MM + 1.0, _TICK_STEP_MM), up)]
    if in_inches():
        ticks = np.linspace(0.0, INCH_BAR_MM, _INCH_TICKS)
        marks += _scale(f"check-{way}-in", INCH_BAR_MM, ticks, -up)
    marks.append(Text((_bar_length() + _GAP_MM, base), _bar_label(way), NOTE_HEIGHT))
    return tuple(marks)


def _scale(name: str, length: float, ticks: Floats, up: int) -> Iterator[Mark]:
    """A line of ``length`` mm and its ticks (n,), mm, the first and the last the longest."""
    yield Path(np.array(((0.0, 0.0), (length, 0.0))), THIN, name=name)
    for x in ticks:
        tick = _END_TICK_MM if x in (ticks[0], ticks[-1]) else _TICK_MM
        yield Path(np.array(((x, 0.0), (x, up * tick))), THIN)


def _foot(area: Bounds, foot: Foot) -> tuple[Mark, ...]:
    """The title at the left, the page, the code and how to print it at the right."""
    words = f"page {foot.letter} of {foot.count} · code {foot.code} · {_SCALE_WORDS}"
    room = area.width - text_width(words, NOTE_HEIGHT) - _GAP_MM
    base = area.bottom + DESCENT_CAPS * NOTE_HEIGHT
    page = Text((area.right, base), words, NOTE_HEIGHT, "right", name="page")
    if not foot.title:
        return (page,)
    said = shortened(foot.title, room, NOTE_HEIGHT)
    return Text((area.left, base), said, NOTE_HEIGHT, name="title"), page
