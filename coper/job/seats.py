"""The tubes of a job that an end is near to, each with what the end would be on it."""

from __future__ import annotations

from collections.abc import Collection

from coper.errors import CoperError
from coper.frame.seat_offer import SeatOffer, away_from, seat_offer
from coper.frame.tube import Tube, Which
from coper.job.frame import main_for, placed_tubes
from coper.job.job import Job

NEAR_MM = 50.0
"""A tube further away is not what an end was meant to seat on, unless it is said."""

MOST_OFFERS = 6


def seat_offers(
    job: Job, name: str, which: Which, also: Collection[str] = ()
) -> tuple[SeatOffer, ...]:
    """What the end ``which`` of the tube ``name`` may seat on, the nearest first.

    What it seats on now is among them, however far it is, and so are the tubes ``also``.

    Raises
    ------
    CoperError
        Where a tube of the job cannot stand.
    """
    frame = placed_tubes(job)
    plan = next(one for one in job.tubes if one.name == name)
    on = (plan.start if which == "start" else plan.end).on
    tube = next(iter(frame[name].values()))
    mains: list[tuple[float, Tube]] = []
    for other, sides in frame.items():
        if other == name:
            continue
        try:
            main = main_for(tube, which, sides)
            mains.append((float(away_from(main, tube.point(which))), main))
        except CoperError:  # between twins, as near to either; or nothing to seat on
            continue
    mains.sort(key=lambda one: one[0])
    near = [main.name for away, main in mains if away <= NEAR_MM][:MOST_OFFERS]
    return tuple(seat_offer(tube, which, main) for _, main in mains
                 if main.name in (*near, *on, *also))
