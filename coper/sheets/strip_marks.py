"""Drawing a strip: cut lines, waste, clocks, names, the seam and its tab."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
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
    Anchor,
    Group,
    Hatch,
    Mark,
    Path,
    Text,
)
from coper.shapes.checks import plain
from coper.sheets.strip import CutEdge, Strip

RIBBON_MM = 5.0
"""Width of the hatched ribbon on the waste side of the cut line."""

STEEP = 4.0
"""The hatched ribbon follows a steep cut line with at most this many times its width."""

CLOCK_STEP_DEG, LONG_STEP_DEG = 15.0, 45.0
"""A tick, and on a taper a line, at each of the first; a long tick at each of the second."""

TICK_MM = 2.0
NUMBER_MM = 2 * TICK_MM + NOTE_HEIGHT + 2 * GAP_MM
"""Height of the ruler: ticks and the clocks' numbers."""

HATCH_MM = 1.6

CONVERGING_MM = 12.0
"""Length of the converging lines of a taper: enough to lay a rule on, clear of the lettering."""


def strip_marks(strip: Strip) -> tuple[Mark, ...]:
    """Everything that is printed on the template, in mm, ``y`` up the tube."""
    return (
        *(Group(_waste(strip, edge), "waste") for edge in strip.edges),
        *bare_strip_marks(strip),
        Group(_level(strip), "level"),
    )


def bare_strip_marks(strip: Strip) -> tuple[Mark, ...]:
    """What every strip carries, without the waste and the level that lengths count from."""
    return (
        Group(_outline(strip), "outline"),
        *(Group(_cut(strip, edge), "cut-line") for edge in strip.edges),
        *(Group(_gaps(strip, edge), "open") for edge in strip.edges),
        Group(_ruler(strip), "clock-marks"),
        Group(_lines(strip), "lines"),
        Group(_sides(strip), "sides"),
        Group(_body(strip), "body"),
    )


def _along(strip: Strip, clock: float, low: float, high: float) -> Floats:
    return strip.place(clock, np.array((low, high)))


def _angle(way: Floats) -> float:
    return float(np.degrees(np.arctan2(way[1], way[0])))


def _upright(
    strip: Strip, words: str, clock: float, along: float, right: float,
    height: float, anchor: Anchor,
) -> Text:
    """Lettering that reads up the tube, ``right`` mm to the right of the line of ``clock``."""
    way = strip.up(clock, along)
    x, y = strip.place(clock, along)[0] + (right + height) * np.array((way[1], -way[0]))
    return Text((float(x), float(y)), words, height, anchor, _angle(way))


def _level_text(strip: Strip, words: str, clock: float, along: float, height: float) -> Text:
    """Lettering that reads round the tube, standing on ``along``, kept between the seams."""
    room = 180 - (text_width(words, height) / 2 + GAP_MM) / strip.width * 360
    middle = strip.seam + 180
    inside = middle + float(np.clip((clock - strip.seam) % 360 - 180, -max(room, 0), max(room, 0)))
    way = strip.up(inside, along)
    x, y = strip.place_past(inside, along)[0]
    return Text((float(x), float(y)), words, height, "middle", _angle(way) - 90)


def _outline(strip: Strip) -> tuple[Mark, ...]:
    start, stop = strip.seam, strip.seam + 360
    tab = stop + 360 * strip.glue / strip.width
    bottom, top = strip.round_at(strip.low, start, tab), strip.round_at(strip.high, tab, start)
    marks: list[Mark] = [
        Path(np.concatenate((bottom, top)), LINE, closed=True, name="edge"),
        Path(strip.place_past(stop, np.array((strip.low, strip.high))), FOLD, name="seam"),
    ]
    words = f"glue under the seam at clock {plain(round(strip.seam, 1))}"
    if text_width(words, NOTE_HEIGHT) > strip.high - strip.low - 2 * GAP_MM:
        words = "glue"
    if strip.glue >= NOTE_HEIGHT + 2 * GAP_MM:
        middle = (strip.low + strip.high) / 2
        way = strip.up(stop - 1, middle)
        x, y = strip.place_past((stop + tab) / 2, middle)[0] + NOTE_HEIGHT / 2 * np.array(
            (way[1], -way[0]))
        marks.append(Text((float(x), float(y)), words, NOTE_HEIGHT, "middle", _angle(way)))
    return tuple(marks)


def _cut(strip: Strip, edge: CutEdge) -> tuple[Mark, ...]:
    points = strip.place_past(edge.clock, edge.along)
    return tuple(Path(piece, CUT, name="cut") for piece in pieces(points))


