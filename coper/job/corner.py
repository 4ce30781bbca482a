"""Which end is mitred with which: two ends at one point, it is enough that one of them says so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from coper.errors import CoperError
from coper.frame.flat_cut import How
from coper.frame.tube import ENDS, Side, Tube, Which
from coper.job.faults import Faults, dotted
from coper.job.job import EndPlan, TubePlan
from coper.tolerances import ALIKE_MM
from coper.units import format_size

Sides = dict[Side, Tube]
"""The sides of one tube of a job, as it was given first."""

Corner = tuple[Tube, Which, How]
"""An end's partner, that one's end, and how they are cut."""

Corners = dict[tuple[str, Which], Corner]
"""By an end's tube, as it is called, and which end it is."""


def find_corners(
    plans: Sequence[TubePlan], frame: dict[str, Sides], faults: Faults
) -> Corners:
    """Every end that is mitred, whichever of the two says it; faults are noted."""
    by_name = {plan.name: plan for plan in plans}
    corners: Corners = {}
    for plan, which, end in _mitred(plans):
        for tube in frame[plan.name].values():
            path = f"tubes.{dotted(plan.name)}.{which}.{end.how}"
            try:
                partner, other = _partner(tube, which, end, frame)
                _check_free(by_name[partner.name], other, plan.name)
                how: How = "twin" if end.twin else "mitre"
                _join(corners, (tube, which), (partner, other), how)
                _join(corners, (partner, other), (tube, which), how)
            except CoperError as error:
                faults.note(error.at(path))
                break
    return corners


def _mitred(plans: Sequence[TubePlan]) -> Iterator[tuple[TubePlan, Which, EndPlan]]:
    for plan in plans:
        for which, end in ((ENDS[0], plan.start), (ENDS[1], plan.end)):
            if end.mitre or end.twin:
                yield plan, which, end


def _partner(
    tube: Tube, which: Which, end: EndPlan, frame: dict[str, Sides]
) -> tuple[Tube, Which]:
    """The tube and the end that stand at the same point; a twin's is the same end of the other."""
    point = tube.point(which)
    if end.twin:
        if abs(point[1]) > ALIKE_MM:
            raise CoperError(f"its point is {format_size(round(abs(point[1]), 2))} from the middle "
                             "plane, and so is its twin's", "give it y = 0")
        return next(one for one in frame[tube.name].values() if one is not tube), which
    found = [(float(np.linalg.norm(one.point(other) - point)), one.side != tube.side, one, other)
             for one in frame[end.mitre].values() for other in ENDS]
    apart, _, partner, other = min(found, key=lambda one: one[:2])
    if apart > ALIKE_MM:
        raise CoperError(f"the nearest end of {partner.label} is "
                         f"{format_size(round(apart, 2))} away",
                         "give both ends the same point")
    return partner, other


def _check_free(plan: TubePlan, which: Which, name: str) -> None:
    """Refuse a partner that says something else of its end."""
    end = plan.start if which == "start" else plan.end
    if end.how in ("on", "face") or end.back:
        said = end.how or "back"
        raise CoperError(f"the {which} of {plan.name} says {said}",
                         f'take that out, or write on = ["{plan.name}"] here')


def _join(
    corners: Corners, own: tuple[Tube, Which], partner: tuple[Tube, Which], how: How
) -> None:
    tube, which = own
    known = corners.get((tube.label, which))
    if known is not None and known[0] is not partner[0]:
        raise CoperError(f"the {which} of {tube.label} is mitred with {known[0].label} already",
                         "a corner has two tubes: let the third seat on one of them")
    corners[tube.label, which] = (*partner, how)
