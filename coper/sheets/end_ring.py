"""An end as one looks into it, heel up, with its clocks, and what is to be ground off it.

::

             (0)              a key a clock, that a finger finds; a dot on the wall where it is
         .---^---.            read; the band outside is as thick as what comes off there, many
    (270)(  0.35  )(90)       times enlarged; a bar inside the bore where the end touches
         '-------'
            (180)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from coper.arrays import Floats
from coper.drawing.curves import pieces
from coper.drawing.marks import (
    CUT,
    GAP_MM,
    HIDDEN,
    LINE,
    PLAIN_HEIGHT,
    THIN,
    Group,
    Hatch,
    Mark,
    Path,
    Text,
)
from coper.drawing.page import Page
from coper.joint.edge import even_clocks
from coper.sheets.end_seen import CLOCKS, EndSeen

SIZE_MM: Final = 100.0
"""The picture is as wide and as high, whatever the section: so its lettering is as large."""

SECTION_MM: Final = 24.0
"""The section's furthest point from the axis."""

BAND_MM: Final = 6.5
"""The thickest of the band of what comes off."""

KEYS_MM: Final = 40.5
"""Radius that the keys of the clocks stand at."""

LEAST_KEY_MM: Final = 4.9
MOST_KEY_MM: Final = 8.8
"""Radii of a key: a clock fits the one, and the other the picture."""

TWO_LINES_MM: Final = 7.0
"""From this radius on the name of a side fits under its clock."""

KEY_SHARE: Final = 0.48
"""Of the way between two keys that each takes at most."""

EVEN_SHARE: Final = 0.95
"""Of the way between keys that stand evenly round that two of them are apart at least."""

DOT_MM: Final = 1.3
TOUCH_DEG: Final = 8.0
"""A bar that says that the end touches reaches as far to either side."""
TOUCH_IN_MM: Final = (0.8, 2.6)
"""How far inside the bore it lies."""
ARROW_MM: Final = (9.0, 3.5)
"""From where in the bore, and up to how far from its wall, the arrow to where most goes runs."""
HEAD_MM: Final = 2.6
HEAD_HALF_MM: Final = 1.3
KINK_MM: Final = 2.5
"""How far a kink's stroke goes past the wall to either side."""
HATCH_MM: Final = 1.6
MOST_HEIGHT: Final = 5.5
LINES_MM: Final = 5.0
"""From line to line of the words of a key."""
ROUND_KEY: Final = 32
ROUNDS: Final = 50
"""Of turning keys apart: enough for those of the narrowest box."""


