"""A log of the dry fits of one end: cells to write readings into, and what to type afterwards.

::

    +-----------------------------------------------+
    | title, tube and main                          |
    | clock      | expect   | 1st | 2nd | 3rd       |
    | 0 heel     |     0.00 |     |     |           |   from the end of a tube a column more:
    | 45         |     0.02 |     |     |           |   what the command calls each clock
    | …          |          |     |     |           |
    | angle      |      62° |     |     |           |
    | length     |          |     |     |           |
    | coper regrind … --gaps "0=__, 45=__, …"       |   of a placed tube's end a line more: the
    | Sawn by its card …: type --cut saw=… too      |
    +-----------------------------------------------+
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coper.bench.setup import EndSetup, SawCut
from coper.drawing.letters import shortened_name, wrapped
from coper.drawing.marks import FOLD, NOTE_HEIGHT, Mark, Text
from coper.frame.end import TubeEnd
from coper.frame.piece import Piece
from coper.joint.edge import STEPS, even_clocks
from coper.joint.fit.fit import Fit
from coper.joint.joint import Joint
from coper.joint.regrind.readings import LEAST_READINGS
from coper.joint.saw.setting import SawSetting
from coper.joint.sides import clock_words, side_names
from coper.pages.boxes import box_path
from coper.pages.compose import Block
from coper.pages.form import PAD_MM, ROW_MM, form_marks
from coper.pages.text import COLUMN_MM, TextColumn
from coper.shapes.flipped import Flipped
from coper.shapes.shifted import Shifted
from coper.shapes.words import tube_words, typed_words
from coper.telling.cells import short_cell
from coper.telling.words.joint import title
from coper.telling.words.piece import flat_words
from coper.units import format_angle, in_first_unit, in_inches, plain

READINGS = 8
"""Clocks that are read: every eighth of the way round."""
ROUNDS = ("1st fit", "2nd fit", "3rd fit")
TYPED_PLACES = 3
"""Decimals of what is typed: a thousandth of a degree or of a mm is below any reading."""

FRAME_MM = 2.0
"""Between the log's frame and what is in it."""
WIDE_MM = COLUMN_MM - 2 * FRAME_MM
"""Its frame is as wide as a column of notes: two stand side by side on the narrowest page."""
TYPED_MM, EXPECTED_MM, ROUND_MM = 9.5, 16.0, 12.6
"""Widths of the columns; the clock's has what is left."""
HEAD_MM = 3.0
"""Height of the title: most names of tubes fit one line."""
ABOUT_LINES = 2
"""The tube and its mains take no more lines than this."""

TYPE = "Then type: "
IF_SAWN = "Sawn by its card, not by the template: expect the card's gap, and type "
"""What comes before what is typed of each cut."""

BY_HAND = "take metal off where the gap is least above the expected one."
"""What to do where the command cannot help."""


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """One clock that is read.

    Attributes
    ----------
    clock : float, degrees
        As on the tube and its template.
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
    angles : tuple of (label, angle)
        The intended angle to each main.
    after : str
        What to type with the readings, or why there is nothing.
    sawn : str
        What to type instead where the end was sawn and not cut by its template; empty where it
        has one cut only.
    """

    title: str
    about: str
    readings: tuple[Reading, ...]
    angles: tuple[tuple[str, str], ...]
    after: str
    sawn: str = ""


def joint_log(joint: Joint, fit: Fit, passes: Sequence[SawSetting] = ()) -> FitLog:
    """The log of a single joint, cut so that ``fit`` is to be expected, by ``passes`` of a saw."""
    readings = _readings(joint, fit, turned=1)
    return FitLog("Fit-up log", title(joint), readings, (("angle", format_angle(joint.angle)),),
                  _then_type(joint, readings, _saw_words(joint, passes)))