def _waste(strip: Strip, edge: CutEdge) -> tuple[Mark, ...]:
    slope = np.gradient(edge.along, edge.clock / 360 * strip.width)
    ribbon = RIBBON_MM * np.nan_to_num(np.hypot(1.0, slope), nan=STEEP).clip(1.0, STEEP)
    beyond = (edge.along - edge.body * ribbon).clip(strip.low, strip.high)
    marks: list[Mark] = []
    for upper, lower in zip(pieces(strip.place_past(edge.clock, edge.along)),
                            pieces(strip.place_past(edge.clock, beyond)), strict=True):
        marks.append(Hatch((np.concatenate((upper, lower[::-1])),), HATCH_MM, 45.0, FINE))
    best = float(edge.clock[int(np.nanargmax(edge.body * edge.along))])
    foot = strip.low + GAP_MM if edge.body > 0 else strip.high - GAP_MM - PLAIN_HEIGHT
    marks.append(_level_text(strip, "waste", best, foot, PLAIN_HEIGHT))
    return tuple(marks)


def _ruler_at(strip: Strip) -> tuple[float, int]:
    """Where the ruler of clocks stands, and which way its ticks point (1 is up the tube)."""
    if len(strip.edges) == 1:
        return (strip.high, -1) if strip.edges[0].body > 0 else (strip.low, 1)
    return strip.edges[1].short - 3 * TICK_MM, -1


def _ruler(strip: Strip) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    step, (level, way) = _number_step(strip), _ruler_at(strip)
    if len(strip.edges) > 1:
        marks.append(Path(strip.round_at(level), FINE, name="ruler"))
    for clock in np.arange(0.0, 360.0, CLOCK_STEP_DEG):
        length = TICK_MM * (2 if clock % LONG_STEP_DEG == 0 else 1)
        marks.append(Path(_along(strip, clock, level, level + way * length), FINE))
        for edge in strip.edges:
            cut = edge.at(clock)
            if not np.isnan(cut):
                marks.append(Path(_along(strip, clock, cut, cut + edge.body * length), FINE))
        if clock % step == 0 and not _near_seam(strip, clock):
            drop = 2 * TICK_MM + 1.0 + (NOTE_HEIGHT if way < 0 else 0.0)
            marks.append(_level_text(strip, f"{clock:.0f}", clock, level + way * drop, NOTE_HEIGHT))
    return tuple(marks)


def _near_seam(strip: Strip, clock: float) -> bool:
    """Whether a number at ``clock`` would run over the seam."""
    away = abs((clock - strip.seam + 180) % 360 - 180) / 360 * _width_at_ruler(strip)
    return away < text_width("000", NOTE_HEIGHT) / 2 + GAP_MM


def _number_step(strip: Strip) -> float:
    """The finest step at which the clocks' numbers stand clear of each other."""
    needed = text_width("000", NOTE_HEIGHT) + GAP_MM
    level, way = _ruler_at(strip)
    for step in (CLOCK_STEP_DEG, 30.0, LONG_STEP_DEG, 90.0):
        steps = np.diff(strip.place_past(np.arange(0.0, 361.0, step), level + way * NUMBER_MM),
                        axis=0)
        if np.hypot(steps[:, 0], steps[:, 1]).min() >= needed:
            return step
    return 360.0


def _width_at_ruler(strip: Strip) -> float:
    """Once round where the lettering stands, mm: a taper has less room at its thin end."""
    level, way = _ruler_at(strip)
    one, other = (strip.place_past(strip.seam + step, level + way * NUMBER_MM)[0]
                  for step in (0.0, 1.0))
    return 360 * float(np.hypot(*(other - one)))


def _text_zone(strip: Strip, clock: float) -> tuple[float, float]:
    """Between which alongs the body's upright lettering may stand at ``clock``."""
    level, way = _ruler_at(strip)
    near = level + way * NUMBER_MM
    cut = strip.edges[0].clear_at(clock) + strip.edges[0].body * 3 * TICK_MM
    return (cut, near) if way < 0 else (near, cut)


def _rooms(strip: Strip) -> list[tuple[float, bool, float]]:
    """Every line along the tube in order from the seam: its clock, whether it is named, and the
    room to the next, mm.
    """
    width = _width_at_ruler(strip)
    named = {(clock - strip.seam) % 360 for clock in strip.sides}
    folds = {float(clock - strip.seam) % 360 for clock in strip.branch.corners()}
    clocks = sorted(named | folds)
    return [((clock + strip.seam) % 360, clock in named, (after - clock) / 360 * width)
            for clock, after in zip(clocks, [*clocks[1:], 360.0], strict=True)]


def _name_height(strip: Strip) -> float:
    """Lettering of the sides: the larger one where it leaves room beside it and fits its line."""
    least = min(room for _, named, room in _rooms(strip) if named)
    roomy = least >= PLAIN_HEIGHT + NOTE_HEIGHT + 4 * GAP_MM
    fits = all(_fits(strip, name, clock, PLAIN_HEIGHT) for clock, name in strip.sides.items())
    return PLAIN_HEIGHT if roomy and fits else NOTE_HEIGHT


