"""The template of a branch: the strip of paper that wraps round the tube."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.joint.cope import Cope
from coper.joint.describe import side_names, title
from coper.joint.joint import Joint
from coper.joint.template import Cut, Template
from coper.paper.curves import open_runs, pieces
from coper.paper.letters import text_width
from coper.paper.marks import (
    CENTRE,
    CUT,
    FINE,
    FOLD,
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
from coper.shapes.checks import plain
from coper.shapes.lines import Floats

BODY_MM = 42.0
"""Paper above the short point: room for the names of the lines, and for a hand to hold it."""

WASTE_MM = 15.0
"""Paper below the long point: room to mark the waste and to cut along."""

RIBBON_MM = 5.0
"""Width of the hatched ribbon on the waste side of the cut line."""

AXIS_NEAR_MM = 40.0
"""The main's axis is drawn where it lies no further than this below the long point."""

BELOW_AXIS_MM = 11.0
"""Paper below the main's axis: its name, and the word that marks the waste."""

STEEP = 4.0
"""The hatched ribbon follows a steep cut line with at most this many times its width."""

GAP_MM = 1.5
TICK_MM = 2.0


@dataclass(frozen=True, slots=True)
class Strip:
    """All that the drawing of one template needs.

    Attributes
    ----------
    low, high : float, mm
        Along of the strip's two ends.
    glue : float, mm
        Width of the tab that is glued under the seam.
    """

    joint: Joint
    cope: Cope
    template: Template
    glue: float
    low: float
    high: float

    @property
    def seam(self) -> float:
        """Clock of the seam, degrees."""
        return float(self.template.clock[0])

    def place(self, clock: Floats | float, along: Floats | float) -> Floats:
        """Flat points (n, 2) in mm; the clock is taken to lie between the seam and once round."""
        clocks, alongs = np.broadcast_arrays(np.atleast_1d(clock), np.atleast_1d(along))
        inside = self.seam + (clocks - self.seam) % 360
        return self.place_past(inside, alongs)

    def place_past(self, clock: Floats | float, along: Floats | float) -> Floats:
        """Flat points (n, 2) in mm for clocks told without winding back at the seam."""
        clocks, alongs = np.broadcast_arrays(np.atleast_1d(clock), np.atleast_1d(along))
        branch, lift = self.cope.cluster.branch, self.template.paper / 2
        return np.stack(branch.flat(clocks, alongs, lift), axis=-1)

    def cut_at(self, clock: float) -> float:
        """Along of the cut at ``clock``; ``nan`` where it is open there."""
        inside = self.seam + (clock - self.seam) % 360
        return float(np.interp(inside, self.template.clock, self.template.along))

    def clear_at(self, clock: float) -> float:
        """Along from which the paper is the tube's body at ``clock``, open stretches included."""
        cut = self.cut_at(clock)
        return float(np.nanmax(self.template.along)) if np.isnan(cut) else cut

    @property
    def quarter(self) -> float:
        """A quarter of the way round, mm: the room between the lines of two sides."""
        return self.template.width / 4


def make_strip(
    joint: Joint, cope: Cope, cut: Cut, paper: float, seam: float, glue: float
) -> Strip:
    """The strip for one end; ``seam`` in degrees, ``paper`` and ``glue`` in mm."""
    template = cope.drawn_template(cut, paper, seam)
    long, short = float(np.nanmin(template.along)), float(np.nanmax(template.along))
    low = long - WASTE_MM
    if low < 0 or long <= AXIS_NEAR_MM:
        low = min(low, -BELOW_AXIS_MM)
    return Strip(joint, cope, template, glue, low, short + BODY_MM)


def strip_marks(strip: Strip) -> tuple[Mark, ...]:
    """Everything that is printed on the template, in mm, ``y`` up the tube."""
    return (
        Group(_outline(strip), "outline"),
        Group(_waste(strip), "waste"),
        Group(_cut(strip), "cut-line"),
        Group(_clock_marks(strip), "clock-marks"),
        Group(_side_lines(strip), "sides"),
        Group(_axis(strip), "axis"),
        Group(_body(strip), "body"),
        Group(_gaps(strip), "open"),
    )