def _saw_words(joint: Joint, passes: Sequence[SawSetting]) -> str:
    """The cut of ``passes`` as the command reads it; of one along the main its size is enough."""
    if not passes:
        return "bevelled"
    saw = f"saw={_typed_length(passes[0].diameter)}"
    if len(passes) == 1 and passes[0].offset == joint.offset:
        return saw
    return "@".join((saw, *(f"{_typed_length(one.offset)},"
                            f"{_typed_length(one.centre_beyond_long_point)}" for one in passes)))


def log_blocks(piece: Piece, setups: Sequence[EndSetup]) -> list[Block]:
    """A log for every shaped end of ``piece``, from its ``setups`` (``piece_setups``)."""
    return [log_block(end_log(piece, setup)) for setup in setups]


def end_log(piece: Piece, setup: EndSetup) -> FitLog:
    """The log of one end of a placed tube, cut by its template."""
    end, first = setup.end, setup.cuts[0]
    readings = _readings(first.joint, setup.own, turned=1 if end.which == "start" else -1)
    on = ", ".join(main.label for main in end.mains)
    several = len(end.stances) > 1
    angles = () if end.flat else tuple(
        (f"to {main.label}" if several else "angle", format_angle(stance.angle))
        for main, stance in zip(end.mains, end.stances, strict=True))
    how = f"on {on}, {end.cut} cut" if end.flat is None else flat_words(end.flat)
    return FitLog(f"Fit-up log: {piece.label}, {end.which}",
                  f"{tube_words(piece.tube.shape)} {how}", readings, angles,
                  *_commands(setup, readings))


def _commands(setup: EndSetup, readings: tuple[Reading, ...]) -> tuple[str, str]:
    """What to type of an end cut by its template, and of one sawn as its card sets the saw."""
    after, first = _after(setup, readings), setup.cuts[0]
    if not (first.passes and after.startswith(TYPE)):
        return after, ""
    saw = _saw_words(first.joint, [one.setting for one in first.passes])
    instead = " instead of --cut square" if setup.end.cut == "square" else " too"
    return after, f"{IF_SAWN}--cut {saw}{instead}."


def _after(setup: EndSetup, readings: tuple[Reading, ...]) -> str:
    joint, end = setup.cuts[0].joint, setup.end
    if end.flat is not None:
        return f"The end is one plane: saw it again, or {BY_HAND}"
    if len(end.mains) > 1:
        return f"coper regrind works with one main only: with several, {BY_HAND}"
    if isinstance(joint.branch, Flipped | Shifted):
        return f"coper regrind cannot describe this tube from this end: {BY_HAND}"
    if not _describes(setup.cuts[0], end):
        return f"coper regrind takes the bend for a whole ring, and here it ends: {BY_HAND}"
    return _then_type(joint, readings, end.cut)


def _describes(cut: SawCut, end: TubeEnd) -> bool:
    """Whether the joint that is typed has the cope of the end: a bend in a job may end there."""
    assert end.cope is not None
    clock, depths = even_clocks(STEPS), np.array(((0.0,), (end.cope.cluster.wall(),)))
    typed = cut.joint.cluster().entry(clock, depths) - cut.shift
    return np.allclose(typed, end.cope.cluster.entry(clock, depths), rtol=0,
                       atol=10.0**-TYPED_PLACES, equal_nan=True)


def _then_type(joint: Joint, readings: Sequence[Reading], cut: str = "bevelled") -> str:
    """The command to type, or what to do where there are too few places to read."""
    if sum(not np.isnan(one.expected) for one in readings) < LEAST_READINGS:
        return (f"coper regrind needs {LEAST_READINGS} readings, but the tube overhangs its main: "
                f"{BY_HAND}")
    return f"{TYPE}{regrind_command(joint, readings, cut)}"


