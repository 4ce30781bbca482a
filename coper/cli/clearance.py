"""``coper clearance``: the room round wheels, cranks and heels, and the chain's length."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TextIO

from coper.cli.options import FALLS_SHORT, read, read_size
from coper.cli.telling import tell

HELP = "Measure the room round wheels, cranks and heels, and count the chain's links."
EXAMPLES = """\
a job file says in [bicycle] what wheels there are and where they stand, and in [drive], each key
where it was measured, lengths in the job's unit:
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

examples:
  coper clearance demo/wagtail.toml
  coper clearance demo/wagtail.toml --limit 5
  coper clearance demo/wagtail.toml --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add("--limit", metavar="MM", help="the least gap that is still good, for tyre, crank and heel")
    add("--json", action="store_true", help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Measure every gap; 1 where one is below a limit that was given."""
    from coper.cli.clearance_summary import clearance_summary
    from coper.errors import CoperError
    from coper.job.read import read_job
    from coper.work.clearance import clearance_json, work_clearance

    limit = None if arguments.limit is None else read("--limit", arguments.limit, read_size)
    job = read_job(arguments.file)
    try:
        work = work_clearance(job, limit)
    except CoperError as error:
        raise error.at(arguments.file) from error
    tell(arguments, out, lambda: clearance_json(work), lambda: clearance_summary(work))
    return 0 if work.ok else FALLS_SHORT
