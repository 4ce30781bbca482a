"""The order of work of a job, with no step for a sheet that it has not."""

from __future__ import annotations

from coper.bench.assembly.assembly import Assembly, fitted, make_assembly
from coper.bench.bends import bend_lists
from coper.bench.layout.layout import Layout
from coper.errors import CoperError
from coper.frame.alike import find_alike
from coper.frame.piece import Piece
from coper.job.layout import job_layout
from coper.job.shaped import ShapedJob
from coper.job.tracking import job_rear_end


def job_assembly(shaped: ShapedJob) -> Assembly:
    """The order of work of a job whose tubes are shaped."""
    job = shaped.job
    return make_assembly(shaped.pieces, shaped.cut_list.alike, _layout(shaped),
                         job.table.lies == "flat", job.bicycle, _bends(shaped), _tracks(shaped))


def fitting_order(shaped: ShapedJob) -> tuple[Piece, ...]:
    """The pieces that are cut in the order of work, without what it says of each."""
    batches = fitted(shaped.pieces, find_alike(shaped.pieces), shaped.job.table.lies == "flat")
    return tuple(piece for _, batch in batches for piece in batch)


def _layout(shaped: ShapedJob) -> Layout | None:
    """The layout; ``None`` where the job cannot be laid out, and its packet says why."""
    try:
        return job_layout(shaped.job, shaped.pieces)
    except CoperError:
        return None


def _bends(shaped: ShapedJob) -> bool:
    """Whether the packet says what to set on the bender."""
    try:
        return bool(bend_lists(shaped.pieces, shaped.job.shop.stretch))
    except CoperError:
        return False


def _tracks(shaped: ShapedJob) -> bool:
    """Whether the packet has a log for the tracking."""
    try:
        return job_rear_end(shaped.job) is not None
    except CoperError:
        return False