def _line(strip: Strip, clock: float, low: float, high: float) -> Floats:
    return strip.place(clock, np.array((low, high)))


def _outline(strip: Strip) -> tuple[Mark, ...]:
    start, stop = strip.seam, strip.seam + 360
    tab = stop + 360 * strip.glue / strip.template.width
    bottom = strip.place_past(np.linspace(start, tab, 2), strip.low)
    top = strip.place_past(np.linspace(tab, start, 2), strip.high)
    seam = strip.place_past(stop, np.array((strip.low, strip.high)))
    middle = strip.place_past((stop + tab) / 2, (strip.low + strip.high) / 2)[0]
    marks: list[Mark] = [
        Path(np.concatenate((bottom, top)), LINE, closed=True, name="edge"),
        Path(seam, FOLD, name="seam"),
    ]
    if strip.glue >= NOTE_HEIGHT + 2 * GAP_MM:
        words = f"glue under the seam at clock {plain(round(strip.seam, 1))}"
        marks.append(_upright(words, middle, NOTE_HEIGHT, "middle"))
    return tuple(marks)


def _upright(words: str, at: Floats, height: float, anchor: Anchor = "left") -> Text:
    """Lettering that reads up the tube, its middle on the vertical through ``at``."""
    return Text((float(at[0]) + height / 2, float(at[1])), words, height, anchor, 90.0)


def _cut(strip: Strip) -> tuple[Mark, ...]:
    points = np.stack((strip.template.x, strip.template.y), axis=-1)
    return tuple(Path(piece, CUT, name="cut") for piece in pieces(points))


def _waste(strip: Strip) -> tuple[Mark, ...]:
    clock, along = strip.template.clock, strip.template.along
    slope = np.gradient(along, strip.template.x)
    ribbon = RIBBON_MM * np.nan_to_num(np.hypot(1.0, slope), nan=STEEP).clip(1.0, STEEP)
    below = np.maximum(along - ribbon, strip.low)
    marks: list[Mark] = []
    for upper, lower in zip(
        pieces(strip.place_past(clock, along)), pieces(strip.place_past(clock, below)), strict=True
    ):
        ring = np.concatenate((upper, lower[::-1]))
        marks.append(Hatch((ring,), 1.6, 45.0, FINE))
    middle = float(strip.place_past(clock[int(np.nanargmax(along))], 0.0)[0, 0])
    x = _clear_of_edges(strip, "waste", PLAIN_HEIGHT, middle)
    marks.append(Text((x, strip.low + GAP_MM), "waste", PLAIN_HEIGHT, "middle"))
    return tuple(marks)


def _clear_of_edges(strip: Strip, words: str, height: float, x: float) -> float:
    """``x`` moved so that lettering centred on it stays between the seams."""
    left, right = strip.place_past(np.array((strip.seam, strip.seam + 360)), strip.low)[:, 0]
    half = text_width(words, height) / 2 + GAP_MM
    return float(np.clip(x, left + half, max(right - half, left + half)))


def _clock_marks(strip: Strip) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    step = _number_step(strip)
    for clock in np.arange(0.0, 360.0, 15.0):
        length = TICK_MM * (2 if clock % 45 == 0 else 1)
        cut = strip.cut_at(clock)
        if not np.isnan(cut):
            marks.append(Path(_line(strip, clock, cut, cut + length), FINE))
        marks.append(Path(_line(strip, clock, strip.high - length, strip.high), FINE))
        if clock % step == 0 and not _near_seam(strip, clock):
            at = strip.place(clock, strip.high - 2 * TICK_MM - NOTE_HEIGHT - 1)[0]
            marks.append(Text((float(at[0]), float(at[1])), f"{clock:.0f}", NOTE_HEIGHT, "middle"))
    return tuple(marks)


def _near_seam(strip: Strip, clock: float) -> bool:
    """Whether a number at ``clock`` would run over the seam."""
    away = abs((clock - strip.seam + 180) % 360 - 180) / 360 * strip.template.width
    return away < text_width("000", NOTE_HEIGHT) / 2 + GAP_MM


