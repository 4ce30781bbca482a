"""``coper job``: every tube of a job file, both ends."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from coper.cli.options import read, read_folder
from coper.cli.telling import tell
from coper.errors import CoperError

if TYPE_CHECKING:
    from coper.work.job import JobWork

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
  coper job demo/wagtail.toml --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    parser.add_argument("file", metavar="FILE", help="the job file")
    parser.add_argument("--out", metavar="FOLDER",
                        help="write the packet into this folder, made if it is not there")
    parser.add_argument("--force", action="store_true",
                        help="replace files that coper did not write, or that were changed since")
    parser.add_argument("--json", action="store_true",
                        help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Read the job, shape its tubes, tell what came out."""
    from coper.cli.job_summary import job_summary
    from coper.job.read import read_job
    from coper.work.job import job_json, work_job

    job = read_job(arguments.file)
    try:
        work = work_job(job)
    except CoperError as error:
        raise error.at(arguments.file) from error
    written = _write(work, arguments)
    tell(arguments, out, lambda: job_json(work),
         lambda: (*job_summary(work), *_written(written)))
    return 0


def _written(paths: tuple[Path, ...]) -> Iterator[str]:
    """What was written, the pages one by one not told."""
    for path in paths:
        if path.suffix == ".pdf":
            yield f"wrote {path}, and each of its {len(paths) - 1} pages as SVG beside it"


def _write(work: JobWork, arguments: Namespace) -> tuple[Path, ...]:
    """Write what was asked for; the paths that were written."""
    if arguments.out is None:
        return ()
    from coper.cli.own_files import write_own
    from coper.work.packet import packet_files

    folder = read("--out", arguments.out, read_folder)
    stem = Path(arguments.file).stem
    try:
        files = packet_files(work, stem, arguments.progress)
    except CoperError as error:
        raise error.at(arguments.file) from error
    finally:
        arguments.progress.done()
    return write_own(folder, stem, files, arguments.force)
