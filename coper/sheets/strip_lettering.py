"""Where lettering has room on a strip: along its ruler, and up the tube between the named lines."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.drawing.letters import text_width
from coper.drawing.marks import GAP_MM, NOTE_HEIGHT, PLAIN_HEIGHT, Anchor, Text
from coper.sheets.strip import Strip

CLOCK_STEP_DEG, LONG_STEP_DEG = 15.0, 45.0
"""A tick, and on a taper a line, at each of the first; a long tick at each of the second."""

CLEAR_MM = 0.4
"""From a word to the middle of a cut."""

TICK_MM = 2.0
NUMBER_MM = 2 * TICK_MM + NOTE_HEIGHT + 2 * GAP_MM
"""Height of the ruler: ticks and the clocks' numbers."""


def along_line(strip: Strip, clock: float, low: float, high: float) -> Floats:
    """The ends (2, 2) of a stretch of the line of ``clock``, mm on paper."""
    return strip.place(clock, np.array((low, high)))


def slope_of(way: Floats) -> float:
    """The slope in degrees of a direction (2,) on paper, counter-clockwise from ``x``."""
    return float(np.degrees(np.arctan2(way[1], way[0])))


def _upright(
    strip: Strip, words: str, clock: float, along: float, right: float,
    height: float, anchor: Anchor,
) -> Text:
    """Lettering that reads up the tube, ``right`` mm to the right of the line of ``clock``."""
    way = strip.up(clock, along)
    x, y = strip.place(clock, along)[0] + (right + height) * np.array((way[1], -way[0]))
    return Text((float(x), float(y)), words, height, anchor, slope_of(way))


def level_text(strip: Strip, words: str, clock: float, along: float, height: float) -> Text:
    """Lettering that reads round the tube, standing on ``along``, kept between the seams."""
    room = 180 - (text_width(words, height) / 2 + GAP_MM) / strip.width * 360
    middle = strip.seam + 180
    inside = middle + float(np.clip((clock - strip.seam) % 360 - 180, -max(room, 0), max(room, 0)))
    return _round_text(strip, words, inside, along, height)


def _round_text(strip: Strip, words: str, clock: float, along: float, height: float) -> Text:
    """Lettering that reads round the tube, its middle at ``clock``."""
    way = strip.up(clock, along)
    x, y = strip.place_past(clock, along)[0]
    return Text((float(x), float(y)), words, height, "middle", slope_of(way) - 90)


def clear_level(
    strip: Strip, words: str, clock: float, along: float, height: float
) -> Text | None:
    """The same, as near to ``clock`` as it stands clear of the seam and of every cut.

    ``None`` where there is no such place: then the words go elsewhere.
    """
    first, second = strip.place_past(np.array((strip.seam, strip.seam + 1)), along)
    round_there = 360 * float(np.hypot(*(second - first)))
    half = (text_width(words, height) / 2 + GAP_MM / 2) / round_there * 360
    if half > 180:
        return None
    middle = float(np.clip((clock - strip.seam) % 360, half, 360 - half))
    places = sorted({middle, *np.arange(half, 360 - half, CLOCK_STEP_DEG / 3).tolist()},
                    key=lambda place: abs(place - middle))
    for place in places:
        if _clear(strip, strip.seam + place, half, along, height):
            return _round_text(strip, words, strip.seam + place, along, height)
    return None


def _clear(strip: Strip, clock: float, half: float, along: float, height: float) -> bool:
    """Whether no cut comes between ``along`` and ``height`` mm above it, ``half`` degrees round."""
    for edge in strip.edges:
        under_it = (edge.clock >= clock - half) & (edge.clock <= clock + half)
        cut = np.append(edge.along[under_it], (edge.at(clock - half), edge.at(clock + half)))
        over, under = cut > along + height + CLEAR_MM, cut < along - CLEAR_MM
        known = ~np.isnan(cut)
        if not (over[known].all() or under[known].all()):
            return False
    return True


def ruler_at(strip: Strip) -> tuple[float, int]:
    """Where the ruler of clocks stands, and which way its ticks point (1 is up the tube)."""
    if len(strip.edges) == 1:
        return (strip.high, -1) if strip.edges[0].body > 0 else (strip.low, 1)
    return strip.edges[1].short - 3 * TICK_MM, -1


