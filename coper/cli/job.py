"""``coper job``: every tube of a job file, both ends."""

from __future__ import annotations

import json
from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from coper.cli.options import read, read_file

if TYPE_CHECKING:
    from coper.work.job import JobWork

NAME = "job"
HELP = "Shape both ends of every tube of a job file."
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
                        help="write the templates into this folder, made if it is not there")
    parser.add_argument("--force", action="store_true", help="replace files that exist")
    parser.add_argument("--json", action="store_true",
                        help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Read the job, shape its tubes, tell what came out."""
    from coper.cli.job_summary import job_summary
    from coper.errors import CoperError
    from coper.job.read import read_job
    from coper.work.job import job_json, work_job

    job = read_job(arguments.file)
    try:
        work = work_job(job)
    except CoperError as error:
        raise error.at(arguments.file) from error
    written = _write(work, arguments)
    if arguments.json:
        json.dump(job_json(work), out, allow_nan=False)
        out.write("\n")
        return 0
    for line in (*job_summary(work), *(f"wrote {path}" for path in written)):
        out.write(line + "\n")
    return 0


def _write(work: JobWork, arguments: Namespace) -> tuple[Path, ...]:
    """Write what was asked for; the paths that were written."""
    if arguments.out is None:
        return ()
    from coper.paper.files import make_folder, write_whole
    from coper.work.job import job_files

    folder = read("--out", arguments.out, read_file)
    files = job_files(work, folder)
    make_folder(folder)
    write_whole(files, arguments.force)
    return tuple(files)
