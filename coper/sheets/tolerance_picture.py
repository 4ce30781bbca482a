r"""A picture of how careful to be: how the gaps of many joints spread, and what each error opens.

::

    joints                    gap                       and so on,
      |   __ :                 | \  - - - - / - limit    a chart a thing
      |  |  |:__               |  \       /
      |__|______|___ gap       |___\______/___ error
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coper.drawing.changes import moved
from coper.drawing.letters import shortened
from coper.drawing.marks import (
    CUT,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    Group,
    Hatch,
    Mark,
    Path,
    Pen,
    Text,
)
from coper.drawing.page import Page
from coper.joint.fit.limits import Limit
from coper.joint.tolerance.spread import Spread
from coper.joint.tolerance.tolerance import Sensitivity, Tolerance
from coper.pages.chart import Chart, length_steps, round_steps
from coper.pages.compose import picture_page
from coper.telling.cells import bare
from coper.units import first_unit, format_number, format_short, plain

WIDE_MM, HIGH_MM = 70.0, 45.0
"""One chart."""
ACROSS_MM, DOWN_MM = WIDE_MM + 34.0, HIGH_MM + 22.0
"""From chart to chart, room for the scales between them."""
COLUMNS = 2
BINS = 40
HIGHEST = 0.95
"""What of the chart's height the highest bar takes."""
LAST_SHARE = 99.5
"""The percentage of joints whose gaps the histogram shows: the last few would flatten the rest."""
TIMES_LIMIT = 2.5
"""The charts of the errors are this many times as high as the limit, or as the ideal cut's gap."""
LIMIT = Pen(CUT.width, (6.0, 3.0))
"""As heavy as a curve, or a line of the scale under it would hide it."""
HATCH_MM = 1.0
TITLE_MM = 2 * ACROSS_MM - 34.0
DRAWN = 161
"""Points of a curve."""


def tolerance_page(
    found: Tolerance, spread: Spread, limit: Limit, title: str, cut: str
) -> Page:
    """One page as large as the picture; ``cut`` is how the end is cut."""
    charts = [_histogram(spread, limit), *(_care(care, found) for care in found.cares)]
    head = Text((0.0, HIGH_MM + 5 * PLAIN_HEIGHT), shortened(title, TITLE_MM, PLAIN_HEIGHT),
                PLAIN_HEIGHT, bold=True, name="title")
    said = f"{cut} cut; dashed: the limit of {format_short(limit.mm)}"
    marks: list[Mark] = [head, Text((0.0, HIGH_MM + 3 * PLAIN_HEIGHT), said, NOTE_HEIGHT)]
    for k, (name, chart) in enumerate(charts):
        row, column = divmod(k, COLUMNS)
        marks.append(Group(moved(chart, column * ACROSS_MM, -row * DOWN_MM), name))
    return picture_page(marks)


def _histogram(spread: Spread, limit: Limit) -> tuple[str, list[Mark]]:
    """How many joints have which largest gap, and the limit among them."""
    last = max(float(np.percentile(spread.gaps, LAST_SHARE)), limit.mm * 1.2)
    counts, edges = np.histogram(spread.gaps, BINS, (0.0, last))
    chart = Chart(WIDE_MM, HIGH_MM, (0.0, last), (0.0, counts.max() / HIGHEST))
    joints = np.concatenate(([0], np.repeat(counts, 2), [0]))
    stair = np.stack((chart.x(np.repeat(edges, 2)), chart.y(joints)), axis=-1)
    marks: list[Mark] = [
        chart.above(f"largest gaps of {spread.gaps.size} joints: "
                    f"{spread.good:.0%} under the limit, {first_unit()}"),
        chart.frame("frame-joints"),
        Hatch((stair,), HATCH_MM), Path(stair, CUT, name="joints"),
    ]
    for value, words in length_steps(*chart.across):
        marks += chart.step_across(value, bare(words))
    marks.append(chart.upright(limit.mm, LIMIT, "limit-joints"))
    shares = ", ".join(f"{share} to {format_number(round(gap, 2))}"
                     for share, gap in spread.percentiles.items())
    marks.append(Text((0.0, -4 * NOTE_HEIGHT), f"of 100: {shares} {first_unit()}", NOTE_HEIGHT))
    return "spread", marks


def _care(care: Sensitivity, found: Tolerance) -> tuple[str, list[Mark]]:
    """The largest gap against one error, all else right."""
    top = TIMES_LIMIT * max(found.limit, found.ideal)
    chart = Chart(WIDE_MM, HIGH_MM, _range(care, top), (0.0, top))
    error = np.linspace(*chart.across, DRAWN)
    gap = np.interp(error, care.errors, np.where(np.isinf(care.gaps), np.nan, care.gaps))
    marks: list[Mark] = [
        chart.above(f"largest gap with the {care.thing} off by" + (
            f", {first_unit()}" if care.unit == "mm" else "")),
        chart.frame(f"frame-{care.thing}"),
        *chart.curve(error, gap, CUT, f"gap-{care.thing}"),
        *chart.lengths_up(),
        chart.level(found.limit, LIMIT, f"limit-{care.thing}"),
        Text((WIDE_MM + 2.0, float(chart.y(found.limit)) - NOTE_HEIGHT / 2), "limit", NOTE_HEIGHT),
    ]
    for value, words in _error_steps(care, *chart.across):
        sign = "+" if value > 0 else ""
        marks += chart.step_across(value, f"{sign}{words}")
    return care.thing, marks


def _error_steps(care: Sensitivity, low: float, high: float) -> Iterator[tuple[float, str]]:
    """Round errors from ``low`` to ``high``, and in words."""
    if care.unit == "mm":
        for value, words in length_steps(low, high):
            yield value, bare(words)  # the unit stands over the chart: numbers have room
        return
    for value in round_steps(low, high).tolist():
        yield value, f"{plain(value)}°"


def _range(care: Sensitivity, top: float) -> tuple[float, float]:
    """The errors that the chart runs over: to where the gap leaves it, or as far as was looked."""
    inside = care.gaps <= top
    middle = care.errors.size // 2
    above = np.append(np.flatnonzero(~inside[middle:]), care.errors.size - 1 - middle)[0]
    below = np.append(np.flatnonzero(~inside[middle::-1]), middle)[0]
    far = max(care.errors[middle + above], -care.errors[middle - below])
    return -far, far