def near_seam(strip: Strip, clock: float) -> bool:
    """Whether a number at ``clock`` would run over the seam."""
    away = abs((clock - strip.seam + 180) % 360 - 180) / 360 * width_at_ruler(strip)
    return away < text_width("000", NOTE_HEIGHT) / 2 + GAP_MM


def number_step(strip: Strip) -> float:
    """The finest step at which the clocks' numbers stand clear of each other."""
    needed = text_width("000", NOTE_HEIGHT) + GAP_MM
    level, way = ruler_at(strip)
    for step in (CLOCK_STEP_DEG, 30.0, LONG_STEP_DEG, 90.0):
        steps = np.diff(strip.place_past(np.arange(0.0, 361.0, step), level + way * NUMBER_MM),
                        axis=0)
        if np.hypot(steps[:, 0], steps[:, 1]).min() >= needed:
            return step
    return 360.0


def width_at_ruler(strip: Strip) -> float:
    """Once round where the lettering stands, mm: a taper has less room at its thin end."""
    level, way = ruler_at(strip)
    one, other = (strip.place_past(strip.seam + step, level + way * NUMBER_MM)[0]
                  for step in (0.0, 1.0))
    return 360 * float(np.hypot(*(other - one)))


def _text_zone(strip: Strip, clock: float) -> tuple[float, float]:
    """Between which alongs the body's upright lettering may stand at ``clock``."""
    level, way = ruler_at(strip)
    near = level + way * NUMBER_MM
    if strip.datum is not None:
        near = strip.datum.along + way * GAP_MM
    cut = strip.edges[0].clear_at(clock) + strip.edges[0].body * 3 * TICK_MM
    return (cut, near) if way < 0 else (near, cut)


def _rooms(strip: Strip) -> list[tuple[float, bool, float]]:
    """Every line along the tube in order from the seam: its clock, whether it is named, and the
    room to the next, mm.
    """
    width = width_at_ruler(strip)
    named = {(clock - strip.seam) % 360 for clock in strip.sides}
    folds = {float(clock - strip.seam) % 360 for clock in strip.branch.corners()}
    clocks = sorted(named | folds)
    return [((clock + strip.seam) % 360, clock in named, (after - clock) / 360 * width)
            for clock, after in zip(clocks, [*clocks[1:], 360.0], strict=True)]


def name_height(strip: Strip) -> float:
    """Lettering of the sides: the larger one where it leaves room beside it and fits its line."""
    least = min(room for _, named, room in _rooms(strip) if named)
    roomy = least >= PLAIN_HEIGHT + NOTE_HEIGHT + 4 * GAP_MM
    fits = all(has_room(strip, name, clock, PLAIN_HEIGHT) for clock, name in strip.sides.items())
    return PLAIN_HEIGHT if roomy and fits else NOTE_HEIGHT


def body_span(strip: Strip, clock: float) -> tuple[float, float]:
    """From where to where the paper is the tube's body at ``clock``, along in mm."""
    ends = [edge.clear_at(clock) for edge in strip.edges]
    if len(ends) == 2:
        return ends[0], ends[1]
    low, high = _text_zone(strip, clock)
    return (ends[0], high) if strip.edges[0].body > 0 else (low, ends[0])


def zone_text(strip: Strip, words: str, clock: float, right: float, height: float) -> Text:
    """Upright lettering that begins at the ruler's side of the body."""
    low, high = _text_zone(strip, clock)
    if ruler_at(strip)[1] < 0:
        return _upright(strip, words, clock, high, right, height, "right")
    return _upright(strip, words, clock, low, right, height, "left")


def free_rooms(strip: Strip) -> list[tuple[float, float, float]]:
    """Each line along the tube: its clock, what its name takes beside it, and what is left, mm."""
    name = 1.0 + name_height(strip)
    return [(clock, name if named else 0.0, room - (name if named else 0.0))
            for clock, named, room in _rooms(strip)]


def has_room(strip: Strip, words: str, clock: float, height: float = NOTE_HEIGHT) -> bool:
    """Whether words find room up the tube round ``clock``."""
    zones = [_text_zone(strip, clock + step) for step in (-5.0, 0.0, 5.0)]
    return min(high - low for low, high in zones) >= text_width(words, height)
