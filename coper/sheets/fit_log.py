"""A log of the dry fits of one end: what is expected, and what to type afterwards."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.bench.setup import EndSetup
from coper.frame.end import TubeEnd
from coper.frame.made import seated_end
from coper.frame.piece import Piece
from coper.frame.tube import Tube
from coper.joint.fit.fit import Fit
from coper.joint.joint import Joint
from coper.joint.regrind.cut_end import SAWN
from coper.joint.regrind.readings import LEAST_READINGS
from coper.joint.saw.setting import SawSetting
from coper.joint.sides import clock_words, side_names
from coper.shapes.words import tube_words, typed_words
from coper.sheets.strip_lettering import CLOCK_STEP_DEG
from coper.telling.cells import short_cell
from coper.telling.words.end import seat_words
from coper.telling.words.joint import title
from coper.telling.words.typed import typed_end, typed_file, typed_tube
from coper.units import format_angle, in_first_unit, in_inches, plain

READINGS = 8
"""Clocks that are read: every eighth of the way round."""
TYPED_PLACES = 3
"""Decimals of what is typed: a thousandth of a degree or of a mm is below any reading."""

TYPE = "Then type: "
FINISHED = "Finished, length over all: "
IF_SAWN = "Sawn by its card: type "
"""What comes before what is typed of each cut."""

BY_TEMPLATE, BY_SAW = "template", "saw"
"""What the end was cut by: over the column of what is then to be expected."""

BY_HAND = "take metal off where the gap is least above the expected one."
"""What to do where the command cannot help."""


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """One clock that is read.

    Attributes
    ----------
    clock : float, degrees
        As on the tube and its template.
    side : str
        The name of the side, where it has one.
    expected : float, mm
        ``nan`` where the end meets nothing.
    sawn : float, mm
        What is expected where the end was sawn as its card says.
    """

    clock: float
    side: str
    expected: float
    sawn: float = float("nan")


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
    by : str
        What the end was cut by for ``expected``.
    sawn : str
        What to type too where the end was sawn and not cut by its template; empty where it
        has one cut only.
    length : str
        That of the tube over all, where it is known.
    made : str
        What to type of the finished tube.
    """

    title: str
    about: str
    readings: tuple[Reading, ...]
    angles: tuple[tuple[str, str], ...]
    after: str
    by: str = BY_TEMPLATE
    sawn: str = ""
    length: str = ""
    made: str = ""


def joint_log(joint: Joint, fit: Fit, passes: Sequence[SawSetting] = ()) -> FitLog:
    """The log of a single joint, cut so that ``fit`` is to be expected, by ``passes`` of a saw."""
    readings = _readings(joint, fit, joint.counted)
    return FitLog("Fit-up log", title(joint), readings, (("angle", format_angle(joint.angle)),),
                  _then_type(joint, readings, _saw_words(joint, passes)),
                  BY_SAW if passes else BY_TEMPLATE)


def _saw_words(joint: Joint, passes: Sequence[SawSetting]) -> str:
    """The cut of ``passes`` as the command reads it; of one along the main its size is enough."""
    if not passes:
        return "bevelled"
    saw = f"saw={_typed_length(passes[0].diameter)}"
    if len(passes) == 1 and passes[0].offset == joint.offset:
        return saw
    return "@".join((saw, *(f"{_typed_length(one.offset)},"
                            f"{_typed_length(one.centre_beyond_long_point)}" for one in passes)))


