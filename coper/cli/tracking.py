"""``coper tracking``: whether the rear end stands straight."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from coper.cli.options import FALLS_SHORT, Parsed, read, read_choice, read_output, read_size
from coper.cli.telling import tell, write_files
from coper.errors import CoperError, WordsError
from coper.job.papers import PAPERS
from coper.units import parse_length

if TYPE_CHECKING:
    from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
    from coper.bicycle.tracking.tracking import TrackingReadings
    from coper.job.job import Job
    from coper.joint.fit.limits import Limit
    from coper.work.tracking import TrackingOrder

HELP = "Tell from straight edge and string whether the rear end stands in the middle."
EXAMPLES = """\
lengths run along the straight edge, from middle to middle; the readings are left,right:
  coper tracking --head-diameter 31.8 --seat-diameter 28.6 --head-to-seat 570 \\
      --seat-to-dropout 410 --hub 130 --straight-edge 54.2,47.9

what a job file tells need not be given; an option goes before it:
  coper tracking demo/wagtail.toml --head-diameter 36 \\
      --straight-edge 2-3/16in,2-1/16in --width 131.5

the log to fill in at the frame, before anything is read:
  coper tracking demo/wagtail.toml --head-diameter 36 --pdf tracking.pdf
"""

SIZES = {
    "head_diameter": ("--head-diameter", "31.8", "of the head tube, across, where the edge lies"),
    "seat_diameter": ("--seat-diameter", "28.6", "of the seat tube, likewise"),
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


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb, all read as text so that each fault can name its option."""
    add = parser.add_argument
    add("file", metavar="FILE", nargs="?", help="a job file that tells measures of the frame")
    for option, _, told in SIZES.values():
        add(option, metavar="MM", help=told)
    add("--wheel", metavar="SIZE", help="tyre size, such as 47-507, instead of --rim-radius")
    add("--head-tube", metavar="NAME", help="the job's head tube (head-tube)")
    add("--seat-tube", metavar="NAME", help="the job's seat tube (seat-tube)")
    add("--spacer", metavar="MM", default="0", help="blocks between both tubes and the edge (0)")
    add("--edge", metavar="MM", default="0",
        help="thickness of the edge, where it is read from its far side (0)")
    add("--straight-edge", metavar="L,R", help="readings from the edge to the dropouts")
    add("--string", metavar="L,R", help="gaps between string and seat tube")
    add("--width", metavar="MM", help="measured between the dropouts")
    add("--stays", metavar="L,R", help="lengths of the stays")
    add("--limit", metavar="MM", help="check against this: ends with 1 where it falls short")
    add("--paper", metavar="SIZE",
        help="of the log: " + ", ".join(PAPERS) + " (the job's, else a4)")
    add("--svg", metavar="FILE", help="write the log as SVG, a file a page")
    add("--pdf", metavar="FILE", help="write the log as PDF")
    add("--force", action="store_true", help="replace files that exist")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Say what the readings mean, write the log; 1 where they do not show a given limit held."""
    from coper.cli.tracking_summary import tracking_summary
    from coper.work.tracking import tracking_files, tracking_json, work_tracking

    svg, pdf = (read_output(arguments, name) for name in ("svg", "pdf"))
    try:
        order = read_order(arguments)
        _check_asked(order, svg or pdf)
        work = work_tracking(order)
    except CoperError as error:
        if error.where not in OPTION_OF:
            raise
        raise CoperError(error.fault, error.cure, OPTION_OF[error.where]) from error
    files = tracking_files(work, svg, pdf)
    written = write_files(arguments, files)
    tell(arguments, out, lambda: tracking_json(work), lambda: tracking_summary(work, written))
    return FALLS_SHORT if work.falls_short else 0


def read_order(arguments: Namespace) -> TrackingOrder:
    """Everything that was asked for."""
    from coper.bicycle.tracking.straight_edge import StraightEdge
    from coper.work.tracking import TrackingOrder

    job = _job(arguments)
    edge = StraightEdge(read("--spacer", arguments.spacer, parse_length),
                        read("--edge", arguments.edge, parse_length))
    paper = arguments.paper or (job and job.shop.paper) or "a4"
    return TrackingOrder(
        read_rear(arguments, job),
        edge,
        read_readings(arguments),
        _given(arguments, "--limit", read_limit),
        read("--paper", paper, read_choice(PAPERS)),
    )


def _job(arguments: Namespace) -> Job | None:
    from coper.job.read import read_job

    if arguments.file is not None:
        return read_job(arguments.file)
    for option in ("--head-tube", "--seat-tube"):
        if _value(arguments, option) is not None:
            raise WordsError("names a tube of a job, and no job file is given",
                             "give the file, or take it out", option)
    return None


def read_rear(arguments: Namespace, job: Job | None) -> RearEnd:
    """The measures of the frame: those of the options, and for the rest those of the job."""
    from coper.bicycle.tracking.rear_end import RearEnd
    from coper.job.tracking import missing

    told = _told_by_job(arguments, job)
    for name, (option, _, _) in SIZES.items():
        if (text := _value(arguments, option)) is not None:
            told[name] = read(option, text, read_size)
    if arguments.wheel is not None:
        told["rim_radius"] = _rim_radius(arguments)
    if wanting := [SIZES[name] for name in missing(told)]:
        examples = " ".join(f"{option} {example}" for option, example, _ in wanting)
        raise WordsError("missing", f"add what was measured, such as {examples}",
                         ", ".join(option for option, _, _ in wanting))
    return RearEnd(**told)


def _told_by_job(arguments: Namespace, job: Job | None) -> dict[str, float]:
    from coper.job.tracking import job_measures

    if job is None:
        return {}
    try:
        return job_measures(job, arguments.head_tube, arguments.seat_tube)
    except CoperError as error:
        raise error.at(arguments.file) from error


def _rim_radius(arguments: Namespace) -> float:
    from coper.bicycle.wheel import parse_wheel

    if arguments.rim_radius is not None:
        raise WordsError("stands beside --rim-radius", "keep one of the two", "--wheel")
    wheel = read("--wheel", arguments.wheel, parse_wheel)
    return wheel.radius - wheel.tyre


def read_readings(arguments: Namespace) -> TrackingReadings:
    """What was read at the frame."""
    from coper.bicycle.tracking.tracking import TrackingReadings

    return TrackingReadings(
        _given(arguments, "--straight-edge", read_pair),
        _given(arguments, "--string", read_pair),
        _given(arguments, "--width", read_size),
        _given(arguments, "--stays", lambda text: read_pair(text, read_size)),
    )


def _value(arguments: Namespace, option: str) -> str | None:
    """What was written after ``option``, or ``None``."""
    text: str | None = getattr(arguments, option[2:].replace("-", "_"))
    return text


def _given(arguments: Namespace, option: str, parse: Callable[[str], Parsed]) -> Parsed | None:
    text = _value(arguments, option)
    return None if text is None else read(option, text, parse)


def read_pair(text: str, parse: Callable[[str], float] = parse_length) -> LeftRight:
    """``LEFT,RIGHT``: a length each, mm, read by ``parse``."""
    from coper.bicycle.tracking.rear_end import LeftRight

    parts = text.split(",")
    if len(parts) != 2:
        raise WordsError(f"{text!r} is no pair",
                         "write left,right with decimal points, such as 54.2,47.9")
    left, right = map(parse, parts)
    return LeftRight(left, right)


def read_limit(text: str) -> Limit:
    """A limit of the shop's own, mm."""
    from coper.bicycle.tracking.tracking import own_limit

    return own_limit(parse_length(text))


def _check_asked(order: TrackingOrder, paper: Path | None) -> None:
    """Refuse a command that asks for nothing."""
    from coper.bicycle.tracking.tracking import TrackingReadings

    if paper is None and order.readings == TrackingReadings():
        raise WordsError("nothing was read",
                         "give --straight-edge, --string, --width or --stays; or --pdf for the log "
                         "to fill in")

