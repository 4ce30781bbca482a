"""``coper bicycle``: points from what was measured on a bicycle, how it stands, what a change
does.

The table [bicycle] of a job file holds what was measured in side view, from the centre of the
bottom bracket; "coper help keys" explains each key. The answer has the points and axes that
tubes use by name, and how the bicycle stands on its two wheels: head and seat angle on the
ground, bottom bracket height, trail, wheelbase, and the standover where a tube runs from the
seat tube to the head tube. Part of the numbers is enough for the points of that part. If a
number is missing, coper names the key that would do; a spare number is compared with the
others, and may differ by 2 mm. A number that no frame has is a caution that says what was probably
meant.

Points: bottom-bracket, shell-left, shell-right, axle, axle-left, axle-right (the dropouts'
inner faces), rear-wheel-left, rear-wheel-right (with rear_track), head-top, head-bottom, crown,
front-axle, front-axle-left, front-axle-right. Axes: seat-axis from the bracket, head-axis from
the head tube's lower edge.

rear_track gives it two rear wheels, left and right of the middle plane: the distance between the
middles of their tyres. In side view, and on the ground, they are one.

The changes show what another fork and other wheels do, and which rear end makes up for it. The
bracket and the head tube stay where they are in the frame, and the frame is put back on the
ground. --drop moves the rear axle to that drop at the same chain stay length, --chain-stay makes
the stay that long at the same drop; --head-angle finds the drop that gives this angle on the
ground.

--write keeps a change: it writes the job with the new numbers into a file of its own, or with
--force into FILE itself. The bracket, the head tube and the seat axis stay where they are in the
frame's axes: a front_centre or wheelbase that was measured with the old fork is replaced by
head_bottom, a height by drop. What is taken out stays as a comment, and every other line and
comment as it was. The answer names the keys, and the tubes that move with the axles.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from coper.bicycle.before_after import BeforeAfter, Measured, before_after, measured
from coper.bicycle.change import Change
from coper.errors import CoperError, WordsError
from coper.frame.tube import Tube
from coper.job.changed import kept_job
from coper.job.frame import placed_tubes
from coper.job.job import Job
from coper.job.read import read_job
from coper.telling.lines import Caution, Line
from coper.telling.records.bicycle import bicycle_record, change_record
from coper.telling.records.head import json_head
from coper.telling.records.kept import kept_record
from coper.telling.words.bicycle import bicycle_lines, change_lines
from coper.telling.words.kept import kept_lines
from coper.telling.words.plausible import change_doubts, job_doubts
from coper.verbs.answer import Answer, in_job_unit, placed
from coper.verbs.changes import add_changes, add_head_angle, at_option, read_change
from coper.verbs.options import add_output, file_name, read_in

HELP = "Work out a bicycle's points from measurements, and what a change would do."
EXAMPLES = """\
a job file needs a [bicycle]; part of it is enough for the points of that part:
  [bicycle]
  drop = 58                   # rear axle above the bottom bracket's centre
  chain_stay = 419
  rear_hub = 130

examples:
  coper bicycle demo/wagtail.toml
  coper bicycle demo/wagtail.toml --json
  coper bicycle demo/wagtail.toml --rear-wheel 57-406
  coper bicycle FILE --fork-length 395 --rake 43 --front-wheel 50-559
  coper bicycle FILE --fork-length 395 --head-angle 70
  coper bicycle FILE --fork-length 395 --front-wheel 50-559 --write NEW.toml
"""

def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    parser.add_argument("file", metavar="FILE", help="the job file, with a [bicycle]")
    add_changes(parser)
    add_head_angle(parser)
    parser.add_argument("--write", metavar="NEW", type=file_name,
                        help="write the job with the change into this file, so that it stays")
    add_output(parser)


def ask(arguments: Namespace) -> Answer[Measured | BeforeAfter]:
    """The answer to what the options ask."""
    job = read_job(arguments.file)
    change = read_change(read_in(arguments, job.units))
    if arguments.write is not None and not change.asked:
        raise WordsError("nothing is to be different", "say what, such as --fork-length 395",
                         "--write")
    return placed(lambda: bicycle(job, change, str(arguments.write or "")),
                  lambda error: at_option(error, change, arguments.file))


@in_job_unit
def bicycle(
    job: Job, change: Change | None = None, write: str = ""
) -> Answer[Measured | BeforeAfter]:
    """A job's bicycle measured, and measured again with a change.

    Parameters
    ----------
    job
        With a bicycle.
    change
        The change, if there is one.
    write
        The name of the file that the job with the change is written to; empty where it is not to
        stay.

    Raises
    ------
    CoperError
        Where the job has no bicycle, a tube of it cannot be, or the change cannot be made; then
        ``where`` is its name.
    """
    if job.bicycle is None:
        raise CoperError("missing", "add it, such as [bicycle] with drop and chain_stay",
                         "bicycle")
    tubes = _tubes(job)
    before = measured(job.bicycle, tubes)
    both = before_after(before, change, tubes) if change is not None and change.asked else None
    kept = None
    if change is not None and both is not None and write:
        kept = kept_job(job, change)
        both = BeforeAfter(before, change, measured(kept.after.bicycle or job.bicycle,
                                                    _tubes(kept.after)))

    doubts = (job_doubts(job) if change is None or both is None
              else change_doubts(job, change, both.after.bicycle))

    def record() -> dict[str, Any]:
        return {
            **json_head(),
            "title": job.title,
            "bicycle": bicycle_record(before),
            "change": None if both is None else change_record(both),
            "written": (None if kept is None or both is None
                        else kept_record(kept, both, write)),
            "cautions": list(doubts),
        }

    def lines() -> Iterator[Line]:
        yield job.title or "a bicycle"
        yield from bicycle_lines(before) if both is None else change_lines(both)
        if kept is not None and both is not None:
            yield from kept_lines(kept, both, write)
        yield from map(Caution, doubts)

    files = {} if kept is None else {"write": kept.after.text.encode}
    return Answer(job.title, both or before, record, lines, files=files)


def _tubes(job: Job) -> list[Tube]:
    """Every tube and side, not shaped."""
    return [tube for sides in placed_tubes(job).values() for tube in sides.values()]