def _lines(strip: Strip) -> tuple[Mark, ...]:
    """Folds of a box; on a taper the converging lines of every 15 degrees."""
    marks: list[Mark] = [
        Path(_along(strip, clock, *_body_span(strip, clock)), HIDDEN, name="fold")
        for clock in strip.branch.corners()
    ]
    if strip.converging:
        for clock in np.arange(0.0, 360.0, CLOCK_STEP_DEG):
            for edge in strip.edges:
                cut = edge.clear_at(clock)
                far = cut + edge.body * CONVERGING_MM
                marks.append(Path(_along(strip, clock, cut, far), FINE, name="every-15"))
    return tuple(marks)


def _body_span(strip: Strip, clock: float) -> tuple[float, float]:
    """From where to where the paper is the tube's body at ``clock``, along in mm."""
    ends = [edge.clear_at(clock) for edge in strip.edges]
    if len(ends) == 2:
        return ends[0], ends[1]
    low, high = _text_zone(strip, clock)
    return (ends[0], high) if strip.edges[0].body > 0 else (low, ends[0])


def _sides(strip: Strip) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    height = _name_height(strip)
    for clock, name in strip.sides.items():
        low, high = _body_span(strip, clock)
        marks.append(Path(_along(strip, clock, low, high), THIN, name=f"clock-{clock:.0f}"))
        words = name if _fits(strip, name, clock, height) else name.split(",")[0]
        marks.append(_zone_text(strip, words, clock, 1.0, height))
    return tuple(marks)


def _zone_text(strip: Strip, words: str, clock: float, right: float, height: float) -> Text:
    """Upright lettering that begins at the ruler's side of the body."""
    low, high = _text_zone(strip, clock)
    if _ruler_at(strip)[1] < 0:
        return _upright(strip, words, clock, high, right, height, "right")
    return _upright(strip, words, clock, low, right, height, "left")


def _level(strip: Strip) -> tuple[Mark, ...]:
    """The level that lengths are measured from, or how far off the strip it lies."""
    edge = strip.edges[0]
    best = float(edge.clock[int(np.nanargmax(edge.body * edge.along))])
    if strip.low < strip.level < strip.high:
        beside = strip.level - 1.0 - NOTE_HEIGHT if edge.body > 0 else strip.level + 1.0
        return (Path(strip.round_at(strip.level), CENTRE, name="level"),
                _level_text(strip, strip.level_name, best, beside, NOTE_HEIGHT))
    off = strip.low - strip.level if edge.body > 0 else strip.level - strip.high
    words = f"{strip.level_name.split()[-1]} {off:.1f} {'below' if edge.body > 0 else 'above'}"
    band = PLAIN_HEIGHT + 3 * GAP_MM
    at = strip.low + band if edge.body > 0 else strip.high - band - NOTE_HEIGHT
    return (_level_text(strip, words, best, at, NOTE_HEIGHT),)


def _body(strip: Strip) -> tuple[Mark, ...]:
    """The arrow to the tube's body, and what the strip is for, between the named lines."""
    arrow = "tube's body →" if strip.edges[0].body > 0 else "← tube's body"
    wanted = [arrow, strip.title, arrow, strip.title]
    if len(strip.edges) == 2:
        wanted = ["end →", strip.title, "← start", strip.title]
    marks: list[Mark] = []
    for clock, start, free in sorted(_free(strip), key=lambda place: -place[2]):
        middle = clock + (start + free / 2) / _width_at_ruler(strip) * 360
        words = next((w for w in wanted if _fits(strip, w, middle)), None)
        if words is not None and free >= NOTE_HEIGHT + 1.0:
            wanted.remove(words)
            marks.append(_zone_text(strip, words, middle, -NOTE_HEIGHT / 2, NOTE_HEIGHT))
    return tuple(marks)


def _free(strip: Strip) -> list[tuple[float, float, float]]:
    """Each line along the tube: its clock, what its name takes beside it, and what is left, mm."""
    name = 1.0 + _name_height(strip)
    return [(clock, name if named else 0.0, room - (name if named else 0.0))
            for clock, named, room in _rooms(strip)]


def _fits(strip: Strip, words: str, clock: float, height: float = NOTE_HEIGHT) -> bool:
    zones = [_text_zone(strip, clock + step) for step in (-5.0, 0.0, 5.0)]
    return min(high - low for low, high in zones) >= text_width(words, height)


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
            marks.append(_level_text(strip, words, (first + last) / 2, foot, NOTE_HEIGHT))
    return tuple(marks)
