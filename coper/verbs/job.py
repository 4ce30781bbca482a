"""``coper job``: every tube of a job file, both ends, and the packet to take to the bench.

For every tube and side: the length of the blank as it is cut (with the shop's allowance at
either end: sheets and cards count from there), where its clock 0 is, each end's angle, offset
and heel, how far the two heels are turned against each other, which end of a taper is which, and
where a footprint runs past the end of a tube; one that lies wholly past it is refused. For each
shaped end --json also has the gap that its own cut should leave (gap) and how to saw it with the
shop's saws (setup). With several mains the one that takes the largest share of the end is cut
first; turn is how far the tube is turned between two cuts, clockwise looking at the end, and gap
is what all the cuts together leave.

Where branches land on a tube stands on its page of marks in the packet, and in --json (landings):
how far from the tube's start, along its centreline where it is bent (at), at which clock, and
towards which end of it the branch's heel is.

Which way a box, an oval or a bend lies is said for each (stands 60 tall; bulges up), and in --json
(stands). A job says it with one of tall, the side that stands up; bulge, up, down, left, right,
front, back or [x, y, z]; through, a point on a bend's arc, to 1 mm; or turn, in degrees. Without
any a section lies differently along the frame and across it: where it does, that is a caution.

With stock lengths coper plans the bars: the least length of stock, then the fewest bars, and
how close that is to the least possible. A tube's own lengths replace those of any tube; pieces
with a count, such as offcuts on the rack, are extra. A blank that is longer than every length,
or too few bars, is a caution that says what would do; all else comes all the same. The blank of
a bent tube is straight, as long as its centreline. A tapered tube is a blank by itself: how much
to cut off each end, which end to cut first, which to leave as it is. Under [stock] it may be one
that you have, such as a donor frame's stay: its length, and where on it the taper begins (from,
straight); coper takes the shortest that reaches, and says of one that does not at which end it
is short, by how much, and what would do. shape_from moves the taper along the tube.

A tube with existing = true stands already: it is drawn thin, others seat on it, it is in
clearance, layout and clashes, and nothing of it is cut: no blank, no template, no sheet of its
own, so its ends cannot say on. Two tubes that both stand already are not looked at for clashes.

An end with mitre is cut in the plane that halves its corner with the end of another tube at the
same point (twin = true: with its own twin), one with face in a plane through its point; both come
with a card for a saw that has a fence. A plain end, or one with face, may have a cap: its outline
is in the packet at true scale. What of a mitre stands over a smaller partner is a caution.

Pieces that are the same to 0.05 mm, both ends and the tube they are cut from, are one row of the
cut list and one set of sheets that says how many to cut, with all names; one that is the same
turned about its axis or end for end is the same, and the sheets say how it lies. Mirror images are
one row too, and have sheets of their own. --json lists both (alike): end_for_end, and where a
piece's own clock stands at clock 0 of the first (clock_0). Every blank has a number of its own over
all bars, those of such a row one after the other: it stands on the cut list, on the tabs of the
tube's templates, and on its cards and logs.

A number that no frame has is a caution, with what was probably meant: a head angle of 109 degrees,
a drop with the wrong sign, numbers that look like inches in a job in mm. Nothing that is possible
is refused for it.

The order of work comes last, in the packet on pages of its own, in --json as order: tube by tube
what to cut, to shape and try, what holds it (the tubes that stand, the marks and heights of coper
layout, an axle or a bar between two stays), what to tack, and what to measure then: lengths
between cut ends, two that have to be the same where that shows whether the frame is square, and
heights. A ring of tubes in the middle plane, or of a frame that is built flat in its lowest level,
comes first; then twins from the lowest up, what bridges them, then the rest (common practice, no
source). Nothing is said of a sheet that the job has not, such as the tracking log.

--out writes the packet: one PDF in the order of work, and each page as SVG. Templates and
outlines have pages of their own, for scissors; every other page is kept whole. The first page lists
every page, and says which sheet could not be drawn and why. --printer, or printer under [shop],
corrects all pages for a printer that is off. The code at the foot of every page is that of what the
job says: pages with another one are of an older job. A letter that the lettering lacks is a square,
which is a caution. Files that coper
wrote itself and nobody has changed since need no --force. The packet in the folder is the old
one or the new one: what a stopped run left there, the next one undoes; of two at once the second
waits up to 60 s. Another job file of the same name needs another folder, or --force; --force also
takes the last pages of a longer run away. Job files: "coper help keys"; one has 1 MiB at most, a
name in it 80 characters, a title or another text 200. A job may also come through a pipe, such as
/dev/stdin, within 30 s.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Collection, Iterator
from dataclasses import replace
from functools import cache
from typing import Any

from coper.bench.assembly.assembly import Assembly
from coper.drawing.page import Page
from coper.job.assembly import job_assembly
from coper.job.job import Job
from coper.job.read import read_job
from coper.job.shaped import ShapedJob, shape_job
from coper.joint.cautions import SAFETY
from coper.joint.steps import Progress, silent
from coper.telling.lines import Caution, Line
from coper.telling.records.head import json_head
from coper.telling.records.job import job_record
from coper.telling.words.job import job_lines
from coper.telling.words.plausible import job_doubts
from coper.telling.words.small import job_question
from coper.verbs.answer import Answer, in_job_unit, placed
from coper.verbs.options import add_json, add_printer, folder_name

HELP = "Shape every tube of a job file, and print the packet to take to the bench."
EXAMPLES = """\
a job file (TOML; x forward, y to the left, z up):
  [points]
  axle = [-420, 62, 70]

  [tubes.shell]
  shape = "40 x 3"
  start = { at = [0, -34, 0] }
  end = { at = [0, 34, 0] }

  [tubes.chain-stay]
  shape = "22.2 to 14 over 390 x 0.8"
  start = { at = [-4, 26, 0], on = ["shell"] }
  end = { at = "axle", back = 15 }
  mirror = true

