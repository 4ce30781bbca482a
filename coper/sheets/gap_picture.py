r"""A picture of the gap: against the clock, and round the end as it is seen from the main.

::

    gap |      __                       .--.
        |- - -/- -\- - limit           /    \   clock runs clockwise:
        |____/_____\___ clock         |      |  one looks into the cut end
             ^ touches                 \____/
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from coper.arrays import Floats
from coper.drawing.changes import moved
from coper.drawing.curves import pieces
from coper.drawing.letters import shortened
from coper.drawing.marks import (
    CUT,
    FINE,
    FOLD,
    HIDDEN,
    LINE,
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
from coper.joint.edge import even_clocks
from coper.joint.fit.fit import Fit
from coper.joint.fit.limits import Limit
from coper.joint.mountable import Mountable
from coper.joint.sides import clock_name
from coper.pages.chart import BESIDE_MM, Chart
from coper.pages.compose import picture_page
from coper.pages.text import PARAGRAPH_MM, TextColumn
from coper.telling.cells import SHOWN_MM
from coper.telling.words.joint import slide_words
from coper.units import format_gap, format_short

WIDE_MM, HIGH_MM = 180.0, 60.0
"""The chart."""
END_MM = 50.0
"""Width of the end's picture."""
END_DOWN_MM = END_MM / 2 + 37.5
"""Its middle, below the chart."""
BAND_MM = 15.0
"""The largest gap or the limit, drawn round the end."""
LEAST_SHOWN_MM = 0.1
"""What the chart's height shows at least, so that rounding is not drawn as a gap."""
HEADROOM = 1.15
ROOT_SHARE = 2.5
"""How much taller than the gap the chart grows for the root: anything above is cut off."""
BESIDE = 0.5
"""What lies further to a side than this share of its way out is beside the end, not over it."""
SIDES = (0.0, 90.0, 180.0, 270.0)
DOT_MM = 1.5
HATCH_MM = 1.0
WORDS_LEFT_MM, WORDS_TOP_MM = 0.65 * WIDE_MM, 14.0 - END_DOWN_MM
"""Upper left corner of the words beside the end's picture."""
CLOCK_DROP_MM = 3 * NOTE_HEIGHT
"""Baseline of the clocks' names under the chart: clear of the mark where the end touches."""


def gap_page(joint: Mountable, fit: Fit, limit: Limit | None, title: str) -> Page:
    """One page as large as the picture: ``joint`` as it is mounted, its ``fit``, the limit."""
    most = max(fit.largest, LEAST_SHOWN_MM, 0.0 if limit is None else limit.mm)
    head = Text((0.0, HIGH_MM + 2 * PLAIN_HEIGHT), shortened(title, WIDE_MM, PLAIN_HEIGHT),
                PLAIN_HEIGHT, bold=True, name="title")
    root = float(np.nanmax(fit.root))
    top = max(most, min(root, ROOT_SHARE * most)) * HEADROOM
    chart = Chart(WIDE_MM, HIGH_MM, (0.0, 360.0), (0.0, top), CLOCK_DROP_MM)
    against_clock = Group((head, *_scales(joint, chart), *_curves(joint, fit, chart),
                           *_limit(limit, chart), *_largest(joint, fit, chart)), "chart")
    end = Group(moved(_end(joint, fit, most), WIDE_MM * 0.25, -END_DOWN_MM), "end")
    words = Group(_words(joint, fit, limit, BAND_MM / most), "words")
    return picture_page((against_clock, end, words))


def _scales(joint: Mountable, chart: Chart) -> Iterator[Mark]:
    """The chart's frame, the clocks below it, the gap beside it."""
    yield chart.frame("frame")
    for clock in (*SIDES, 360.0):
        yield from chart.step_across(clock, clock_name(joint, joint.counted(clock % 360)))
    yield from chart.lengths_up()


def _curves(joint: Mountable, fit: Fit, chart: Chart) -> Iterator[Mark]:
    """The gap outside, the clearance at the root, and where the end touches."""
    counted = joint.counted(fit.clock)
    order = np.argsort(counted, kind="stable")
    clock = np.append(counted[order], counted[order[0]] + 360)
    for values, pen, name in ((fit.root, HIDDEN, "root"), (fit.outside, CUT, "outside")):
        yield from chart.curve(clock, np.append(values[order], values[order[0]]), pen, name)
    x = float(chart.x(joint.counted(fit.contact_clock)))
    tip = np.array(((x, 0.0), (x - DOT_MM, -2 * DOT_MM), (x + DOT_MM, -2 * DOT_MM)))
    yield Path(tip, FINE, closed=True, fill=True, name="contact")


def _limit(limit: Limit | None, chart: Chart) -> tuple[Mark, ...]:
    if limit is None:
        return ()
    at = (WIDE_MM + BESIDE_MM, float(chart.y(limit.mm)) - NOTE_HEIGHT / 2)
    return (chart.level(limit.mm, FOLD, "limit"),
            Text(at, f"limit {format_short(limit.mm)}", NOTE_HEIGHT))


