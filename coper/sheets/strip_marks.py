"""Drawing a strip: cut lines, waste, clocks, names, the seam and its tab."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from coper.drawing.curves import open_runs, pieces
from coper.drawing.letters import text_width
from coper.drawing.marks import (
    CENTRE,
    CUT,
    FINE,
    FOLD,
    GAP_MM,
    HIDDEN,
    LINE,
    NOTE_HEIGHT,
    PLAIN_HEIGHT,
    THIN,
    Group,
    Hatch,
    Mark,
    Path,
    Text,
)
from coper.pages.gapped import gapped
from coper.sheets.strip import ROW_MM, CutEdge, Strip, beside
from coper.sheets.strip_lettering import (
    CLOCK_STEP_DEG,
    LONG_STEP_DEG,
    TICK_MM,
    along_line,
    body_span,
    clear_level,
    free_rooms,
    has_room,
    level_text,
    name_height,
    near_seam,
    number_step,
    ruler_at,
    width_at_ruler,
    zone_text,
)
from coper.sheets.strip_tab import tab_marks
from coper.units import format_short, format_size

RIBBON_MM = 5.0
"""Width of the hatched ribbon on the waste side of the cut line."""

STEEP = 4.0
"""The hatched ribbon follows a steep cut line with at most this many times its width."""

HATCH_MM = 1.6

WHOLE = frozenset(("cut", "edge"))
"""Lines that a pair of scissors follows: they leave no gap at lettering."""


def strip_marks(strip: Strip) -> tuple[Mark, ...]:
    """Everything that is printed on the template, in mm, ``y`` up the tube."""
    level = _level(strip)
    named = any(isinstance(mark, Text) for mark in level)
    outline, *others, body = _bare(strip, () if named or not strip.level_name else (
        f"dash-dot: {strip.level_name}",))
    waste = (Group(_waste(strip, edge), "waste") for edge in strip.edges)
    return gapped((outline, *waste, *others, Group(level, "level"),
                   Group(_blank_ends(strip), "blank"), Group(_datum(strip), "datum"), body), WHOLE)


def bare_strip_marks(strip: Strip) -> tuple[Mark, ...]:
    """What every strip carries, without the waste and the level that lengths count from."""
    return gapped(_bare(strip), WHOLE)


def _bare(strip: Strip, more: Sequence[str] = ()) -> tuple[Mark, ...]:
    """The same; ``more`` is said on the tab."""
    return (
        Group(_outline(strip, more), "outline"),
        *(Group(_cut(strip, edge), "cut-line") for edge in strip.edges),
        *(Group(_gaps(strip, edge), "open") for edge in strip.edges),
        Group(_ruler(strip), "clock-marks"),
        Group(_lines(strip), "lines"),
        Group(_sides(strip), "sides"),
        Group(_body(strip), "body"),
    )


def _outline(strip: Strip, more: Sequence[str]) -> tuple[Mark, ...]:
    start, stop = strip.seam, strip.seam + 360
    tab = stop + 360 * strip.glue / strip.width
    bottom, top = strip.round_at(strip.low, start, tab), strip.round_at(strip.high, tab, start)
    marks: list[Mark] = [
        Path(np.concatenate((bottom, top)), LINE, closed=True, name="edge"),
        Path(strip.place_past(stop, np.array((strip.low, strip.high))), FOLD, name="seam"),
    ]
    return (*marks, *tab_marks(strip, more))


def _cut(strip: Strip, edge: CutEdge) -> tuple[Mark, ...]:
    points = strip.place_past(edge.clock, edge.along)
    return tuple(Path(piece, CUT, name="cut") for piece in pieces(points))


def _waste(strip: Strip, edge: CutEdge) -> tuple[Mark, ...]:
    slope = np.gradient(edge.along, edge.clock / 360 * strip.width)
    ribbon = RIBBON_MM * np.nan_to_num(np.hypot(1.0, slope), nan=STEEP).clip(1.0, STEEP)
    beyond = (edge.along - edge.body * ribbon).clip(*_metal(strip))
    marks: list[Mark] = []
    for upper, lower in zip(pieces(strip.place_past(edge.clock, edge.along)),
                            pieces(strip.place_past(edge.clock, beyond)), strict=True):
        marks.append(Hatch((np.concatenate((upper, lower[::-1])),), HATCH_MM, 45.0, FINE))
    best = float(edge.clock[int(np.nanargmax(edge.body * edge.along))])
    foot = strip.low + GAP_MM if edge.body > 0 else strip.high - GAP_MM - PLAIN_HEIGHT
    return (*marks, *_clear(clear_level(strip, "waste", best, foot, PLAIN_HEIGHT)))


def _clear(text: Text | None) -> tuple[Text, ...]:
    """The words, if they found a place."""
    return () if text is None else (text,)


def _metal(strip: Strip) -> tuple[float, float]:
    """Between which alongs there is metal under the paper, mm."""
    low, high = strip.low, strip.high
    for edge, at in zip(strip.edges, strip.blank_ends, strict=False):  # none of a lone joint
        low, high = (max(low, at), high) if edge.body > 0 else (low, min(high, at))
    return low, high


def _ruler(strip: Strip) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    step, (level, way) = number_step(strip), ruler_at(strip)
    if len(strip.edges) > 1:
        marks.append(Path(strip.round_at(level), FINE, name="ruler"))
    for clock in np.arange(0.0, 360.0, CLOCK_STEP_DEG):
        length = TICK_MM * (2 if clock % LONG_STEP_DEG == 0 else 1)
        marks.append(Path(along_line(strip, clock, level, level + way * length), FINE))
        for edge in strip.edges:
            cut = edge.at(clock)
            if not np.isnan(cut):
                marks.append(Path(along_line(strip, clock, cut, cut + edge.body * length), FINE))
        if clock % step == 0 and not near_seam(strip, clock):
            drop = 2 * TICK_MM + 1.0 + (NOTE_HEIGHT if way < 0 else 0.0)
            marks.append(level_text(strip, f"{clock:.0f}", clock, level + way * drop, NOTE_HEIGHT))
    return tuple(marks)


def _lines(strip: Strip) -> tuple[Mark, ...]:
    """Folds of a box."""
    marks: list[Mark] = [
        Path(along_line(strip, clock, *body_span(strip, clock)), HIDDEN, name="fold")
        for clock in strip.branch.corners()
    ]
    return tuple(marks)


def _sides(strip: Strip) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    height = name_height(strip)
    for clock, name in strip.sides.items():
        low, high = body_span(strip, clock)
        marks.append(Path(along_line(strip, clock, low, high), THIN, name=f"clock-{clock:.0f}"))
        words = name if has_room(strip, name, clock, height) else name.split(",")[0]
        if has_room(strip, words, clock, height):
            marks.append(zone_text(strip, words, clock, 1.0, height))
    return tuple(marks)


def _level(strip: Strip) -> tuple[Mark, ...]:
    """The level that lengths are measured from, or how far off the strip it lies."""
    edge = strip.edges[0]
    if strip.low < strip.level < strip.high:
        under = strip.level - 1.0 - NOTE_HEIGHT if edge.body > 0 else strip.level + 1.0
        words = clear_level(strip, strip.level_name, _deepest(edge), under, NOTE_HEIGHT)
        return (Path(strip.round_at(strip.level), CENTRE, name="level"), *_clear(words))
    return _off_strip(strip, edge, strip.level_name.split()[-1], strip.level)


def _deepest(edge: CutEdge) -> float:
    """The clock of the short point, where there is the most waste."""
    return float(edge.clock[int(np.nanargmax(edge.body * edge.along))])


def _off_strip(
    strip: Strip, edge: CutEdge, name: str, level: float, line: int = 0
) -> tuple[Text, ...]:
    """How far off the strip a level lies, in words on the ``line`` from the waste on."""
    off = strip.low - level if edge.body > 0 else level - strip.high
    way = "below" if edge.body > 0 else "above"
    words = f"{name} {format_short(off, 1).removesuffix(' mm')} {way} the paper"
    band = PLAIN_HEIGHT + 3 * GAP_MM + line * ROW_MM
    at = strip.low + band if edge.body > 0 else strip.high - band - NOTE_HEIGHT
    return _clear(clear_level(strip, words, _deepest(edge), at, NOTE_HEIGHT))


def _blank_ends(strip: Strip) -> tuple[Mark, ...]:
    """Where the blank ends: the line to lay on the tube's own end."""
    marks: list[Mark] = []
    for edge, at in zip(strip.edges, strip.blank_ends, strict=False):  # none of a lone joint
        if not strip.low < at < strip.high:
            marks += _off_strip(strip, edge, "blank's end", at, line=1)
            continue
        left = f", {format_size(strip.left_on)} left on" if strip.left_on else ""
        under, mark = at, "dashed: " if beside(at, strip.level) else ""
        choices = (f"{mark}end of the blank{left}", f"{mark}blank's end", "blank's end")
        words = next((one for one in choices[:2]
                      if text_width(one, NOTE_HEIGHT) <= strip.width - 2 * GAP_MM), choices[2])
        if mark:
            under = edge.body * (min(edge.body * at, edge.body * strip.level) - ROW_MM)
        off = under - 1.0 - NOTE_HEIGHT if edge.body > 0 else under + 1.0
        marks += [Path(strip.round_at(at), HIDDEN, name="blank-end"),
                  *_clear(clear_level(strip, words, _deepest(edge), off, NOTE_HEIGHT))]
    return tuple(marks)


