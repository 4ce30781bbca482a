"""``coper tracking``: whether the rear end is straight, from straight edge and string.

Lay a straight edge along the side of the head tube and the seat tube, measure from it to the
dropout, and do the same on the other side. The answer says how far the rear end is off the
middle plane and what both readings should have been. If the two readings are half an inch
apart, the rear end is a quarter of an inch out. A string runs from dropout to dropout round the
head tube, over the outer faces; measure its gaps beside the middle of the seat tube, with the
rule square to the frame. The width between the dropouts says which way each side has to go, the
stays' lengths say how the axle is skewed and where the rim then runs.

A job file gives the rear axle, rear_hub and wheel of [bicycle], and the tubes head-tube and
seat-tube, or those that you name; the edge lies on the middle of the head tube. With --spacer
the edge lies on two equal blocks outside the dropouts, and you read to their outer faces.

A reading is taken as good to 0.25 mm. If edge and string disagree by more than that allows, or
their readings do not add up to the measured width, the answer says so, and which side to read
again; such readings never pass. The measures are checked against 0.5 mm (dropout faces;
Barnett's Manual, 5th ed., ch. 8) as guidance. Then comes the usual advice: how far each dropout
has to go, which side of its stays to heat to pull it there, and the order of beads (common
practice, no source).

With rear_track in [bicycle] there are two rear wheels and no hub between dropouts: the file is
refused, and the answer says what to measure instead.

--pdf or --svg writes a log page to take to the frame, with or without readings.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from coper.bicycle.tracking.doubts import good
from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge
from coper.bicycle.tracking.tracking import (
    DROPOUT_LIMIT,
    Tracking,
    TrackingReadings,
    own_limit,
    track,
)
from coper.bicycle.wheel import parse_wheel
from coper.drawing.page import Page
from coper.errors import CoperError, WordsError
from coper.job.job import Job
from coper.job.papers import TRUE_PRINTER, a_paper
from coper.job.read import read_job
from coper.job.tracking import FrameMeasures, job_measures, missing
from coper.joint.cautions import SAFETY
from coper.joint.fit.limits import Limit
from coper.joint.steps import Progress
from coper.telling.lines import Caution, Line
from coper.telling.records.head import json_head
from coper.telling.records.tracking import tracking_record
from coper.telling.words.tracking import TRACKING_CAUTIONS, tracking_lines
from coper.verbs.answer import Answer, in_unit, placed
from coper.verbs.options import (
    PAPER_NAMES,
    add_output,
    add_printer,
    add_units,
    file_name,
    length,
    paper_name,
    read_in,
    size,
)

if TYPE_CHECKING:
    from coper.sheets.tracking_log import Typed

HELP = "Check with straight edge and string whether the rear end is in the middle."
EXAMPLES = """\
lengths run along the straight edge, from middle to middle; the readings are left,right:
  coper tracking --head-diameter 31.8 --seat-diameter 28.6 --head-to-seat 570 \\
      --seat-to-dropout 410 --hub 130 --straight-edge 54.2,47.9

what the job file has need not be given; an option overrides it:
  coper tracking demo/wagtail.toml --head-diameter 36 \\
      --straight-edge 2-3/16in,2-1/16in --width 131.5

the log to fill in at the frame, before anything is read:
  coper tracking demo/wagtail.toml --head-diameter 36 --pdf tracking.pdf
