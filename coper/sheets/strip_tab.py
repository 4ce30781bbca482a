r"""The glue tab of a strip, which is always free: what the strip is, which side is out, and an
arrow to the tube's body.

::

    seam |  ^   seat-stay LEFT, start  on seat-tube
         | /_\\  page T  THIS SIDE OUT  glue at 180
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.arrays import Floats
from coper.drawing.letters import shortened, shortened_name, text_width
from coper.drawing.marks import GAP_MM, LINE, NOTE_HEIGHT, Mark, Path, Text
from coper.pages.lettered import PAGED
from coper.sheets.strip import Strip
from coper.sheets.strip_lettering import slope_of
from coper.units import plain

ARROW_MM = (3.0, 7.0)
"""Width and length of the arrow to the tube's body."""

EDGE_MM = 0.9
"""From a line on the tab to its edge."""

LEAST_ROOM_MM = 12.0
"""Shorter than this the tab carries no words."""

LEADING_MM = 1.3
"""Between two lines on the tab."""

APART = "  "
"""Between two phrases on a line."""


def tab_marks(strip: Strip, more: Sequence[str] = ()) -> Iterator[Mark]:
    """The tab's arrow and lettering, the lines beside each other across the tab.

    ``more`` is what found no place on the strip itself.
    """
    body = 0 if len(strip.edges) == 2 else strip.edges[0].body
    low, high = strip.low + GAP_MM, strip.high - GAP_MM
    if body and _wide_at(strip, high if body > 0 else low) >= ARROW_MM[0] + 2 * LEADING_MM:
        yield _arrow(strip, body)
        taken = ARROW_MM[1] + GAP_MM
        low, high = (low, high - taken) if body > 0 else (low + taken, high)
    last = (*more, f"glue at {plain(round(strip.seam, 1))}")
    least = min(_wide_at(strip, low), _wide_at(strip, high))
    most = int((least - 2 * EDGE_MM + LEADING_MM) // (NOTE_HEIGHT + LEADING_MM))
    if most < 1 or high - low < LEAST_ROOM_MM:
        return
    lines = _numbered(strip, last, high - low, most)
    for index, words in enumerate(lines):
        across = (index - (len(lines) - 1) / 2) * (NOTE_HEIGHT + LEADING_MM)
        yield _line(strip, words, (low + high) / 2, across)


def _wide_at(strip: Strip, along: float) -> float:
    """Width of the tab at ``along``, mm: on a taper it runs narrow."""
    stop = strip.seam + 360
    one, other = strip.place_past(np.array((stop, stop + 2 * _half_deg(strip))), along)
    return float(np.hypot(*(other - one)))


def _numbered(strip: Strip, last: Sequence[str], room: float, most: int) -> list[str]:
    """The tab's lines with the blank's number: a phrase, or before the name where more fits so."""
    if not strip.blank:
        return tab_lines((*strip.tab, *last), room, most)
    apart = tab_lines((*strip.tab, strip.blank, *last), room, most)
    name, *others = strip.tab
    number = strip.blank.split(" ", 1)[1]
    first = tab_lines((f"{number}: {name}", *others, *last), room, most)
    return first if _count(first) + 1 > _count(apart) else apart


def _count(lines: Sequence[str]) -> int:
    """How many phrases found a place."""
    return sum(line.count(APART) + 1 for line in lines)


def tab_lines(phrases: Sequence[str], room: float, most: int) -> list[str]:
    """Phrases set in ``most`` lines at most, ``room`` mm long, each on the first where it fits.

    The last ones may find no place.

    The first phrase says what the strip is: it is shortened where it is too long, never left out.
    """
    lines = [_short(phrases[0], room)]
    for phrase in phrases[1:]:
        longer = [f"{line}{APART}{phrase}" for line in lines]
        fits = [at for at, line in enumerate(longer) if text_width(line, NOTE_HEIGHT) <= room]
        if fits:
            lines[fits[0]] = longer[fits[0]]
        elif len(lines) < most and text_width(phrase, NOTE_HEIGHT) <= room:
            lines.append(phrase)
    return lines


def _short(words: str, room: float) -> str:
    if text_width(words, NOTE_HEIGHT) <= room:
        return words
    short = shortened_name(words, room, NOTE_HEIGHT)
    return short if text_width(short, NOTE_HEIGHT) <= room else shortened(words, room, NOTE_HEIGHT)


def _line(strip: Strip, words: str, along: float, across: float) -> Text:
    """A line that reads up the tube, its middle ``across`` mm to the right of the tab's."""
    at, way, right = _middle(strip, along)
    x, y = at + (across + NOTE_HEIGHT / 2) * right
    return Text((float(x), float(y)), words, NOTE_HEIGHT, "middle", slope_of(way), name=PAGED)


def _arrow(strip: Strip, body: int) -> Path:
    """The solid arrow, its tip at the body's end of the tab."""
    width, length = ARROW_MM
    top, way, right = _middle(strip, (strip.high if body > 0 else strip.low) - body * GAP_MM)
    foot = top - body * length * way
    return Path(np.array((top, foot + width / 2 * right, foot - width / 2 * right)), LINE,
                closed=True, fill=True, name="to-the-body")


def _middle(strip: Strip, along: float) -> tuple[Floats, Floats, Floats]:
    """The tab's middle (2,) at ``along``, and its ways (2,) up the tube and to the right."""
    low, here, high = strip.place_past(strip.seam + 360 + _half_deg(strip),
                                       np.array((along - 0.5, along, along + 0.5)))
    way = (high - low) / np.hypot(*(high - low))
    return here, way, np.array((way[1], -way[0]))


def _half_deg(strip: Strip) -> float:
    """From the seam to the tab's middle, degrees."""
    return 180 * strip.glue / strip.width
