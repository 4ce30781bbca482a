"""A job laid out on the flat table."""

from __future__ import annotations

from collections.abc import Iterable

from coper.arrays import Point
from coper.bench.layout.blocks import BlockSet
from coper.bench.layout.layout import ROUND_MM, Layout, Setting, Subject, make_layout
from coper.bicycle.bicycle import WHEEL_POINTS, Bicycle
from coper.errors import CoperError
from coper.frame.piece import Piece
from coper.frame.solid import solid
from coper.job.job import Job
from coper.units import INCH_MM

INCHES = ("in", "ft")
"""Units of a job whose round numbers on the table are half inches."""


def job_layout(
    job: Job, pieces: Iterable[Piece], origin: tuple[float, float] | None = None,
    plane: float | None = None,
) -> Layout:
    """The layout of a job whose tubes are shaped; ``origin`` and ``plane`` in mm.

    Where they are ``None`` the job's own count, and a fault of those is named at the job's key.
    """
    bicycle, table = job.bicycle, job.table
    subject = Subject(
        tuple(solid(piece) or piece for piece in pieces),
        job.points if bicycle is None else {**_of_frame(bicycle), **job.points},
        {} if bicycle is None else bicycle.axes,
        () if bicycle is None else bicycle.wheels,
    )
    blocks = BlockSet(job.shop.blocks) if job.shop.blocks else None
    step = INCH_MM / 2 if job.units in INCHES else ROUND_MM
    setting = Setting(table.origin if origin is None else origin,
                      table.plane if plane is None else plane, blocks, step, table.lies)
    asked = {"origin": origin, "plane": plane}
    try:
        return make_layout(subject, setting)
    except CoperError as error:
        if error.where not in asked or asked[error.where] is not None:
            raise
        raise CoperError(error.fault, error.cure, f"table.{error.where}") from error


def _of_frame(bicycle: Bicycle) -> dict[str, Point]:
    """The points but those in the middle of a wheel beside the frame: that is laid out without."""
    return {name: at for name, at in bicycle.points.items() if name not in WHEEL_POINTS}