def _datum(strip: Strip) -> tuple[Mark, ...]:
    """The line to lay a tape on, and how far it is from where."""
    datum = strip.datum
    if datum is None:
        return ()
    far = format_size(datum.distance)
    room = strip.width - 2 * GAP_MM
    words = next((one for one in (f"{far} {datum.to}", far)
                  if text_width(one, NOTE_HEIGHT) <= room), None)
    if words is None:
        return ()
    up = 1.0 if strip.edges[0].body > 0 else -1.0 - NOTE_HEIGHT
    return (Path(strip.round_at(datum.along), THIN, name="datum"),
            level_text(strip, words, strip.seam + 180, datum.along + up, NOTE_HEIGHT))


def _body(strip: Strip) -> tuple[Mark, ...]:
    """The arrow to the tube's body, and what the strip is for, between the named lines."""
    arrow = "tube's body →" if strip.edges[0].body > 0 else "← tube's body"
    wanted = [arrow, strip.title, *filter(None, (strip.blank,)), arrow, strip.title]
    if len(strip.edges) == 2:
        wanted = ["end →", strip.title, "← start", strip.blank or strip.title]
    marks: list[Mark] = []
    for clock, start, free in sorted(free_rooms(strip), key=lambda place: -place[2]):
        middle = clock + (start + free / 2) / width_at_ruler(strip) * 360
        words = next((w for w in wanted if has_room(strip, w, middle)), None)
        if words is not None and free >= NOTE_HEIGHT + 1.0:
            wanted.remove(words)
            marks.append(zone_text(strip, words, middle, -NOTE_HEIGHT / 2, NOTE_HEIGHT))
    return tuple(marks)


def _gaps(strip: Strip, edge: CutEdge) -> tuple[Mark, ...]:
    """The stretches where nothing is cut, between dashed lines."""
    marks: list[Mark] = []
    clock, along = edge.clock, edge.along
    outer = strip.low if edge.body > 0 else strip.high
    foot = strip.low + GAP_MM if edge.body > 0 else strip.high - GAP_MM - NOTE_HEIGHT
    for start, stop in open_runs(along):
        first, last = clock[max(start - 1, 0)], clock[min(stop, clock.size - 1)]
        for end in (start - 1, stop):
            if 0 <= end < clock.size:
                tip = np.array((outer, along[end]))
                marks.append(Path(strip.place_past(clock[end], tip), FOLD))
        width = (last - first) / 360 * strip.width
        words = next((w for w in ("open: nothing to cut", "open")
                      if text_width(w, NOTE_HEIGHT) + 2 * GAP_MM <= width), None)
        if words is not None:
            marks.append(level_text(strip, words, (first + last) / 2, foot, NOTE_HEIGHT))
    return tuple(marks)