@dataclass(frozen=True, slots=True)
class Clock:
    """A clock that is read, or cannot be: degrees, the name of its group, what stands below it."""

    at: float
    name: str
    words: str
    below: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What is to come off, and where the end touches.

    Attributes
    ----------
    clock : (n,) float, degrees
    remove : (n,) float, mm
        ``nan`` where open.
    most_at : float, degrees
    words : tuple of str
        What stands in the middle: how much at that place, at least one.
    touches : tuple of float, degrees
        Clocks whose reading says that the end touches there.
    sure : bool
        Whether it may be ground: else more has to be read before, and nothing is hatched.
    """

    clock: Floats
    remove: Floats
    most_at: float
    words: tuple[str, ...]
    touches: tuple[float, ...]
    sure: bool = True

    @property
    def most(self) -> float:
        """The most that comes off, mm."""
        return 0.0 if np.isnan(self.remove).all() else float(np.nanmax(self.remove))


def ring_picture(
    seen: EndSeen, clocks: Sequence[Clock], kinks: Sequence[float] = (),
    ground: Ground | None = None,
) -> Page:
    """The picture as a page.

    Parameters
    ----------
    seen
        The end.
    clocks
        Every clock that has a key.
    kinks
        Clocks in degrees where the end goes from one main to the next.
    ground
        ``None`` before any reading.
    """
    marks = tuple(_Ring(seen).marks(clocks, kinks, ground))
    return Page("A", SIZE_MM, SIZE_MM, marks)


def enlarged(seen: EndSeen, ground: Ground) -> float:
    """How many times as thick as it is the metal is drawn beside the section."""
    return BAND_MM / ground.most / _Ring(seen).scale if ground.most > 0 else 1.0


class _Ring:
    """The marks of one picture."""

    def __init__(self, seen: EndSeen) -> None:
        self._seen = seen
        self._around = even_clocks(CLOCKS)
        outline = seen.skin(self._around)
        self.scale = SECTION_MM / float(np.hypot(*outline.T).max())

    def marks(
        self, clocks: Sequence[Clock], kinks: Sequence[float], ground: Ground | None
    ) -> Iterator[Mark]:
        """All of them."""
        yield Group(tuple(self._section()), "ring")
        if kinks:
            yield Group(tuple(map(self._kink, kinks)), "kinks")
        if ground is not None:
            yield from self._ground(ground)
        yield from self._keys(clocks)

    def _rim(self, clock: Floats, out: Floats | float = 0.0) -> Floats:
        """Points (n, 2) on paper of the outside, ``out`` (n,) mm of paper further out."""
        far = np.broadcast_to(np.asarray(out), clock.shape)[:, None] * self._seen.out(clock)
        return self._placed(self._seen.skin(clock)) + far

    def _bore(self, clock: Floats, inward: float = 0.0) -> Floats:
        """Points (n, 2) on paper of the inside, ``inward`` mm of paper further in."""
        return self._placed(self._seen.bore(clock)) - inward * self._seen.out(clock)

    def _placed(self, points: Floats) -> Floats:
        return points * self.scale + SIZE_MM / 2

    def _section(self) -> Iterator[Mark]:
        """The wall's outside and inside, dashed where the end meets no main."""
        clock = np.append(self._around, 360.0)
        open_ = self._seen.open(clock)
        for line, pen in ((self._rim(clock), CUT), (self._bore(clock), LINE)):
            if not open_.any():
                yield Path(line[:-1], pen, closed=True)
                continue
            for part in pieces(np.where(open_[:, None], np.nan, line)):
                yield Path(part, pen)
            beside = open_ | np.roll(open_, 1) | np.roll(open_, -1)
            for part in pieces(np.where(beside[:, None], line, np.nan)):
                yield Path(part, HIDDEN, name="open")

    def _kink(self, clock: float) -> Mark:
        at = np.array([clock])
        return Path(np.concatenate((self._bore(at, KINK_MM), self._rim(at, KINK_MM))), CUT)

    def _ground(self, ground: Ground) -> Iterator[Mark]:
        """What comes off outside the section, how much in the middle, and where it touches."""
        known = ~np.isnan(ground.remove)
        if ground.most > 0:
            thick = np.interp(self._around, ground.clock[known], ground.remove[known],
                              period=360.0) / ground.most * BAND_MM
            thick = np.where(self._seen.open(self._around), 0.0, thick)
            outer = self._rim(self._around, thick)
            hatch = (Hatch((outer, self._rim(self._around)), HATCH_MM, pen=THIN),)
            line = Path(outer, LINE if ground.sure else HIDDEN, closed=True)
            yield Group((*(hatch if ground.sure else ()), line),
                        "grind" if ground.sure else "grind-later")
        if ground.most > 0 and ground.sure:
            yield Group(tuple(self._arrow(ground.most_at)), "most")
        if ground.touches:
            yield Group(tuple(map(self._touch, ground.touches)), "touches")
        large = MOST_HEIGHT if ground.sure else PLAIN_HEIGHT
        yield Group(tuple(_middle(ground.words, large)), "how-much")

    def _arrow(self, clock: float) -> Iterator[Mark]:
        """From the middle to the wall where most comes off."""
        start, away = ARROW_MM
        tip = self._bore(np.array([clock]), away)[0]
        middle = np.full(2, SIZE_MM / 2)
        far = float(np.hypot(*(tip - middle)))
        way = (tip - middle) / far
        back, side = tip - HEAD_MM * way, HEAD_HALF_MM * np.array((-way[1], way[0]))
        if far > start + HEAD_MM:
            yield Path(np.stack((middle + start * way, back)), CUT)
        yield Path(np.stack((tip, back + side, back - side)), LINE, closed=True, fill=True)

    def _touch(self, clock: float) -> Mark:
        """A bar inside the bore."""
        span = clock + np.linspace(-TOUCH_DEG, TOUCH_DEG, 9)
        near, far = (self._bore(span, one) for one in TOUCH_IN_MM)
        return Path(np.concatenate((near, far[::-1])), LINE, closed=True, fill=True)

    def _keys(self, clocks: Sequence[Clock]) -> Iterator[Mark]:
        """A key for every clock, with a line to its place on the wall and a dot there."""
        at = np.array([one.at for one in clocks])
        ways = _apart(self._seen.ways(at))
        radius = _key_radius(ways)
        turn = np.radians(even_clocks(ROUND_KEY))
        circle = np.stack((np.cos(turn), np.sin(turn)), axis=-1)
        rims, bores = self._rim(at), self._bore(at)
        for one, way, rim, bore in zip(clocks, ways, rims, bores, strict=True):
            middle = KEYS_MM * way + SIZE_MM / 2
            towards = (rim - middle) / np.hypot(*(rim - middle))
            yield Group((
                Path(np.stack((bore, rim, middle + radius * towards)), THIN),
                Path(DOT_MM * circle + (rim + bore) / 2, THIN, closed=True,
                     name=f"dot-{one.name}"),
                Path(radius * circle + middle, LINE if one.name else HIDDEN, closed=True),
                *_key_words(one, middle, radius)), f"dim-{one.name}" if one.name else "")


