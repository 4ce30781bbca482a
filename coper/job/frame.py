"""From a job's plans to tubes in space, both sides, and their shaped ends.

Who changes a number of a job asks for all of it again, and most of it is as it was. So a tube is
made once, by what the job says of it; and what is made of tubes once by those very tubes, and by
the unit that its cautions are worded in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache, partial

import numpy as np

from coper.arrays import Floats
from coper.errors import CoperError, JointError
from coper.frame.end import TubeEnd, plain_end, shape_end
from coper.frame.flat_end import face_end, mitre_end
from coper.frame.landing import PastEnd, past_mains
from coper.frame.piece import Piece, make_piece
from coper.frame.tube import MIRROR, REMEMBERED, Side, Tube, Which, leaning_side
from coper.job.corner import Corner, Corners, Sides, find_corners
from coper.job.faults import Faults, dotted
from coper.job.job import EndPlan, Job, TubePlan
from coper.shapes.course import straight_course
from coper.tolerances import EVEN_MM
from coper.units import format_size, order_unit

MISS_CURES = {
    "offset": "check the tube's two points, and what the end seats on",
    "main": "give the plate turn = 90, 180 or 270, so that its face looks to this tube",
}
"""What mends a tube that never meets its main, by what of the joint is wrong."""


def make_pieces(job: Job, frame: dict[str, Sides] | None = None) -> tuple[Piece, ...]:
    """Every tube and side of a job with both ends shaped, in the file's order.

    ``frame`` has the tubes where they stand elsewhere than the job says (:func:`placed_tubes`).

    Raises
    ------
    JobError
        With every tube that cannot be made.
    """
    faults = Faults(None if job.doubt is None else job.doubt.error)
    if not job.tubes:
        faults.add("tubes", "the job has no tube", "add one, such as [tubes.shell]")
    if frame is None:
        frame = _place_tubes(job, faults)
    faults.raise_any()
    corners = find_corners(job.tubes, frame, faults)
    faults.raise_any()
    pieces = [piece for plan in job.tubes for tube in frame[plan.name].values()
              if (piece := _piece(faults, plan, tube, frame, corners, job.shop.allowance))
              is not None]
    faults.raise_any()
    by_tube = {piece.tube: piece for piece in pieces}
    for piece in pieces:
        _check_landing(faults, piece, by_tube)
    faults.raise_any()
    return tuple(pieces)


def main_for(tube: Tube, which: Which, sides: Sides) -> Tube:
    """The one of a tube and its twin that an end of ``tube`` seats on.

    Raises
    ------
    CoperError
        Where it is as near to either.
    """
    return _main_for(tube, tube.point(which), sides)


def _check_landing(faults: Faults, piece: Piece, by_tube: Mapping[Tube, Piece]) -> None:
    """Note each end that lands wholly past its mains."""
    for end in piece.ends:
        if end.mains and end.flat is None:
            mains = tuple(by_tube[main] for main in end.mains)
            faults.caught(f"tubes.{dotted(piece.tube.name)}.{end.which}",
                          partial(_refuse_past, piece, end, mains))


def _refuse_past(piece: Piece, end: TubeEnd, mains: tuple[Piece, ...]) -> None:
    past = _past(piece, end, mains)
    if past is not None:
        more = "wider" if past.which.endswith("edge") else "longer"
        raise JointError(f"it lands wholly past the {past.which} of {past.main}, by "
                         f"{format_size(round(past.by, 2))}: there is nothing to seat on",
                         f"make {past.main} {more}, move this end's point, or change what it is on")


@lru_cache(maxsize=2 * REMEMBERED)
def _past(piece: Piece, end: TubeEnd, mains: tuple[Piece, ...]) -> PastEnd | None:
    return past_mains(piece, end, mains)


def placed_tubes(job: Job) -> dict[str, Sides]:
    """Every tube of a job by its name and its side, not shaped.

    Raises
    ------
    JobError
        With every tube that cannot be.
    """
    faults = Faults(None if job.doubt is None else job.doubt.error)
    frame = _place_tubes(job, faults)
    faults.raise_any()
    return frame


def _place_tubes(job: Job, faults: Faults) -> dict[str, Sides]:
    """Every tube by its name and its side; faults are noted at its path."""
    frame: dict[str, Sides] = {}
    for plan in job.tubes:
        own = replace(plan, start=EndPlan(plan.start.at), end=EndPlan(plan.end.at))
        sides = faults.caught(f"tubes.{dotted(plan.name)}", partial(_sides, own))
        if sides is not None:
            frame[plan.name] = {one.side: one for one in sides}
    return frame


@lru_cache(maxsize=REMEMBERED)
def _sides(plan: TubePlan) -> tuple[Tube, ...]:
    """A tube, and its twin where it has one; how its ends are cut is no part of the plan."""
    start, end = np.array(plan.start.at), np.array(plan.end.at)
    tube = Tube(plan.shape, start, end, plan.name, _side(plan, start, end), plan.turn,
                plan.existing, plan.corners, plan.radii)
    return (tube, tube.mirrored()) if plan.mirror else (tube,)


def _side(plan: TubePlan, start: Floats, end: Floats) -> Side:
    """The side of a tube that has a twin; ``start`` and ``end`` are points (3,), mm."""
    if not plan.mirror:
        return "centre"
    side = leaning_side(start, end, plan.corners)
    if side == "centre":
        raise CoperError("it lies in the middle plane, and so would its twin",
                         "take out mirror, or move it to one side")
    return side


def _piece(
    faults: Faults, plan: TubePlan, tube: Tube, frame: dict[str, Sides], corners: Corners,
    allowance: float,
) -> Piece | None:
    path = f"tubes.{dotted(plan.name)}"
    start = faults.caught(f"{path}.start", lambda: _end(tube, "start", plan.start, frame, corners))
    end = faults.caught(f"{path}.end", lambda: _end(tube, "end", plan.end, frame, corners))
    if start is None or end is None:
        return None
    left_on = 0.0 if plan.existing else allowance
    return faults.caught(path, lambda: _made_piece(order_unit(), tube, start, end, left_on))


@lru_cache(maxsize=REMEMBERED)
def _made_piece(
    unit: str, tube: Tube, start: TubeEnd, end: TubeEnd, allowance: float
) -> Piece:
    return make_piece(tube, start, end, allowance)


def _end(
    tube: Tube, which: Which, plan: EndPlan, frame: dict[str, Sides], corners: Corners
) -> TubeEnd:
    corner = corners.get((tube.label, which))
    as_given = next(iter(frame[tube.name].values())) is tube
    point = tube.point(which)
    mains = () if corner or plan.face else tuple(
        _main_for(tube, point, frame[name]) for name in plan.on)
    return _made_end(order_unit(), tube, which, plan, as_given, corner, mains)


@lru_cache(maxsize=2 * REMEMBERED)
def _made_end(
    unit: str, tube: Tube, which: Which, plan: EndPlan, as_given: bool, corner: Corner | None,
    mains: tuple[Tube, ...],
) -> TubeEnd:
    """An end as it is planned, of the side that was given or of its twin."""
    if corner is not None:
        end = mitre_end(tube, which, *corner)
    elif plan.face is not None:
        end = face_end(tube, which, np.array(plan.face) * (1.0 if as_given else MIRROR))
    elif mains:
        end = _coped_end(tube, which, mains, plan)
    else:
        end = plain_end(tube, which, plan.back)
    return replace(end, cap=plan.cap)


def _coped_end(tube: Tube, which: Which, mains: tuple[Tube, ...], plan: EndPlan) -> TubeEnd:
    try:
        return shape_end(tube, which, mains, plan.cut)
    except JointError as error:
        if error.where not in MISS_CURES:
            raise
        raise JointError(error.fault, MISS_CURES[error.where], which) from error


def _main_for(tube: Tube, point: Floats, sides: Sides) -> Tube:
    """The main on the tube's own side; of the centre, the one nearer to ``point`` (3,), mm."""
    if len(sides) == 1:
        return next(iter(sides.values()))
    if tube.side in sides:
        return sides[tube.side]
    one, other = sides.values()
    near, far = _beside(point, one), _beside(point * MIRROR, one)
    if abs(near - far) <= EVEN_MM:
        raise CoperError(f"it ends as near to the left {one.name} as to the right one, "
                         f"{format_size(round(near, 2))} from either",
                         "move the end's point to the side that it is to seat on")
    return one if near < far else other


def _beside(point: Floats, tube: Tube) -> float:
    """Distance of ``point`` (3,) from a tube's centreline, of an arc from its chord, mm."""
    course = tube.course or straight_course(tube.pose, tube.length)
    held = np.clip(course.straightened(point)[2], 0.0, tube.length)
    return float(np.linalg.norm(point - course.frames(held).origin))
