r"""A picture of how careful to be: how the gaps of many joints spread, and what each error opens.

::

    joints                    gap                       and so on,
      |   __ :                 | \  - - - - / - limit    a chart a thing
      |  |  |:__               |  \       /
      |__|______|___ gap       |___\______/___ error
"""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.drawing.curves import pieces, round_step
from coper.drawing.letters import shortened
from coper.drawing.marks import (
    CUT,
    FINE,
    FOLD,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    THIN,
    Anchor,
    Group,
    Hatch,
    Mark,
    Path,
    Text,
)
from coper.drawing.page import Page
from coper.drawing.visit import bounds, moved
from coper.joint.fit.limits import Limit
from coper.joint.tolerance.spread import Spread
from coper.joint.tolerance.tolerance import Sensitivity, Tolerance
from coper.pages.compose import MARGIN_MM
from coper.shapes.checks import plain
from coper.units import format_mm

WIDE_MM, HIGH_MM = 70.0, 45.0
"""One chart."""
ACROSS_MM, DOWN_MM = WIDE_MM + 26.0, HIGH_MM + 22.0
"""From chart to chart, room for the scales between them."""
COLUMNS = 2
BINS = 40
LAST_SHARE = 99.5
"""The histogram ends where so many of 100 joints have no larger gap: the last few would flatten
the others."""
TIMES_LIMIT = 2.5
"""The charts of the errors reach so many times the limit, or what the ideal cut leaves."""
TICKS = 4
APART_MM = 2.0
"""Between a line and its words."""
HATCH_MM = 1.0
TITLE_MM = 2 * ACROSS_MM - 26.0
DRAWN = 161
"""Points of a curve."""
SIGNS = {"deg": "°", "mm": " mm"}


def tolerance_page(
    found: Tolerance, spread: Spread, limit: Limit, title: str, cut: str
) -> Page:
    """One page as large as the picture; ``cut`` is how the end is cut."""
    charts = [_histogram(spread, limit), *(_care(care, found) for care in found.cares)]
    head = Text((0.0, HIGH_MM + 5 * PLAIN_HEIGHT), shortened(title, TITLE_MM, PLAIN_HEIGHT),
                PLAIN_HEIGHT, bold=True, name="title")
    said = f"{cut} cut; dashed: the limit of {format_mm(limit.mm)}"
    marks: list[Mark] = [head, _text(0.0, HIGH_MM + 3 * PLAIN_HEIGHT, said)]
    for k, (name, chart) in enumerate(charts):
        row, column = divmod(k, COLUMNS)
        marks.append(Group(moved(chart, column * ACROSS_MM, -row * DOWN_MM), name))
    box = bounds(marks)
    return Page("A", box.width + 2 * MARGIN_MM, box.height + 2 * MARGIN_MM,
                moved(marks, MARGIN_MM - box.left, MARGIN_MM - box.bottom))


def _histogram(spread: Spread, limit: Limit) -> tuple[str, list[Mark]]:
    """How many joints have which largest gap, and the limit among them."""
    last = max(float(np.percentile(spread.gaps, LAST_SHARE)), limit.mm * 1.2)
    counts, edges = np.histogram(spread.gaps, BINS, (0.0, last))
    x = np.repeat(edges, 2) / last * WIDE_MM
    y = np.concatenate(([0.0], np.repeat(counts, 2), [0.0])) / counts.max() * HIGH_MM * 0.95
    stair = np.stack((x, y), axis=-1)
    at = limit.mm / last * WIDE_MM
    marks: list[Mark] = [
        _text(0.0, HIGH_MM + APART_MM, f"largest gaps of {spread.gaps.size} joints: "
              f"{spread.good:.0%} under the limit"),
        Path(_frame(), THIN, closed=True, name="frame-joints"),
        Hatch((stair,), HATCH_MM), Path(stair, CUT, name="joints"),
        Path(np.array(((at, 0.0), (at, HIGH_MM))), FOLD, name="limit-joints"),
    ]
    for value in _ticks(0.0, last):
        marks += _across(value / last * WIDE_MM, f"{plain(value)} mm")
    told = ", ".join(f"{share} to {plain(round(gap, 2))}"
                     for share, gap in spread.percentiles.items())
    marks.append(_text(0.0, -4 * NOTE_HEIGHT, f"of 100: {told} mm"))
    return "spread", marks


def _care(care: Sensitivity, found: Tolerance) -> tuple[str, list[Mark]]:
    """The largest gap against one error, all else right."""
    top = TIMES_LIMIT * max(found.limit, found.ideal)
    low, high = _range(care, top)
    error = np.linspace(low, high, DRAWN)
    gap = np.interp(error, care.errors, np.where(np.isinf(care.gaps), np.nan, care.gaps))
    shown = np.where(gap > top, np.nan, gap) / top * HIGH_MM
    points = np.stack(((error - low) / (high - low) * WIDE_MM, shown), axis=-1)
    at = found.limit / top * HIGH_MM
    marks: list[Mark] = [
        _text(0.0, HIGH_MM + APART_MM, f"largest gap with the {care.thing} off by"),
        Path(_frame(), THIN, closed=True, name=f"frame-{care.thing}"),
        *(Path(piece, CUT, name=f"gap-{care.thing}") for piece in pieces(points)),
        Path(np.array(((0.0, at), (WIDE_MM, at))), FOLD, name=f"limit-{care.thing}"),
    ]
    for value in _ticks(0.0, top):
        y = value / top * HIGH_MM
        marks.append(Path(np.array(((0.0, y), (WIDE_MM, y))), FINE))
        marks.append(_text(-APART_MM, y - NOTE_HEIGHT / 2, f"{plain(value)} mm", "right"))
    for value in _ticks(low, high):
        sign = "+" if value > 0 else ""
        marks += _across((value - low) / (high - low) * WIDE_MM,
                         f"{sign}{plain(value)}{SIGNS[care.unit]}")
    return care.thing, marks


def _range(care: Sensitivity, top: float) -> tuple[float, float]:
    """The errors that the chart runs over: to where the gap leaves it, or as far as was looked."""
    inside = care.gaps <= top
    middle = care.errors.size // 2
    above = np.append(np.flatnonzero(~inside[middle:]), care.errors.size - 1 - middle)[0]
    below = np.append(np.flatnonzero(~inside[middle::-1]), middle)[0]
    far = max(care.errors[middle + above], -care.errors[middle - below])
    return -far, far


def _frame() -> Floats:
    return np.array(((0, 0), (WIDE_MM, 0), (WIDE_MM, HIGH_MM), (0, HIGH_MM)), dtype=float)


def _ticks(low: float, high: float) -> Floats:
    """Round values from ``low`` to ``high``, 0 among them."""
    step = round_step((high - low) / TICKS)
    ticks: Floats = np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step
    return ticks


def _across(x: float, words: str) -> list[Mark]:
    """A line up the chart, and its number below."""
    return [Path(np.array(((x, 0.0), (x, HIGH_MM))), FINE),
            _text(x, -2 * NOTE_HEIGHT, words, "middle")]


def _text(x: float, y: float, words: str, anchor: Anchor = "left") -> Text:
    return Text((float(x), float(y)), words, NOTE_HEIGHT, anchor)