def _key_words(one: Clock, middle: Floats, radius: float) -> Iterator[Mark]:
    x, y = middle.tolist()
    two = bool(one.below) and radius >= TWO_LINES_MM
    first = y - PLAIN_HEIGHT / 2 + (LINES_MM / 2 if two else 0.0)
    yield Text((x, first), one.words, PLAIN_HEIGHT, "middle", bold=True)
    if two:
        yield Text((x, first - LINES_MM), one.below, PLAIN_HEIGHT, "middle")


def _middle(words: Sequence[str], large: float) -> Iterator[Mark]:
    """Words in the middle of the bore, the first of them bold and ``large`` mm high."""
    heights = [large, *(PLAIN_HEIGHT for _ in words[1:])]
    y = SIZE_MM / 2 + (sum(heights) + GAP_MM * (len(heights) - 1)) / 2
    for index, (line, height) in enumerate(zip(words, heights, strict=False)):
        yield Text((SIZE_MM / 2, y - height), line, height, "middle", bold=not index)
        y -= height + GAP_MM


def _apart(ways: Floats) -> Floats:
    """The same unit directions (n, 2), those that keys would not fit between turned apart."""
    turn = np.arctan2(ways[:, 1], ways[:, 0])
    order = np.argsort(turn)
    placed = turn[order]
    least = min(2 * TWO_LINES_MM / KEYS_MM, EVEN_SHARE * 2 * np.pi / len(turn))
    for _ in range(ROUNDS):  # each moves the two of a pair by half of what they lack
        lack = np.maximum(least - np.diff(placed, append=placed[0] + 2 * np.pi), 0.0) / 2
        if not lack.any():
            break
        placed = placed - lack + np.roll(lack, 1)
    turn = np.empty_like(placed)
    turn[order] = placed
    return np.stack((np.cos(turn), np.sin(turn)), axis=-1)


def _key_radius(ways: Floats) -> float:
    """As large as the nearest two keys leave room for, mm."""
    if len(ways) < 2:
        return MOST_KEY_MM
    turn = np.sort(np.arctan2(ways[:, 1], ways[:, 0]))
    nearest = float(np.min(np.append(turn[1:], turn[0] + 2 * np.pi) - turn))
    room = KEY_SHARE * 2 * KEYS_MM * np.sin(min(nearest, np.pi) / 2)
    return float(np.clip(room, LEAST_KEY_MM, MOST_KEY_MM))
