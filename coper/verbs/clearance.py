"""``coper clearance``: the room round tyre, crank, heel and pedal, and the links of the chain.

Each tyre of [bicycle] is a torus of its real section. For every tube and side coper finds the
smallest gap and its place: how far from the tube's start point, at what clock, and where in the
frame. It tries the rear wheel where it is drawn and at both ends of the dropout's slot. Twins
share a line; tubes over 50 mm away are only counted, --json has them all. Measurements of the
drive go into [drive], as far as you know them: "coper help keys". The exit status is 1 if
anything fouls, a wheel does not go into its fork or a brake does not reach its rim; with --limit
also if a gap to tyre, crank or heel is smaller.

The front tyre is held against the fork: its crown, or the middle of the crown race where
fork_crown does not say where its underside is, and its blades where fork_blades says how far they
are apart. A mudguard (rear_guard, front_guard) is measured against the tyre, the tubes and the
fork, as if it went all round the wheel with its sides down to the middle of the tyre; what its
own sheet takes is left out. A brake's reach is that from its bolt straight towards the axle to the
middle of the pads, which sit on the bead seat circle unless pad says how far inside it; what is
said is whether the brake is too short or too long for that, and which way the bolt would move. It
is judged by the axle as drawn. A rim that was measured beside the middle plane (rear_rim_off,
front_rim_off) takes its tyre along.

Another fork, other wheels or another rear end are looked at with the options of coper bicycle; the
file stays as it is.

With rear_track in [bicycle] there are two rear wheels, rear-left and rear-right, each with its own
gaps to the tubes of both sides. What then is not checked is stated: a lean, and the chain's line.

Published rules are given as guidance, for they exempt one-of-a-kind bicycles: tyre to frame 1.6
mm (16 CFR 1512.11(b)), pedal to front tyre 89 mm (16 CFR 1512.17(d)), a lean of 25 degrees (16
CFR 1512). An odd number of links takes a half link. Wheels are taken as upright and straight
ahead; mud needs room of its own.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from coper.bicycle.clearance.clearance import Clearances, make_clearances
from coper.job.changed import changed_job
from coper.job.frame import make_pieces
from coper.job.job import Job
from coper.job.read import read_job
from coper.telling.lines import Caution, Line
from coper.telling.records.bicycle import asked_record
from coper.telling.records.clearance import clearance_record
from coper.telling.records.head import json_head
from coper.telling.words.changed import job_title
from coper.telling.words.clearance import clearance_lines
from coper.telling.words.plausible import job_doubts
from coper.verbs.answer import Answer, in_job_unit, placed
from coper.verbs.changes import add_changes, at_option, read_change
from coper.verbs.options import add_json, read_in, size

HELP = "Measure the room round wheels, cranks and heels, and count the chain's links."
EXAMPLES = """\
a job file has the wheels and their places in [bicycle], and in [drive] as much as you measured,
lengths in the job's unit:
  [drive]
  slot = 22               # how far the axle can move in the dropout's slot
  slot_angle = 0          # the slot going to the rear, degrees above the horizontal
  slot_at = 8             # the axle as drawn, from the slot's front end (half the slot)
  ring = 44
  sprocket = 18
  crank = 165             # from axle to axle
  crank_inside = 62       # inner face of the crank's end from the middle plane
  heel = { back = 180, out = 90 }   # behind the pedal's axle; inner side from the middle plane
  pedal = { out = 150, under = 14 } # outer edge from the middle plane; underside below its axle
  fork_crown = { under = 24, length = 36 }  # underside below the crown race; from back to front
  fork_blades = 62        # inside from blade to blade, at the tyre
  rear_brake = { bolt = "stay-bridge", reach = [55, 73] }     # a point, or the middle of a tube
  front_brake = { hole = 12, ahead = 25, reach = [70, 90] }   # in the crown, below the crown race
  rear_guard = { width = 50, gap = 12 }     # a mudguard; the gap is from the tread to its inside
  rear_rim_off = 1.5      # the rim's middle to the left of the middle plane; below 0 to the right

examples:
  coper clearance demo/wagtail.toml
  coper clearance demo/wagtail.toml --limit 5
  coper clearance demo/wagtail.toml --rear-wheel 57-507 --chain-stay 430
  coper clearance demo/wagtail.toml --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add("--limit", metavar="MM", type=size,
        help="the smallest gap that is still good, for tyre, crank and heel")
    add_changes(parser)
    add_json(parser)


def ask(arguments: Namespace) -> Answer[Clearances]:
    """The answer to what the options ask."""
    job = read_job(arguments.file)
    given = read_in(arguments, job.units)
    change = read_change(given)
    return placed(lambda: clearance(changed_job(job, change), given.limit),
                  lambda error: at_option(error, change, arguments.file))


@in_job_unit
def clearance(job: Job, limit: float | None = None) -> Answer[Clearances]:
    """Every gap between the tubes of a job and what moves, and the chain.

    Parameters
    ----------
    job
        With its wheels, and what is known of its drive.
    limit : float, mm
        The smallest gap that is still good, where one is asked for.

    Raises
    ------
    CoperError
        A tube that cannot be made, or where nothing is known to keep clear of, or the chain's axle
        is not known.
    """
    found = make_clearances(make_pieces(job), job.bicycle, job.drive)
    title, doubts = job_title(job), job_doubts(job)
    ok = found.ok(limit)

    def record() -> dict[str, Any]:
        return {**json_head(), "title": title, "change": asked_record(job.change), "limit": limit,
                "ok": ok, **clearance_record(found), "cautions": list(doubts)}

    def lines() -> Iterator[Line]:
        yield from clearance_lines(found, title, limit)
        yield from map(Caution, doubts)

    return Answer(title, found, record, lines, ok=ok)
