r"""The glue tab of a strip, which is always free: what the strip is, which side is out, and an
arrow to the tube's body.

::

    seam |  ^   seat-stay LEFT, start  on seat-tube
         | /_\\  page T  THIS SIDE OUT  glue at 180
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.drawing.letters import shortened_name, text_width
from coper.drawing.marks import GAP_MM, LINE, NOTE_HEIGHT, Mark, Path, Text
from coper.pages.lettered import PAGED
from coper.sheets.strip import Strip
from coper.sheets.strip_lettering import slope_of
from coper.units import plain

ARROW_MM = (3.0, 7.0)
"""Width and length of the arrow to the tube's body."""

LEADING_MM = 1.3
"""Between two lines on the tab."""


def tab_marks(strip: Strip) -> Iterator[Mark]:
    """The tab's arrow and lettering, the lines beside each other across the tab."""
    body = 0 if len(strip.edges) == 2 else strip.edges[0].body
    if strip.glue < NOTE_HEIGHT + 2 * GAP_MM:
        return
    taken = 0.0
    if body and strip.glue >= ARROW_MM[0]:
        yield _arrow(strip, body)
        taken = ARROW_MM[1] + GAP_MM
    room = strip.high - strip.low - 2 * GAP_MM - taken
    most = int((strip.glue - GAP_MM + LEADING_MM) // (NOTE_HEIGHT + LEADING_MM))
    lines = tab_lines((*strip.tab, f"glue at {plain(round(strip.seam, 1))}"), room, most)
    middle = (strip.low + strip.high - body * taken) / 2
    for index, words in enumerate(lines):
        across = (index - (len(lines) - 1) / 2) * (NOTE_HEIGHT + LEADING_MM)
        yield _line(strip, words, middle, across)


def tab_lines(phrases: Sequence[str], room: float, most: int) -> list[str]:
    """Phrases set in ``most`` lines at most, ``room`` mm long; the last ones may find no place.

    The first phrase says what the strip is: it is shortened where it is too long, never left out.
    """
    lines = [_short(phrases[0], room)]
    for phrase in phrases[1:]:
        longer = f"{lines[-1]}  {phrase}"
        if text_width(longer, NOTE_HEIGHT) <= room:
            lines[-1] = longer
        elif len(lines) < most and text_width(phrase, NOTE_HEIGHT) <= room:
            lines.append(phrase)
    return lines


def _short(words: str, room: float) -> str:
    fits = text_width(words, NOTE_HEIGHT) <= room
    return words if fits else shortened_name(words, room, NOTE_HEIGHT)


def _line(strip: Strip, words: str, along: float, across: float) -> Text:
    """A line that reads up the tube, its middle ``across`` mm to the right of the tab's."""
    stop = strip.seam + 360
    way = strip.up(stop - 1, along)
    right = np.array((way[1], -way[0]))
    x, y = strip.place_past(stop + _half_deg(strip), along)[0] + (
        across + NOTE_HEIGHT / 2) * right
    return Text((float(x), float(y)), words, NOTE_HEIGHT, "middle", slope_of(way), name=PAGED)


def _arrow(strip: Strip, body: int) -> Path:
    """The solid arrow, its tip at the body's end of the tab."""
    width, length = ARROW_MM
    tip = (strip.high if body > 0 else strip.low) - body * GAP_MM
    middle = strip.seam + 360 + _half_deg(strip)
    way = body * strip.up(strip.seam + 359, tip)
    right = np.array((way[1], -way[0]))
    top = strip.place_past(middle, tip)[0]
    points = np.array((top, top - length * way + width / 2 * right,
                       top - length * way - width / 2 * right))
    return Path(points, LINE, closed=True, fill=True, name="to-the-body")


def _half_deg(strip: Strip) -> float:
    """From the seam to the tab's middle, degrees."""
    return 180 * strip.glue / strip.width
