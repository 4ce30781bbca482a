"""A log of the dry fits of one end: cells to write readings into, and what to type afterwards.

::

    +----------------------------------------------------------+
    | title, tube and main                                     |
    | clock     | 0    45   90   …   315 | length | angle | by   |
    |           | heel      side         |        |       |      |
    | expected  | 0.00 0.02 …            |        | 62    |      |
    | 1st fit   |                        |        |       |      |
    | 2nd, 3rd  |                        |        |       |      |
    | coper regrind … --gaps 0=__,45=__,…                       |
    +----------------------------------------------------------+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coper.frame.piece import Piece
from coper.frame.setup import EndSetup
from coper.joint.describe import side_names, title
from coper.joint.fit import Fit
from coper.joint.joint import Joint
from coper.paper.letters import shortened, wrap_text
from coper.paper.marks import FINE, FOLD, NOTE_HEIGHT, PLAIN_HEIGHT, THIN, Mark, Path, Text
from coper.paper.pages import Block
from coper.shapes.checks import plain
from coper.shapes.flipped import Flipped
from coper.shapes.lines import Floats
from coper.units import format_angle

READINGS = 8
"""Clocks that are read: every eighth of the way round."""
ROUNDS = ("1st fit", "2nd fit", "3rd fit")
TYPED_PLACES = 3
"""Decimals of what is typed: a thousandth of a degree or of a mm is below any reading."""

NAME_MM, CELL_MM = 19.0, 14.0
AFTER_MM = (("length", 18.0), ("angle", 16.0), ("by, date", 16.0))
"""Columns after the readings: the seated length and the angle that were measured, and who."""
WIDE_MM = NAME_MM + READINGS * CELL_MM + sum(wide for _, wide in AFTER_MM)
ROW_MM = 8.0
"""A cell that a hand can write into."""
CELL_LINES = 2
"""Lines of words that a cell holds."""
PAD_MM = 1.5
LEADING_MM = 1.6 * NOTE_HEIGHT


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """One clock that is read.

    Attributes
    ----------
    clock : float, degrees
        As the tube and its template tell it.
    typed : float, degrees
        As the command reads it.
    side : str
        The name of the side, where it has one.
    expected : float, mm
        ``nan`` where the end meets nothing.
    """

    clock: float
    typed: float
    side: str
    expected: float


@dataclass(frozen=True, slots=True, eq=False)
class FitLog:
    """What one log is about.

    Attributes
    ----------
    title, about : str
    readings : tuple of Reading
    angle : str
        The angle that is meant, a line for each of the first mains.
    after : str
        What to type with the readings, or why there is nothing.
    """

    title: str
    about: str
    readings: tuple[Reading, ...]
    angle: str
    after: str


def joint_log(joint: Joint, fit: Fit) -> FitLog:
    """The log of a single joint, cut so that ``fit`` is to be expected."""
    readings = _readings(joint, fit, turned=1)
    return FitLog("Fit-up log", title(joint), readings, format_angle(joint.angle),
                  f"Then type: {regrind_command(joint, readings)}")


def log_blocks(piece: Piece, setups: Sequence[EndSetup]) -> list[Block]:
    """A log for every shaped end of ``piece``, from its ``setups`` (``piece_setups``)."""
    return [log_block(end_log(piece, setup)) for setup in setups]


def end_log(piece: Piece, setup: EndSetup) -> FitLog:
    """The log of one end of a placed tube, its own cut expected."""
    end, first = setup.end, setup.cuts[0]
    readings = _readings(first.joint, setup.own, turned=1 if end.which == "start" else -1)
    on = ", ".join(seat.name for seat in end.seats)
    angles = "\n".join(format_angle(seat.angle) for seat in end.seats[:CELL_LINES])
    return FitLog(f"Fit-up log: {piece.label}, {end.which}",
                  f"{piece.tube.shape.words()} on {on}, {end.cut} cut", readings, angles,
                  _after(setup, readings))


def _after(setup: EndSetup, readings: tuple[Reading, ...]) -> str:
    joint, end = setup.cuts[0].joint, setup.end
    if len(end.mains) > 1:
        return ("coper regrind reads the fit on one main: with several, take off where the "
                "readings are least above what is expected.")
    if isinstance(joint.branch, Flipped):
        return ("coper regrind has no words for this tube from this end: take off where the "
                "readings are least above what is expected.")
    return f"Then type: {regrind_command(joint, readings, end.cut)}"


def regrind_command(
    joint: Joint, readings: Sequence[Reading], cut: str = "bevelled"
) -> str:
    """The command that reads the log, a blank for each reading."""
    words = [f'coper regrind "{joint.branch.words()}" "{joint.main.words()}"',
             f"--angle {_typed(joint.angle)}"]
    for name in ("offset", "turn", "main_turn", "main_at"):
        told = _typed(getattr(joint, name))
        if told != "0":
            words.append(f"--{name.replace('_', '-')} {told}")
    if cut != "bevelled":
        words.append(f"--cut {cut}")
    gaps = ",".join(f"{_clock(one.typed)}=__" for one in readings if not np.isnan(one.expected))
    return " ".join((*words, f"--gaps {gaps}"))


def _typed(value: float) -> str:
    return plain(round(value, TYPED_PLACES))


def _clock(clock: float) -> str:
    return plain(round(clock, 1) % 360)


def _readings(joint: Joint, fit: Fit, turned: int) -> tuple[Reading, ...]:
    """Eighths of the way round from the heel on, told in the tube's own clock.

    That one runs the other way (``turned`` -1) from the end of a tube.
    """
    clocks = (joint.heel_clock + turned * np.arange(READINGS) * 360 / READINGS) % 360
    names = {_clock(clock): name for clock, name in side_names(joint).items()}
    return tuple(
        Reading(turned * clock % 360, clock, names.get(_clock(clock), ""), expected)
        for clock, expected in zip(clocks.tolist(), fit.at(clocks)[0].tolist(), strict=True))


def log_block(log: FitLog) -> Block:
    """The log as a block of a page."""
    return Block(f"log {log.title}", log_marks(log), keep_upright=True)


def log_marks(log: FitLog) -> tuple[Mark, ...]:
    """The log, its upper left corner at the origin, mm."""
    y = -PLAIN_HEIGHT
    marks: list[Mark] = [
        Text((0.0, y), shortened(log.title, WIDE_MM, PLAIN_HEIGHT, bold=True), PLAIN_HEIGHT,
             bold=True),
        Text((0.0, y - LEADING_MM), shortened(log.about, WIDE_MM, NOTE_HEIGHT), NOTE_HEIGHT),
    ]
    top = y - LEADING_MM - 2 * PAD_MM
    rows = list(_rows(log))
    for number, row in enumerate(rows):
        marks += _row(row, top - number * ROW_MM)
    foot = top - len(rows) * ROW_MM
    marks += _grid(top, len(rows))
    y = foot - PAD_MM
    for part in wrap_text(log.after, WIDE_MM, NOTE_HEIGHT):
        y -= LEADING_MM
        marks.append(Text((0.0, y), part, NOTE_HEIGHT, name="after"))
    bottom = y - 2 * PAD_MM
    corners = np.array(((-PAD_MM, PAD_MM), (WIDE_MM + PAD_MM, PAD_MM),
                        (WIDE_MM + PAD_MM, bottom), (-PAD_MM, bottom)))
    return (Path(corners, FOLD, closed=True, name="log-frame"), *marks)


def _rows(log: FitLog) -> Iterator[tuple[str, ...]]:
    """The cells of each row; a line break stands between two lines of one cell."""
    readings = log.readings
    none = ("",) * len(AFTER_MM)
    yield ("clock", *(f"{_clock(one.clock)}\n{one.side}" for one in readings),
           *(name for name, _ in AFTER_MM))
    if any(_clock(one.clock) != _clock(one.typed) for one in readings):
        yield ("type as", *(_clock(one.typed) for one in readings), *none)
    yield ("expected", *(_told(one.expected) for one in readings), "", log.angle, "")
    for name in ROUNDS:
        yield (name, *("open" if np.isnan(one.expected) else "" for one in readings), *none)


def _told(gap: float) -> str:
    return "open" if np.isnan(gap) else f"{gap:.2f}"


def _edges() -> Floats:
    wide = [NAME_MM, *(CELL_MM,) * READINGS, *(wide for _, wide in AFTER_MM)]
    return np.concatenate(([0.0], np.cumsum(wide)))


def _row(cells: tuple[str, ...], top: float) -> Iterator[Mark]:
    edges = _edges()
    for index, cell in enumerate(cells):
        lines = [shortened(line, edges[index + 1] - edges[index] - 2 * PAD_MM / 2, NOTE_HEIGHT)
                 for line in cell.split("\n") if line]
        middle = float(edges[index] + edges[index + 1]) / 2
        y = top - ROW_MM / 2 + (len(lines) - 1) * LEADING_MM / 2 - NOTE_HEIGHT / 2
        for line in lines:
            yield Text((middle, y), line, NOTE_HEIGHT, "middle")
            y -= LEADING_MM


def _grid(top: float, count: int) -> Iterator[Mark]:
    foot = top - count * ROW_MM
    for number in range(count + 1):
        y = top - number * ROW_MM
        yield Path(np.array(((0.0, y), (WIDE_MM, y))), THIN if number in (0, count) else FINE)
    for x in _edges():
        yield Path(np.array(((x, top), (x, foot))), FINE)