def regrind_command(
    joint: Joint, readings: Sequence[Reading], cut: str = "bevelled"
) -> str:
    """The command that evaluates the log, with a blank for each reading."""
    words = [f'coper regrind "{typed_words(joint.branch)}" "{typed_words(joint.main)}"',
             *(("--units in",) if in_inches() else ()), f"--angle {_typed(joint.angle)}"]
    for name, typed in (("offset", _typed_length), ("turn", _typed), ("main_turn", _typed),
                        ("main_at", _typed_length)):
        value = typed(getattr(joint, name))
        if value != "0":
            words.append(f"--{name.replace('_', '-')} {value}")
    if cut != "bevelled":
        words.append(f"--cut {cut}")
    gaps = ", ".join(f"{clock_words(one.typed)}=__" for one in readings
                     if not np.isnan(one.expected))
    return " ".join((*words, f'--gaps "{gaps}"'))


def _typed(value: float) -> str:
    return plain(round(value, TYPED_PLACES))


def _typed_length(mm: float) -> str:
    """A length in the order's unit, of an inch a decimal more: it is as fine."""
    return plain(in_first_unit(mm)) if in_inches() else _typed(mm)


def _readings(joint: Joint, fit: Fit, turned: int) -> tuple[Reading, ...]:
    """Eighths of the way round from the heel on, in the tube's own clock.

    That one runs the other way (``turned`` -1) from the end of a tube.
    """
    clocks = (joint.heel_clock + turned * np.arange(READINGS) * 360 / READINGS) % 360
    names = {clock_words(clock): name for clock, name in side_names(joint).items()}
    return tuple(
        Reading(turned * clock % 360, clock, names.get(clock_words(clock), ""), expected)
        for clock, expected in zip(clocks.tolist(), fit.at(clocks)[0].tolist(), strict=True))


def log_block(log: FitLog) -> Block:
    """The log as a block of a page."""
    return Block(f"log {log.title}", log_marks(log), keep_upright=True)


def log_marks(log: FitLog) -> tuple[Mark, ...]:
    """The log, its upper left corner at the origin, mm."""
    inside = TextColumn(WIDE_MM)
    name = shortened_name(log.title, WIDE_MM, HEAD_MM)
    inside.put([Text((0.0, 0.0), name, HEAD_MM, bold=True)], HEAD_MM)
    inside.lines(wrapped(log.about, WIDE_MM, NOTE_HEIGHT, ABOUT_LINES))
    inside.line(f"Gaps in {'inches' if in_inches() else 'mm'}.", name="unit")
    rows, widths = _form(log)
    inside.put([form_marks(rows, widths)], FRAME_MM)
    inside.skip(len(rows) * ROW_MM + PAD_MM)
    inside.line(log.after, name="after")
    if log.sawn:
        inside.line(log.sawn, name="sawn")
    frame = box_path(-FRAME_MM, -inside.depth - FRAME_MM, COLUMN_MM, inside.depth + 2 * FRAME_MM,
                     FOLD, name="log-frame")
    return (frame, *inside.marks)


def _form(log: FitLog) -> tuple[list[tuple[str, ...]], list[float]]:
    """The cells of each row, and the columns' widths."""
    typed = any(clock_words(one.clock) != clock_words(one.typed) for one in log.readings)
    rows = [("clock", "type", "expect", *ROUNDS), *map(_reading_row, log.readings),
            *((label, "", angle) for label, angle in log.angles), ("length",), ("by, date",)]
    others = [TYPED_MM, EXPECTED_MM, *(ROUND_MM,) * len(ROUNDS)]
    if not typed:
        rows, others = [(*row[:1], *row[2:]) for row in rows], others[1:]
    return rows, [WIDE_MM - sum(others), *others]


def _reading_row(one: Reading) -> tuple[str, ...]:
    expected = "open" if np.isnan(one.expected) else short_cell(one.expected)
    rounds = ("open" if np.isnan(one.expected) else "",) * len(ROUNDS)
    clock = f"{clock_words(one.clock)} {one.side}".rstrip()
    return clock, clock_words(one.typed), expected, *rounds
