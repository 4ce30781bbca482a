"""The measures that tracking needs, as far as a job file gives them."""

from __future__ import annotations

import numpy as np

from coper.arrays import Floats
from coper.bicycle.tracking.rear_end import RearEnd
from coper.errors import CoperError, ShapeError, nearest_known
from coper.frame.tube import Tube
from coper.job.frame import placed_tubes
from coper.job.job import Job
from coper.joint.edge import even_clocks
from coper.shapes.words import tube_words
from coper.tolerances import EVEN_MM
from coper.units import format_size

HEAD_TUBE, SEAT_TUBE = "head-tube", "seat-tube"
"""The tubes' names in a job, unless others are named."""
AXLES = ("axle", "axle-left", "axle-right")
"""Points that give the rear axle in side view."""
ROUND_STEPS = 720
"""Clocks at which a tube's width is looked for: a round one's widest is among them."""
SIDE = np.array((True, False, True))
"""The side view: x and z."""

OWN_MEASURES = "measure along your edge, and give diameters and lengths as options, not the file"

TWO_REAR = ("measure from the middle of the head tube to both rims, and from rim to rim before and "
            "behind the axle: each pair is equal where the rear end is straight")

FrameMeasures = dict[str, float]
"""Some of the fields of ``RearEnd``, mm."""


def job_measures(job: Job, head: str | None = None, seat: str | None = None) -> FrameMeasures:
    """What ``job`` says of its rear end.

    The straight edge is taken to lie on the middle of the head tube, and to point at the axle.

    Parameters
    ----------
    job
        With or without a table of the bicycle.
    head, seat
        Names of the two tubes; where none is given, ``HEAD_TUBE`` and ``SEAT_TUBE`` if they are
        there.

    Raises
    ------
    CoperError
        A tube that is not there, stands beside the middle plane, or that the edge passes by; two
        rear wheels.
    """
    return _hub(job) | _edge_line(job, _tube(job, head, HEAD_TUBE), _tube(job, seat, SEAT_TUBE))


def job_rear_end(job: Job) -> RearEnd | None:
    """The rear end of a job; ``None`` where the job does not say all that is always needed."""
    known = job_measures(job)
    return None if missing(known) else RearEnd(**known)


def _hub(job: Job) -> FrameMeasures:
    rear = None if job.bicycle is None else job.bicycle.parts.rear
    if rear is None:
        return {}
    if rear.track is not None:
        raise CoperError("with two rear wheels there is no one hub between dropouts to read edge "
                         "and string at", TWO_REAR, "bicycle.rear_track")
    given = {} if rear.hub is None else {"hub": rear.hub}
    if rear.wheel is not None:
        given["rim_radius"] = rear.wheel.bead_seat
    return given


def _tube(job: Job, name: str | None, usual: str) -> Tube | None:
    frame = placed_tubes(job)
    wanted = name or usual
    if wanted in frame:
        return next(iter(frame[wanted].values()))
    if name is None:
        return None
    raise CoperError(f"the job has no tube {name!r}", nearest_known(name, frame), usual)


def _edge_line(job: Job, head: Tube | None, seat: Tube | None) -> FrameMeasures:
    """Diameters and lengths, as far as tubes, axes and the axle are known."""
    given: FrameMeasures = {}
    if head is not None:
        given["head_diameter"] = width_across(head, head.length / 2)
    axle, target = _axle(job), _head_middle(job, head)
    if axle is None or target is None:
        return given
    reach = float(np.linalg.norm(target - axle))
    if seat is not None:
        along, share = _crossing(axle, target, seat.start[SIDE], (seat.end - seat.start)[SIDE],
                                 seat.name)
        _check_on(seat, along * seat.length)
        given["seat_diameter"] = width_across(seat, along * seat.length)
    elif job.bicycle is not None and "seat-axis" in job.bicycle.axes:
        point, up = (np.array(part)[SIDE] for part in job.bicycle.axes["seat-axis"])
        _, share = _crossing(axle, target, point, up, "seat-axis")
    else:
        return given
    return given | {"seat_to_dropout": share * reach, "head_to_seat": (1 - share) * reach}


def _head_middle(job: Job, head: Tube | None) -> Floats | None:
    """The middle of the head tube in side view, (2,): x and z in mm."""
    if head is not None:
        return _flat(head.start, head.end)
    points = {} if job.bicycle is None else job.bicycle.points
    if "head-top" in points:
        return _flat(np.array(points["head-top"]), np.array(points["head-bottom"]))
    return None


def _flat(one: Floats, other: Floats) -> Floats:
    """The middle (2,) of two points (3,), in side view, mm."""
    middle: Floats = (one + other)[SIDE] / 2
    return middle


def _axle(job: Job) -> Floats | None:
    """The rear axle in side view, (2,): x and z in mm."""
    if job.bicycle is not None and job.bicycle.parts.rear is not None:
        return np.array(job.bicycle.parts.rear.axle)
    for name in AXLES:
        if name in job.points:
            x, _, z = job.points[name]
            return np.array((x, z))
    return None


def _crossing(
    axle: Floats, target: Floats, start: Floats, way: Floats, name: str
) -> tuple[float, float]:
    """Where the edge meets the seat tube's line: mm along it from ``start``, share of the edge.

    All points are (2,) in side view, mm; ``way`` (2,) is the line's unit direction.
    """
    lines = np.stack((target - axle, -way), axis=-1)
    if abs(np.linalg.det(lines)) < EVEN_MM:
        raise CoperError("it runs along the straight edge", OWN_MEASURES, name)
    share, along = np.linalg.solve(lines, start - axle).tolist()
    if not 0 < share < 1:
        raise CoperError("it does not stand between the axle and the head tube", OWN_MEASURES, name)
    return along, share


def _check_on(seat: Tube, along: float) -> None:
    if not 0 <= along <= seat.length:
        raise CoperError(
            "a straight edge from the axle to the middle of the head tube meets this tube's line "
            f"{format_size(round(along))} along, but the tube is "
            f"{format_size(round(seat.length))} long",
            OWN_MEASURES, seat.name)


def width_across(tube: Tube, along: float) -> float:
    """How wide a tube of the middle plane is from left to right, mm, ``along`` it from its start.

    Raises
    ------
    CoperError
        Where it stands beside the middle plane, or is not a straight tube.
    """
    try:
        shape, pose = tube.seen_from("start")
    except ShapeError:
        shape = None
    if shape is None or tube.is_bent:
        raise CoperError(f"{_words(tube)} is not a straight tube to lay an edge on",
                         OWN_MEASURES, tube.name)
    lines = shape.generators(even_clocks(ROUND_STEPS), near=along)
    y = pose.outward(lines.at(np.full(ROUND_STEPS, along)))[:, 1]
    low, high = float(y.min()), float(y.max())
    if abs(low + high) > 2 * EVEN_MM:
        raise CoperError(f"it is {format_size(round((low + high) / 2, 3))} off the middle "
                         "plane, and the straight edge needs a tube in it",
                         "name another tube", tube.name)
    return high - low


def _words(tube: Tube) -> str:
    words = tube_words(tube.shape)
    return words if tube.course is None else f"{words} with corners"


def missing(given: FrameMeasures) -> list[str]:
    """Which fields of ``RearEnd`` that are always needed are not given, in their order."""
    fields = RearEnd.__dataclass_fields__
    optional = ("thickness", "rim_radius")
    return [name for name in fields if name not in optional and name not in given]
