"""The log of a rear end, with the command to type."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coper.bicycle.tracking.straight_edge import StraightEdge
from coper.bicycle.tracking.tracking import Tracking, TrackingReadings, track
from coper.job.job import Job
from coper.job.tracking import job_rear_end
from coper.shapes.checks import plain

if TYPE_CHECKING:
    from coper.pages.compose import Block


def tracking_command(found: Tracking) -> str:
    """The command to type with the readings, its options those of this frame."""
    rear, edge = found.rear, found.laid.edge
    sizes = (
        ("head-diameter", rear.head_diameter), ("seat-diameter", rear.seat_diameter),
        ("head-to-seat", rear.head_to_seat), ("seat-to-dropout", rear.seat_to_dropout),
        ("hub", rear.hub), ("dropout-thickness", rear.thickness),
        ("rim-radius", rear.rim_radius), ("spacer", edge.spacer), ("edge", edge.thickness),
    )
    options = " ".join(f"--{name} {plain(size)}" for name, size in sizes if size)
    return f"coper tracking {options} --straight-edge LEFT,RIGHT"


def tracking_blocks(found: Tracking) -> list[Block]:
    """The log: the frame in plan, cells for three rounds of readings, and what to do."""
    from coper.sheets.tracking_log import tracking_log_blocks

    return tracking_log_blocks(found, tracking_command(found))


def job_tracking_blocks(job: Job) -> list[Block]:
    """The log of a job's frame; none where the job does not say what it needs."""
    rear = job_rear_end(job)
    return [] if rear is None else tracking_blocks(track(rear, StraightEdge(), TrackingReadings()))
