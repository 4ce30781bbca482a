"""The end of a tube that an address names: ``TUBE/SIDE/END``."""

from __future__ import annotations

from coper.errors import FileError
from coper.frame.tube import ENDS, Which
from coper.job.named_end import SIDES
from coper.page.answers.named import NO_SIDE
from coper.page.visit import Visit


def end_parts(visit: Visit) -> tuple[str, str, Which]:
    """Tube, side and end; refused where they name none."""
    tube, side, which = (visit.parts[one] for one in ("tube", "side", "end"))
    if which not in ENDS or side not in (*SIDES, NO_SIDE):
        raise FileError("there is no such end", "choose one of the list")
    return tube, side, which
