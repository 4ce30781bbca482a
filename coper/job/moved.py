"""A job whose point stands elsewhere than it says, on one side, with all that hangs on it.

::

    [points]
    dropout = { from = "axle-left", by = [0, 2, 0] }
    lug     = { from = "dropout", by = [7, -2, 3] }      the root of lug, and of tip, is axle-left:
    tip     = { from = "dropout", by = [4, 1, 14] }      one part of the frame, which moves as one
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from coper.arrays import Point
from coper.bicycle.bicycle import POINT_NEEDS
from coper.frame.piece import Piece
from coper.frame.tube import MIRROR, Side, Which
from coper.job.corner import Sides
from coper.job.frame import make_pieces, placed_tubes
from coper.job.job import Job, TubePlan
from coper.job.points import LONGEST_CHAIN
from coper.job.read import job_tables, parse_job


@dataclass(frozen=True, slots=True)
class Root:
    """The point that an end's own point is measured from, in the end.

    Attributes
    ----------
    name : str
        Empty where the end's point is measured from none, or stands on an axis: it moves alone.
    along : tuple of str
        The points of the table that move with it.
    """

    name: str = ""
    along: tuple[str, ...] = ()


def find_root(job: Job, tube: str, which: Which) -> Root:
    """The root of a tube's end."""
    table: dict[str, Any] = job_tables(job.text)
    points = table.get("points", {})
    name = _root(points, table["tubes"][tube][which]["at"])
    if name is None:
        return Root()
    return Root(name, tuple(one for one in points if one != name and _root(points, one) == name))


def _root(points: dict[str, Any], at: object) -> str | None:
    """The name at the end of a chain of ``from``."""
    name: str | None = None
    for _ in range(LONGEST_CHAIN):
        if isinstance(at, str):
            name, at = at, points.get(at)
        elif isinstance(at, dict) and "from" in at:
            at = at["from"]
        else:
            return None if isinstance(at, dict) else name
    return None


def move_root(job: Job, tube: str, which: Which, side: Side, move: Point) -> tuple[Piece, ...]:
    """The pieces of the job with the root of a tube's end moved by ``move``, mm.

    A tube that has a twin moves on that side only. One that has none moves where its own points
    are those of that side.

    Raises
    ------
    JobError
        Where a tube cannot be made then.
    """
    before = placed_tubes(job)
    root, own = find_root(job, tube, which), next(iter(before[tube]))
    if side in ("centre", own):
        after = placed_tubes(_moved(job, tube, which, root.name, move))
        return make_pieces(job, {name: _mixed(sides, after[name], side, after[name])
                                 for name, sides in before.items()})
    x, y, z = (float(a * b) for a, b in zip(move, MIRROR, strict=True))
    after = placed_tubes(_moved(job, tube, which, root.name, (x, y, z)))
    other = _twin_name(root.name)
    centre = placed_tubes(parse_job(job.text, {other: move})) if other else before
    return make_pieces(job, {name: _mixed(sides, after[name], side, centre[name])
                             for name, sides in before.items()})


def _moved(job: Job, tube: str, which: Which, root: str, move: Point) -> Job:
    """The job with a root moved, or where there is none with the end's own point."""
    if root:
        return parse_job(job.text, {root: move})
    return replace(job, tubes=tuple(
        _end_moved(plan, which, move) if plan.name == tube else plan for plan in job.tubes))


def _end_moved(plan: TubePlan, which: Which, move: Point) -> TubePlan:
    end = plan.start if which == "start" else plan.end
    x, y, z = (a + b for a, b in zip(end.at, move, strict=True))
    moved = replace(end, at=(x, y, z))
    return replace(plan, start=moved) if which == "start" else replace(plan, end=moved)


def _twin_name(name: str) -> str:
    """The bicycle's own point on the other side; empty where it has none."""
    for one, other in (("-left", "-right"), ("-right", "-left")):
        if name.endswith(one):
            twin = name.removesuffix(one) + other
            return twin if twin in POINT_NEEDS else ""
    return ""


def _mixed(before: Sides, after: Sides, side: Side, centre: Sides) -> Sides:
    """Both twins, the one on ``side`` moved; what has no twin as ``centre`` has it."""
    if len(before) == 1:
        return centre
    return after if side == "centre" else {
        one: (after if one == side else before)[one] for one in before}