examples:
  coper job demo/wagtail.toml
  coper job demo/wagtail.toml --out out
  coper job demo/wagtail.toml --out out --printer 99.4,100.2
  coper job demo/wagtail.toml --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    add = parser.add_argument
    add("file", metavar="FILE", help="the job file")
    add("--out", metavar="FOLDER", type=folder_name,
        help="write the packet into this folder; coper makes it if needed")
    add("--force", action="store_true",
        help="also replace files that coper did not write, or that were changed")
    add_printer(parser)
    add_json(parser)


def ask(arguments: Namespace) -> Answer[ShapedJob]:
    """The answer to what the options ask."""
    read = read_job(arguments.file)
    given = replace(read, shop=read.shop.printing(arguments.printer))
    return placed(lambda: job(given, arguments.progress.live),
                  lambda error: error.at(arguments.file))


@in_job_unit
def job(job: Job, progress: Progress = silent) -> Answer[ShapedJob]:
    """Every tube of a job with both ends shaped; its pages are the packet for the bench.

    ``progress`` hears of each tube whose saws are chosen for the record.

    Raises
    ------
    JobError
        With every tube that cannot be made.
    """
    shaped = shape_job(job)
    asked = job_doubts(job)
    if job.doubt is None:
        asked += job_question((piece.label, piece.tube.shape) for piece in shaped.pieces)

    @cache
    def order() -> Assembly:
        return job_assembly(shaped)

    def record() -> dict[str, Any]:
        return {**json_head(), **job_record(shaped, order(), progress),
                "cautions": [*asked, *SAFETY]}

    def lines() -> Iterator[Line]:
        yield from job_lines(shaped, order())
        yield ""
        yield from map(Caution, (*asked, *SAFETY))

    def pages(progress: Progress) -> Collection[Page]:
        from coper.sheets.packet import packet_pages

        packet = packet_pages(shaped, progress, order())
        progress(f"{len(packet)} pages")
        return packet

    return Answer(job.title, shaped, record, lines, pages)
