"""Pipe by its trade size and schedule, ASME B36.10M: ``pipe 1-1/4 sch 40``, ``pipe DN32 sch 40``.

A trade size is a name, not a measure: pipe of size 1-1/4 is 1.660 in across. The standard lists
every size twice, in inches and in rounded mm; a size written in inches (NPS) is that of the one
list, a DN that of the other.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from coper.errors import WordsError
from coper.units import INCH_MM, parse_length, plain, shown, unreadable

EXAMPLE = "pipe 1-1/4 sch 40"

NEAR = 3
"""So many sizes are named where one is unknown."""

SAME_IN = 1e-6
"""Two sizes in inches that differ by less are one: 1.25 and 1-1/4."""

MIL_MM = INCH_MM / 1000
WALL_PLACES = 2
"""Decimals of the mm that the standard rounds walls to."""
HALF_UP_MM = 1e-9
"""Added before a wall is rounded: what ends in a 5 is rounded up, as in the standard."""


class Pipe(NamedTuple):
    """One trade size.

    Attributes
    ----------
    nps : str
        Nominal size, inches.
    dn : int
        Nominal size, mm.
    outside_in, outside_mm : float
        Outside diameter in either list.
    walls : str
        Each schedule and its wall in thousandths of an inch.
    """

    nps: str
    dn: int
    outside_in: float
    outside_mm: float
    walls: str

    @property
    def schedules(self) -> dict[str, int]:
        """The walls in thousandths of an inch by schedule."""
        words = self.walls.split()
        return {name: int(wall) for name, wall in zip(words[::2], words[1::2], strict=True)}

    def size_mm(self, schedule: str, by_dn: bool) -> tuple[float, float]:
        """Outside diameter and wall, mm, of the list in mm or of that in inches."""
        wall = self.schedules[schedule] * MIL_MM
        if by_dn:
            rounded = round(wall + HALF_UP_MM, WALL_PLACES)
            return self.outside_mm, _ODD_MM.get((self.dn, schedule), rounded)
        return self.outside_in * INCH_MM, wall


PIPES = (
    Pipe("1/8", 6, 0.405, 10.3, "10 49 30 57 40 68 80 95 std 68 xs 95"),
    Pipe("1/4", 8, 0.54, 13.7, "10 65 30 73 40 88 80 119 std 88 xs 119"),
    Pipe("3/8", 10, 0.675, 17.1, "10 65 30 73 40 91 80 126 std 91 xs 126"),
    Pipe("1/2", 15, 0.84, 21.3, "5 65 10 83 30 95 40 109 80 147 160 188 std 109 xs 147 xxs 294"),
    Pipe("3/4", 20, 1.05, 26.7, "5 65 10 83 30 95 40 113 80 154 160 219 std 113 xs 154 xxs 308"),
    Pipe("1", 25, 1.315, 33.4, "5 65 10 109 30 114 40 133 80 179 160 250 std 133 xs 179 xxs 358"),
    Pipe("1-1/4", 32, 1.66, 42.2,
         "5 65 10 109 30 117 40 140 80 191 "
         "160 250 std 140 xs 191 xxs 382"),
    Pipe("1-1/2", 40, 1.9, 48.3,
         "5 65 10 109 30 125 40 145 80 200 "
         "160 281 std 145 xs 200 xxs 400"),
    Pipe("2", 50, 2.375, 60.3, "5 65 10 109 30 125 40 154 80 218 160 344 std 154 xs 218 xxs 436"),
    Pipe("2-1/2", 65, 2.875, 73.0,
         "5 83 10 120 30 188 40 203 80 276 "
         "160 375 std 203 xs 276 xxs 552"),
    Pipe("3", 80, 3.5, 88.9, "5 83 10 120 30 188 40 216 80 300 160 438 std 216 xs 300 xxs 600"),
    Pipe("3-1/2", 90, 4, 101.6, "5 83 10 120 30 188 40 226 80 318 std 226 xs 318"),
    Pipe("4", 100, 4.5, 114.3,
         "5 83 10 120 30 188 40 237 80 337 "
         "120 438 160 531 std 237 xs 337 xxs 674"),
    Pipe("5", 125, 5.563, 141.3,
         "5 109 10 134 40 258 80 375 120 500 "
         "160 625 std 258 xs 375 xxs 750"),
    Pipe("6", 150, 6.625, 168.3,
         "5 109 10 134 40 280 80 432 120 562 "
         "160 719 std 280 xs 432 xxs 864"),
    Pipe("8", 200, 8.625, 219.1,
         "5 109 10 148 20 250 30 277 40 322 60 406 80 500 "
         "100 594 120 719 140 812 160 906 std 322 xs 500 xxs 875"),
    Pipe("10", 250, 10.75, 273.0,
         "5 134 10 165 20 250 30 307 40 365 60 500 80 594 "
         "100 719 120 844 140 1000 160 1125 std 365 xs 500 xxs 1000"),
    Pipe("12", 300, 12.75, 323.8,
         "5 156 10 180 20 250 30 330 40 406 60 562 80 688 "
         "100 844 120 1000 140 1125 160 1312 std 375 xs 500 xxs 1000"),
)
"""ASME B36.10M, welded and seamless wrought steel pipe, sizes up to 12 (DN 300)."""

_ODD_MM = {(40, "xxs"): 10.15}
"""Walls in mm that the standard does not round from those in inches."""

_PIPE = re.compile(r"pipe(?![^\W\d_])")
_WORDS = re.compile(
    r"pipe\s*(?P<size>.*?),?\s*\b(?:schedule|sch\.?)\s*(?P<schedule>\w*)(?P<rest>.*)")
_DN = re.compile(r"dn ?(?P<size>\d+)")


def without_pipe(text: str) -> str:
    """``text`` with a pipe at its beginning written as diameter and wall in mm, else as it is.

    Raises
    ------
    WordsError
        Where it is a pipe that there is not.
    """
    line = " ".join(text.lower().split())
    if not _PIPE.match(line):
        return text
    found = _WORDS.fullmatch(line.replace("dn", " dn", 1).replace("sch", " sch", 1))
    size = line.removeprefix("pipe").strip() if found is None else found["size"].strip()
    pipe, by_dn = _sized(text, size)
    schedule = "" if found is None else found["schedule"]
    if found is None or schedule not in pipe.schedules:
        fault = f"no schedule {shown(schedule)} of that size" if schedule else "no schedule"
        raise unreadable(text, fault, f"write {_name(pipe, by_dn)} sch and one of "
                                      f"{', '.join(pipe.schedules)}")
    outside, wall = pipe.size_mm(schedule, by_dn)
    return f"{plain(round(outside, 4))}mm x {plain(round(wall, 4))}mm{found['rest']}"


def _sized(text: str, size: str) -> tuple[Pipe, bool]:
    """The pipe of a trade size, and whether that is a DN."""
    if not size:
        raise unreadable(text, "no size", f"write one, such as {EXAMPLE}")
    if dn := _DN.fullmatch(size):
        number = int(dn["size"])
        return _found(text, number, {float(pipe.dn): pipe for pipe in PIPES}, True), True
    try:
        inches = parse_length(size, "in") / INCH_MM
    except WordsError as error:
        raise unreadable(text, f"{shown(size)} is no pipe size", f"write it as in {EXAMPLE}, or as "
                         "DN32, before sch") from error
    known = {parse_length(pipe.nps, "in") / INCH_MM: pipe for pipe in PIPES}
    if inches > max(known) + 1:  # more likely an outside diameter in mm
        known = {pipe.outside_mm: pipe for pipe in PIPES}
    return _found(text, inches, known, False), False


def _found(text: str, size: float, known: dict[float, Pipe], by_dn: bool) -> Pipe:
    near = sorted(known, key=lambda one: abs(one - size))[:NEAR]
    if abs(near[0] - size) <= SAME_IN and known[near[0]].outside_mm != near[0]:
        return known[near[0]]
    names = ", ".join(_name(known[one], by_dn) for one in sorted(near))
    raise unreadable(text, "no such pipe size; it is a name, not the outside diameter",
                     f"sizes near it are {names}")


def _name(pipe: Pipe, by_dn: bool) -> str:
    return f"pipe DN{pipe.dn}" if by_dn else f"pipe {pipe.nps}"