def _largest(joint: Mountable, fit: Fit, chart: Chart) -> Iterator[Mark]:
    """Where the gap is largest: over the curve."""
    if fit.largest >= SHOWN_MM:
        tip = np.array((float(chart.x(joint.counted(fit.largest_clock))),
                        float(chart.y(fit.largest))))
        yield _pointer(tip, np.array((0.0, 1.0)))


def _pointer(tip: Floats, away: Floats) -> Mark:
    """An open triangle whose tip (2,) is at the largest gap; it lies ``away`` (2,) from it."""
    side = DOT_MM * np.array((-away[1], away[0]))
    back = tip + 2 * DOT_MM * away
    return Group((Path(np.array((tip, back + side, back - side)), LINE, closed=True,
                       name="largest-gap"),), "largest")


def _end(joint: Mountable, fit: Fit, most: float) -> tuple[Mark, ...]:
    """The end seen from the main, the gap hatched round it where it is."""
    branch = fit.seated.branch
    clock = np.append(fit.clock, fit.clock[0] + 360)
    skin = branch.generators(clock).points
    out = branch.normal(skin)[:, :2]
    across = END_MM / float(np.ptp(skin[:, :2], axis=0).max())
    rim = skin[:, :2] * across
    inner = branch.generators(clock, fit.seated.wall()).points[:, :2] * across
    gap = np.append(fit.outside, fit.outside[0])[:, None] / most * BAND_MM
    marks: list[Mark] = [Path(_seen(rim), LINE, closed=True, name="rim"),
                         Path(_seen(inner), THIN, closed=True, name="bore")]
    for band in pieces(np.hstack((rim + gap * out, rim))):
        marks.append(Path(_seen(band[:, :2]), CUT, name="gap"))
        ring = np.concatenate((band[:, :2], band[::-1, 2:]))
        marks.append(Hatch((_seen(ring),), HATCH_MM))
    far, away = _seen(rim + (BAND_MM + 3 * NOTE_HEIGHT) * out), _seen(out)
    for side in SIDES:
        at = int(np.abs(fit.clock - side).argmin())
        x, y = far[at]
        marks.append(Text((x, y - NOTE_HEIGHT / 2), clock_name(joint, side), NOTE_HEIGHT,
                          _anchor(float(away[at, 0]))))
    widest = fit.largest / most * BAND_MM
    return (*marks, _contact(fit, across), *_largest_round(fit, across, widest))


def _anchor(right: float) -> Anchor:
    """That of words beside the end, by how far to the right they lie: they keep off its band."""
    if abs(right) < BESIDE:
        return "middle"
    return "left" if right > 0 else "right"


def _largest_round(fit: Fit, across: float, band: float) -> Iterator[Mark]:
    """Where the gap is largest: outside its band, which is ``band`` mm wide there."""
    if fit.largest < SHOWN_MM:
        return
    branch = fit.seated.branch
    skin = branch.generators(np.array([fit.largest_clock])).points
    out = branch.normal(skin)[:, :2]
    (tip,), (away,) = _seen(skin[:, :2] * across + band * out), _seen(out)
    yield _pointer(tip, away)


def _contact(fit: Fit, across: float) -> Mark:
    """A dot where the end touches first."""
    line = fit.seated.branch.generators(np.array([fit.contact_clock]), fit.contact_depth)
    turn = np.radians(even_clocks(24))
    ring = line.points[:, :2] * across + DOT_MM * np.stack((np.cos(turn), np.sin(turn)), axis=-1)
    return Path(_seen(ring), FINE, closed=True, fill=True, name="touches")


def _words(joint: Mountable, fit: Fit, limit: Limit | None, enlarged: float) -> tuple[Mark, ...]:
    """What the picture says, beside the end."""
    at = f"at clock {clock_name(joint, fit.largest_clock)}"
    lines = [
        *(("no gap",) if fit.largest < SHOWN_MM else (
            f"largest gap {format_gap(fit.largest)} {at}", "open triangle: where it is largest")),
        f"touches first at clock {clock_name(joint, fit.contact_clock)} (black)",
        f"sits {slide_words(fit.slide)}",
        "heavy: gap outside; dashed: clearance at the root",
        f"left: looking into the cut end, the gap drawn {enlarged:.3g} times its size",
    ]
    if np.isnan(fit.outside).any():
        lines.append("no line: open, the branch does not meet the main there")
    if limit is not None:
        lines.insert(0, "good: no gap is above the limit" if fit.within(limit.mm)
                     else "TOO OPEN: the gap is above the limit")
    words = TextColumn(WIDE_MM)
    for line in lines:
        words.line(line)
        words.skip(PARAGRAPH_MM)
    return moved(words.marks, WORDS_LEFT_MM, WORDS_TOP_MM)


def _seen(points: Floats) -> Floats:
    """Points (n, 2) of the section, mm, as seen from the main: the clock runs clockwise."""
    seen: Floats = points * np.array((1.0, -1.0))
    return seen