def end_log(
    piece: Piece, setup: EndSetup, file: str = "", named: Tube | None = None, blank: str = "",
) -> FitLog:
    """The log of one end of a placed tube, cut by its template or sawn as its card says.

    ``file`` is the job's, as it is typed; empty where it is not known. ``named`` is the tube as
    the job calls it, where ``piece`` is called otherwise: it stands for several that are the same.
    ``blank`` is what it is on the cut list.
    """
    end, tube = setup.end, named or piece.tube
    first = min(setup.cuts, key=lambda cut: cut.main)  # its heel line is on the template
    readings = _readings(first.joint, setup.own, setup.clock, setup.sawn)
    several = len(end.stances) > 1
    angles = () if end.flat else tuple(
        (f"to {main.label}" if several else "angle", format_angle(stance.angle))
        for main, stance in zip(end.mains, end.stances, strict=True))
    how = seat_words(end) if end.flat else f"{seat_words(end)}, {end.cut} cut"
    after, sawn = _commands(setup, f"{typed_file(file)} {typed_end(tube, end)}", readings)
    return FitLog(f"Fit-up log: {piece.label}, {end.which}",
                  ": ".join(filter(None, (blank, f"{tube_words(piece.tube.shape)} {how}"))),
                  readings, angles, after, BY_TEMPLATE, sawn, short_cell(piece.shaped),
                  _made_command(piece, end, f"{typed_file(file)} {typed_tube(tube)}"))


def _made_command(piece: Piece, end: TubeEnd, name: str) -> str:
    """What to type of the finished tube: what this log has cells for."""
    angle = "angle" if end.which == seated_end(piece) else f"angle-{end.which}"
    measured = "length=__" if end.flat is not None else f"length=__ {angle}=__"
    return f"{FINISHED}coper made {name} {measured}"


def _commands(setup: EndSetup, name: str, readings: tuple[Reading, ...]) -> tuple[str, str]:
    """What to type of an end cut by its template, and of one sawn as its card sets the saw."""
    if setup.end.flat is not None:
        return f"The end is one plane: saw it again, or {BY_HAND}", ""
    if too_few := _too_few(readings):
        return too_few, ""
    after = f"{TYPE}coper regrind {name} {_gaps_typed(readings)}"
    return after, "" if setup.sawn is None else f"{IF_SAWN}--cut {SAWN} too."


def _then_type(joint: Joint, readings: Sequence[Reading], cut: str = "bevelled") -> str:
    """The command to type, or what to do where there are too few places to read."""
    return _too_few(readings) or f"{TYPE}{regrind_command(joint, readings, cut)}"


def _too_few(readings: Sequence[Reading]) -> str:
    """What to do where there are too few places to read; empty where there are enough."""
    if sum(not np.isnan(one.expected) for one in readings) >= LEAST_READINGS:
        return ""
    return (f"coper regrind needs {LEAST_READINGS} readings, but the tube overhangs its main: "
            f"{BY_HAND}")


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
    return " ".join((*words, _gaps_typed(readings)))


def _gaps_typed(readings: Sequence[Reading]) -> str:
    """The readings as they are typed, with a blank for each."""
    gaps = ", ".join(f"{clock_words(one.clock)}=__" for one in readings
                     if not np.isnan(one.expected))
    return f'--gaps "{gaps}"'


def _typed(value: float) -> str:
    return plain(round(value, TYPED_PLACES))


def _typed_length(mm: float) -> str:
    """A length in the order's unit, of an inch a decimal more: it is as fine."""
    return plain(in_first_unit(mm)) if in_inches() else _typed(mm)


def _readings(
    joint: Joint, fit: Fit, count: Callable[[float], float], sawn: Fit | None = None
) -> tuple[Reading, ...]:
    """The template's heel line, and ticks of its ruler near each eighth of the way on from there.

    ``count`` makes clocks those of the tube.
    """
    clocks = _read_clocks(count(joint.heel_clock))
    own = np.array([count(clock) for clock in clocks.tolist()])
    names = {clock_words(clock): name for clock, name in side_names(joint).items()}
    gaps = fit.at(own)[0]
    after_saw = np.full(gaps.shape, np.nan) if sawn is None else sawn.at(own)[0]
    return tuple(
        Reading(clock, names.get(clock_words(there), ""), expected, saw)
        for clock, there, expected, saw in zip(
            clocks.tolist(), own.tolist(), gaps.tolist(), after_saw.tolist(), strict=True))


def _read_clocks(heel: float) -> Floats:
    """Clocks (READINGS,), degrees, that a person finds printed on the template of this ``heel``."""
    clocks = heel + np.arange(READINGS) * 360 / READINGS
    clocks[1:] = np.round(clocks[1:] / CLOCK_STEP_DEG) * CLOCK_STEP_DEG
    read: Floats = clocks % 360
    return read