def _number_step(strip: Strip) -> float:
    """The finest step at which the clocks' numbers stand clear of each other."""
    needed = text_width("000", NOTE_HEIGHT) + GAP_MM
    return next(s for s in (15.0, 30.0, 45.0, 90.0, 360.0)
                if s == 360.0 or s / 360 * strip.template.width >= needed)


def _text_top(strip: Strip) -> float:
    """Along below which the body's upright lettering ends."""
    return strip.high - 2 * TICK_MM - NOTE_HEIGHT - 2 * GAP_MM


def _name_height(strip: Strip) -> float:
    """Lettering of the sides: the larger one where it leaves room beside it."""
    roomy = strip.quarter >= PLAIN_HEIGHT + NOTE_HEIGHT + 4 * GAP_MM
    return PLAIN_HEIGHT if roomy else NOTE_HEIGHT


def _side_lines(strip: Strip) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    top, height = _text_top(strip), _name_height(strip)
    for clock, name in side_names(strip.joint).items():
        low = strip.clear_at(clock)
        marks.append(Path(_line(strip, clock, low, top), THIN, name=f"clock-{clock:.0f}"))
        words = f"{plain(round(clock, 1))} {name}"
        at = strip.place(clock, top)[0] + (1.0 + height / 2, 0.0)
        marks.append(_upright(words, at, height, "right"))
    return tuple(marks)


def _axis(strip: Strip) -> tuple[Mark, ...]:
    """The level of the main's axis, or how far below the strip it lies."""
    clock = np.array((strip.seam, strip.seam + 360))
    best = float(strip.template.clock[int(np.nanargmax(strip.template.along))])
    middle = float(strip.place_past(best, 0.0)[0, 0])
    if strip.low < 0:
        words, y = "main's axis", -1.0 - NOTE_HEIGHT
        level: tuple[Mark, ...] = (
            Path(strip.place_past(clock, 0.0), CENTRE, name="main-axis"),)
    else:
        words, y = f"axis {strip.low:.1f} below", strip.low + PLAIN_HEIGHT + 3 * GAP_MM
        level = ()
    x = _clear_of_edges(strip, words, NOTE_HEIGHT, middle)
    return (*level, Text((x, y), words, NOTE_HEIGHT, "middle"))


def _body(strip: Strip) -> tuple[Mark, ...]:
    """The arrow to the tube's body, and what the strip is for, between the names of the sides."""
    heel, top = strip.joint.heel_clock, _text_top(strip)
    taken = 1.0 + _name_height(strip)
    if strip.quarter - taken < NOTE_HEIGHT + 1.0:
        return ()
    share = (taken + strip.quarter) / 2 / strip.template.width * 360
    marks: list[Mark] = []
    for side, words in enumerate(("tube's body →", *2 * (title(strip.joint),), "tube's body →")):
        clock = heel + 90 * side + share
        room = top - max(strip.clear_at(clock + step) for step in (-5, 0, 5)) - 3 * TICK_MM
        if text_width(words, NOTE_HEIGHT) <= room:
            marks.append(_upright(words, strip.place(clock, top)[0], NOTE_HEIGHT, "right"))
    return tuple(marks)


def _gaps(strip: Strip) -> tuple[Mark, ...]:
    """The stretches where nothing is cut, between dashed lines."""
    marks: list[Mark] = []
    clock, along = strip.template.clock, strip.template.along
    for start, stop in open_runs(along):
        first, last = clock[max(start - 1, 0)], clock[min(stop, clock.size - 1)]
        for edge in (start - 1, stop):
            if 0 <= edge < clock.size:
                tip = np.array((strip.low, along[edge]))
                marks.append(Path(strip.place_past(clock[edge], tip), FOLD))
        width = (last - first) / 360 * strip.template.width
        words = next((w for w in ("open: nothing to cut", "open")
                      if text_width(w, NOTE_HEIGHT) + 2 * GAP_MM <= width), "")
        if words:
            x, y = strip.place_past((first + last) / 2, strip.low + GAP_MM)[0].tolist()
            marks.append(Text((x, y), words, NOTE_HEIGHT, "middle"))
    return tuple(marks)
