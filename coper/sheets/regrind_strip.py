"""The strip to wrap along an existing edge: it shows the metal still to take off.

::

    +------------------+--+
    |  ruler, names    |  |   body
    |   ___            |  |
    |--'///`--.     .--|  |   the line to grind to, heavy
    |////////////`-.//_|  |   metal to take off
    |________-----'    |  |   the existing edge: cut the paper here
    +------------------+--+
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coper.arrays import Floats
from coper.drawing.curves import pieces
from coper.drawing.marks import FINE, LINE, Group, Hatch, Mark, Path
from coper.joint.edge import STEPS, drawn_clocks, even_clocks, merged
from coper.joint.mountable import Mountable
from coper.joint.regrind.regrind import Regrind
from coper.joint.sides import clock_name, side_names
from coper.pages.furniture import check_bars
from coper.pages.grid import grid_blocks
from coper.pages.measured import cure_words, measured_marks
from coper.pages.text import column
from coper.sheets.counting import counting_of
from coper.sheets.strip import Strip, edge_strip
from coper.sheets.strip_marks import bare_strip_marks
from coper.telling.words.regrind import metal_grid
from coper.units import format_gap, format_short, plain

HATCH_MM = 1.2
"""Distance of the strokes: a strip of metal of half a mm still shows some."""

SHALLOW_MM = 0.5
"""Less metal than this is drawn deeper than it is, else nobody sees it."""

DEEPER = 5
"""How many times as deep it then is drawn."""

ROWS = 8
"""Clocks of the table beside the strip."""

MARGIN_MM = 8.0
"""Paper beyond the existing edge: room for the scissors."""

BEVEL = ("The heavy line is that of the outside. Bevel the wall back from it, as far as the table "
         "of coper regrind says for the inside, so that the inside holds nothing off.")
"""What is ground otherwise where an end seats on several mains."""


def regrind_marks(
    joint: Mountable, found: Regrind, title: str, paper: float, glue: float
) -> tuple[Mark, ...]:
    """The strip, in mm, ``y`` up the tube; ``paper`` is its thickness, ``glue`` its tab's width.

    What is hatched is metal, not waste, and no length counts from the main.
    """
    strip, existing = _strip(joint, found, title, paper, glue)
    edge = strip.edges[0]
    old = pieces(strip.place_past(edge.clock, existing))
    new = pieces(strip.place_past(edge.clock, edge.along))
    metal = tuple(Hatch((np.concatenate((upper, lower[::-1])),), HATCH_MM, 45.0, FINE)
                  for upper, lower in zip(new, old, strict=True))
    return (
        Group(metal, "metal"),
        Group(tuple(Path(piece, LINE, name="existing-edge") for piece in old), "existing"),
        *bare_strip_marks(strip),
    )


def _strip(
    joint: Mountable, found: Regrind, title: str, paper: float, glue: float
) -> tuple[Strip, Floats]:
    """The strip whose cut is the line to grind to, and along (n,) of the existing edge, mm."""
    seam, old = joint.toe_clock, found.edges.existing
    girth = joint.branch.girth()
    clock = drawn_clocks(old, merged(even_clocks(STEPS), found.clock, [seam]), girth)
    clock = drawn_clocks(lambda c: old(c) + found.at(c), clock, girth)
    past = clock < seam
    clock = np.concatenate((clock[~past], clock[past] + 360, [seam + 360]))
    remove = found.at(clock % 360)
    existing = np.where(np.isnan(remove), np.nan, old(clock % 360))
    counting = counting_of(joint)
    edge, before = (counting.edge(clock, along) for along in (
        existing + drawn_deeper(found) * remove, existing))
    sides = {joint.counted(at): f"{plain(round(joint.counted(at), 1))} {name}"
             for at, name in side_names(joint).items()}
    deeper = drawn_deeper(found)
    said = () if deeper == 1 else (f"DRAWN {deeper} TIMES AS DEEP",)
    return edge_strip(counting.branch, paper / 2, edge, sides, f"regrind, {title}", glue,
                      before.long - edge.body * MARGIN_MM, said), before.along


def drawn_deeper(found: Regrind) -> int:
    """How many times as deep as it is the metal is drawn: 1 where one sees it as it is."""
    return DEEPER if 0 < found.largest < SHALLOW_MM else 1


def metal_table(joint: Mountable, found: Regrind) -> Iterator[tuple[Mark, ...]]:
    """What to take off at eight clocks."""
    return grid_blocks(metal_grid(joint, found, ROWS))


def regrind_notes(joint: Mountable, found: Regrind, title: str) -> tuple[Mark, ...]:
    """What the strip is for and how it is used."""
    lines = (
        title,
        f"Most to take off: {format_gap(found.largest)} at clock "
        f"{clock_name(joint, found.largest_clock)}",
        f"The branch then seats {format_short(found.seats_deeper)} deeper: its other end moves "
        "in by as much.",
        f"Measure {check_bars()} first:",
        measured_marks(),
        f"{cure_words('the same')} Cut the strip out along its edge and along the thin "
        "curve, which is the edge the tube has now. Wrap it round the branch, print outside, the "
        "arrow towards the tube's body and the clocks where you took the readings, so that the "
        f"curve lies along the tube's edge. {_grind_words(found)}, and try the fit again.",
    )
    return column("Regrind", (*lines, BEVEL) if found.edges.bevels else lines)


def _grind_words(found: Regrind) -> str:
    """What the heavy line is good for."""
    deeper = drawn_deeper(found)
    if deeper == 1:
        return "Prick through the heavy line, grind the hatched metal away to it"
    return (f"THE METAL IS DRAWN {deeper} TIMES AS DEEP AS IT IS: the heavy line shows where, the "
            "table how much; grind as much as that")
