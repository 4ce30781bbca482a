"""What coper says of a job, where it names the file, in words that hold on the page.

The command line's sentences say how the file is mended. On the page the same things stand in
fields: their names take the place of the keys, and a place is a way to where it is mended.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from coper.page.answers.drive import SETTINGS as DRIVE
from coper.page.answers.fields import NAMES
from coper.page.answers.stations import STATIONS

Match = re.Match[str]


@dataclass(frozen=True, slots=True)
class Piece:
    """Words, and the place of the job that they lead to, if any.

    Attributes
    ----------
    words : str
    to : tuple of str
        The parts of its address behind the job's name.
    at : str
        The field there.
    """

    words: str
    to: tuple[str, ...] = ()
    at: str = ""


PHRASES: Final[tuple[tuple[re.Pattern[str], str], ...]] = tuple(
    (re.compile(found), words) for found, words in (
        (r" at \[([^\[\]]*)\]: let one seat on the other \(on = \.\.\.\)",
         r" at \1: let one seat on the other"),
        (r"add it under \[points\]",
         "pick another, type three numbers, or first add it as a point at Measure"),
        (r", or (\S+) under \[points\]", r", or add \1 as a point, at Measure"),
        (r"\[bicycle\] already has a point", "the bicycle already gives a point"),
        (r"use that of \[bicycle\]", "use the bicycle's"),
        (r"add it, such as \[bicycle\] with", "give its numbers at Measure, first"),
        (r"add a \[bicycle\]", "give the bicycle's numbers at Measure"),
        (r" in \[bicycle\](: )?", r" at Measure\1"),
        (r"(give that tube too), under \[tubes\]", r"\1, at Tubes"),
        (r"(add one), such as \[tubes\.shell\]", r"\1 at Tubes"),
        (r"list the shop's set-up blocks in \[shop\], as blocks",
         "give the shop's set-up blocks at Table"),
        (r'set paper = "roll" under \[shop\]', "choose a roll at Print"),
        (r"give it as stretch under \[shop\]", "give it at Ends, in the shop,"),
        (r'write units = "(\w+)" at the top of the file',
         r"write \1 after every number, or begin the job anew in it"),
        (r'give the job units = "(\w+)"', r"begin the job anew in it"),
        (r"add corners = .*, or take out bend", "give its corners, or empty the bend"),
        (r"add mirror = true to the tube, or name another tube with mitre",
         "tick that it has a twin, or choose another tube"),
        (r'(say what it seats on), such as on = \["shell"\], or take out cut',
         r"\1, or choose bevelled"),
        (r"write twin = true", "tick its own twin"),
        (r'write on = \["([^"]*)"\] here', r"tick here that it seats on \1"),
        (r'write on = \["([^"]*)"\], or face', r"tick that it seats on \1, or give a face"),
        (r"give the plate turn = 90, 180 or 270", "turn the plate by 90, 180 or 270"),
        (r", with tall = ", ": tall "),
        (r"with shape_from = (\S+) it does", r"with the taper beginning at \1 it does"),
        (r" \(back = [^()]*\)", ""),
        (r"fork_crown says what", "the crown's numbers, at Check, say what"),
        (r"add rear_wheel to see", "give the rear wheel, at Measure, to see"),
        (r"ask coper saw for ([^,]*), and", r"look at the saw of \1, and"),
        (r", an offset is signed as coper joint takes it", ""),
        (r"as coper regrind says", "as its card at the bench says"),
        (r"add it, such as \w+ = ", r"give it, such as "),
        (r'such as "([^"]*)"', r"such as \1"),
        (r" is not a list; ", " alone is not enough; "),
        (r"(?<=[ ,])\[(-?[\d.]+(?:, -?[\d.]+)+)\]$", r"\1"),
        (r"^units: ", ""),
        (r"is not a table; write \{ (\w+) = (\S+), (\w+) = (\S+) \}",
         r"alone is not enough; write \1 \2 \3 \4"),
    ))
"""What a sentence says of the file, and what it says on the page."""

KEYS: Final = {**{each.key: each.name for each in DRIVE}, **NAMES}
"""The names of the fields for keys, wherever a fault and its cure have one."""

_KEY: Final = re.compile(rf"(?<![\w'\"])({'|'.join(key for key in KEYS if '_' in key)})(?![\w'\"])")

FAULT: Final = "; "
"""What stands between a fault and its cure."""

INNER: Final = {"at": "its point", "on": "what it seats on", "existing": "stands already",
                "mirror": "its twin", "shape_from": "where the taper begins"}
"""Keys of a tube that its fields have other words for."""

_NAME: Final = r'(?P<name>"[^"]*"|[^\s.:\[\]"]+)'
_PLACE: Final = re.compile(rf"(?P<table>tubes|points|bicycle|drive|shop|table)\.{_NAME}"
                           r"(?P<rest>(?:\.[\w-]+|\[\d+\])*): ")

_ABOUT_A_FILE: Final = re.compile(r"[\[=_]|\.\S+: |coper |; ")
"""What every sentence has that says of a file what the page says otherwise."""

_NUMBER: Final = re.compile(r"^\[(\d+)\]: ")
"""Which of several values of a field a fault is about."""

_INLINE: Final = re.compile(rf"\b(?P<table>tubes|points)\.{_NAME}"
                            r"(?:\.(?P<which>start|end))?(?:\.[\w-]+|\[\d+\])*")
"""Another place of the job that a fault is about too."""

_STATION: Final = re.compile(rf"\b(?<=[Aa]t )({'|'.join(one.name for one in STATIONS)})\b")


def page_words(said: str) -> tuple[Piece, ...]:
    """A sentence of coper as the page says it."""
    if _ABOUT_A_FILE.search(said) is None:
        return (Piece(said),)
    place = _PLACE.match(said)
    rest = said if place is None else said[place.end():]
    before = () if place is None else (*_place(place), Piece(": "))
    rest = _NUMBER.sub(lambda found: f"no. {int(found[1]) + 1}: ", rest)
    for found, words in PHRASES:
        rest = found.sub(words, rest)
    if place is not None or FAULT in said:
        rest = _KEY.sub(lambda key: KEYS[key[0]], rest)
        rest = _INLINE.sub(_named, rest)
    return (*before, *_stations(rest))


def _stations(said: str) -> Iterator[Piece]:
    """The words, with each station that they send to a way there."""
    for number, words in enumerate(_STATION.split(said)):
        if words:
            yield Piece(words, (words.lower(),)) if number % 2 else Piece(words)


def _named(found: Match) -> str:
    which, name = found["which"], found["name"].strip('"')
    return f"the {which} of {name}" if which else name


def _place(found: Match) -> tuple[Piece, ...]:
    """What a fault is about, and the way to it."""
    name = found["name"].strip('"')
    return tuple(PLACES[found["table"]](name, found["rest"]))


def _of_tube(name: str, rest: str) -> Iterator[Piece]:
    yield Piece(name, ("tubes", name))
    for key, number in re.findall(r"\.([\w-]+)|\[(\d+)\]", rest):
        yield Piece(f" {int(number) + 1}" if number else
                    f", {INNER.get(key, key.replace('_', ' '))}")


def _of_point(name: str, rest: str) -> Iterator[Piece]:
    yield Piece(name, ("measure", name))


def _of_bicycle(key: str, rest: str) -> Iterator[Piece]:
    yield Piece(NAMES.get(key, key), ("measure",), key)


def _of_drive(key: str, rest: str) -> Iterator[Piece]:
    yield Piece(KEYS.get(key, key), ("check",), f"drive-{key}")


def _of_table(key: str, rest: str) -> Iterator[Piece]:
    yield Piece(f"table, {key}", ("table",), f"table-{key}")


def _of_shop(key: str, rest: str) -> Iterator[Piece]:
    station = {"blocks": "table", "paper": "print", "printer": "print", "roll": "print"}
    yield Piece(key.replace("_", " "), (station.get(key, "ends"),), f"shop-{key}")


PLACES: Final[dict[str, Callable[[str, str], Iterator[Piece]]]] = {
    "tubes": _of_tube, "points": _of_point, "bicycle": _of_bicycle, "drive": _of_drive,
    "table": _of_table, "shop": _of_shop}