"""

SIZES = {
    "head_diameter": ("--head-diameter", "31.8", "of the head tube, across, where the edge lies"),
    "seat_diameter": ("--seat-diameter", "28.6", "of the seat tube, in the same way"),
    "head_to_seat": ("--head-to-seat", "570", "along the edge, from middle to middle"),
    "seat_to_dropout": ("--seat-to-dropout", "410", "along the edge, to the axle"),
    "hub": ("--hub", "130", "width of the hub over its lock nuts"),
    "thickness": ("--dropout-thickness", "5", "of a dropout's plate; for string or blocks"),
    "rim_radius": ("--rim-radius", "311", "of the rim, or give --wheel; for stays"),
}
"""The measures of the frame: option, example, what it is."""

OPTION_OF = {"dropout thickness": "--dropout-thickness", "wheel": "--wheel", "spacer": "--spacer",
             "width": "--width", "stays": "--stays", "edge thickness": "--edge",
             "straight edge": "--straight-edge", "string": "--string"}
"""The option that a fault of the measures is about."""

CAUTIONS = (*TRACKING_CAUTIONS, *SAFETY)


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", nargs="?", help="a job file with measures of the frame")
    for name, (option, _, what) in SIZES.items():
        add(option, metavar="MM", dest=name, type=size, help=what)
    add("--wheel", metavar="SIZE", type=_rim_radius,
        help="tyre size, such as 47-507, instead of --rim-radius")
    add("--head-tube", metavar="NAME", help="the job's head tube (head-tube)")
    add("--seat-tube", metavar="NAME", help="the job's seat tube (seat-tube)")
    add("--spacer", metavar="MM", type=length, default=0.0,
        help="blocks between both tubes and the edge (0)")
    add("--edge", metavar="MM", type=length, default=0.0,
        help="thickness of the edge, where it is read from its far side (0)")
    add("--straight-edge", metavar="L,R", type=_pair_of(length),
        help="readings from the edge to the dropouts")
    add("--string", metavar="L,R", type=_pair_of(length),
        help="gaps between string and seat tube")
    add("--width", metavar="MM", type=size, help="measured between the dropouts")
    add("--stays", metavar="L,R", type=_pair_of(size), help="lengths of the stays")
    add("--limit", metavar="MM", type=_limit,
        help="the limit to check against: exit status 1 if it is exceeded")
    add("--paper", metavar="SIZE", type=paper_name,
        help=f"of the log: {PAPER_NAMES} (the job's, else a4)")
    add_printer(parser)
    add("--svg", metavar="FILE", type=file_name, help="write the log as SVG, one file per page")
    add("--pdf", metavar="FILE", type=file_name, help="write the log as PDF")
    add_units(parser)
    add_output(parser)


def _rim_radius(text: str) -> float:
    """The radius of the rim in a tyre's size, mm."""
    wheel = parse_wheel(text)
    return wheel.radius - wheel.tyre


def _limit(text: str) -> Limit:
    return own_limit(length(text))


def _pair_of(read: Callable[[str], float]) -> Callable[[str], LeftRight]:
    """A reader of ``LEFT,RIGHT``: a length each, mm, read by ``read``."""

    def pair(text: str) -> LeftRight:
        parts = text.split(",")
        if len(parts) != 2:
            raise WordsError(f"{text!r} is not a pair",
                             "write left,right with decimal points, such as 54.2,47.9")
        left, right = map(read, parts)
        return LeftRight(left, right)

    return pair


def ask(arguments: Namespace) -> Answer[Tracking]:
    """The answer to what the options ask."""
    job = _read_job(arguments)
    unit = arguments.units or (job.units if job else "mm")
    given = read_in(arguments, unit)

    def work() -> Answer[Tracking]:
        readings = TrackingReadings(given.straight_edge, given.string, given.width, given.stays)
        known = {} if job is None else _job_measures(given, job)
        rear = _read_rear(given, known)
        _check_asked(readings, drawn=bool(given.svg or given.pdf))
        return tracking(rear, readings, StraightEdge(given.spacer, given.edge), given.limit,
                        _paper(given.paper, job), _typed(given, job, known),
                        _printer(given.printer, job))

    return placed(lambda: in_unit(unit, work), _at_option)


def _paper(asked: str | None, job: Job | None) -> str:
    """The paper of the log: asked for, else the job's."""
    return a_paper(asked) if job is None else job.shop.paper_for(asked)


def _printer(asked: tuple[float, float] | None, job: Job | None) -> tuple[float, float]:
    """What the check bars measured: as given, else as the job says."""
    return asked or (TRUE_PRINTER if job is None else job.shop.printer)


def _at_option(error: CoperError) -> CoperError:
    """A fault of the measures at its option."""
    if error.where not in OPTION_OF:
        return error
    return CoperError(error.fault, error.cure, OPTION_OF[error.where])


def _read_job(arguments: Namespace) -> Job | None:
    if arguments.file is not None:
        return read_job(arguments.file)
    for option in ("--head-tube", "--seat-tube"):
        if getattr(arguments, option[2:].replace("-", "_")) is not None:
            raise WordsError("names a tube of a job, but no job file is given",
                             "give the file, or take it out", option)
    return None


def _typed(arguments: Namespace, job: Job | None, known: FrameMeasures) -> Typed:
    """How the command begins that the log says to type."""
    from coper.sheets.tracking_log import BY_OPTIONS, Typed
    from coper.telling.words.typed import typed_file, typed_word

    if job is None:
        return BY_OPTIONS
    names = "".join(f" {option} {typed_word(name)}" for option, name in (
        ("--head-tube", arguments.head_tube), ("--seat-tube", arguments.seat_tube)) if name)
    return Typed(f"coper tracking {typed_file(job.file)}{names}", known)


def _read_rear(arguments: Namespace, of_job: FrameMeasures) -> RearEnd:
    """The measures of the frame: those of the options, and for the rest those of the job."""
    known = of_job | {
        name: value for name in SIZES if (value := getattr(arguments, name)) is not None}
    if arguments.wheel is not None:
        if arguments.rim_radius is not None:
            raise WordsError("cannot go with --rim-radius", "keep one of the two", "--wheel")
        known["rim_radius"] = arguments.wheel
    if wanting := [SIZES[name] for name in missing(known)]:
        examples = " ".join(f"{option} {example}" for option, example, _ in wanting)
        raise WordsError("missing", f"add what was measured, such as {examples}",
                         ", ".join(option for option, _, _ in wanting))
    return RearEnd(**known)


def _job_measures(arguments: Namespace, job: Job) -> FrameMeasures:
    try:
        return job_measures(job, arguments.head_tube, arguments.seat_tube)
    except CoperError as error:
        raise error.at(arguments.file) from error


def _check_asked(readings: TrackingReadings, drawn: bool) -> None:
    """Refuse a command that asks for nothing."""
    if not drawn and readings == TrackingReadings():
        raise WordsError("nothing was read",
                         "give --straight-edge, --string, --width or --stays; or --pdf for the log "
                         "to fill in")


def tracking(
    rear: RearEnd, readings: TrackingReadings | None = None, edge: StraightEdge | None = None,
    limit: Limit | None = None, paper: str = "a4", typed: Typed | None = None,
    printer: tuple[float, float] = TRUE_PRINTER,
) -> Answer[Tracking]:
    """What readings say of a rear end; its pages are the log to fill in.

    Parameters
    ----------
    rear
        The measures of the frame.
    readings
        What was read at it, if anything was.
    edge
        What is laid on the tubes: a bare edge unless given, read from the side on the tubes.
    limit
        What the answer is checked against; ``DROPOUT_LIMIT`` unless given.
    paper
        That of the log.
    typed
        How the command begins that the log says to type; with options for all unless given.
    printer : (across, along), mm
        What the check bars of an earlier print measured.

    Raises
    ------
    CoperError
        Where a reading cannot be right, or something it needs is not known.
    """
    found = track(rear, edge or StraightEdge(), readings or TrackingReadings(),
                  limit or DROPOUT_LIMIT)

    def record() -> dict[str, Any]:
        return {**json_head(), "tracking": tracking_record(found), "cautions": list(CAUTIONS)}

    def lines() -> Iterator[Line]:
        yield from tracking_lines(found)
        yield from map(Caution, CAUTIONS)

    def pages(progress: Progress) -> tuple[Page, ...]:
        from coper.pages.compose import Block, compose
        from coper.pages.text import caution_column
        from coper.sheets.tracking_log import BY_OPTIONS, tracking_log_blocks

        blocks = [*tracking_log_blocks(found, typed or BY_OPTIONS),
                  Block("cautions", caution_column(CAUTIONS))]
        return compose(blocks, paper, printer, title="tracking log")

    return Answer("tracking log", found, record, lines, pages, ok=limit is None or good(found))
