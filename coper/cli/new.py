"""``coper new``: a job file to begin with."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from typing import TextIO

from coper.cli.options import read, read_file
from coper.cli.telling import tell, write_files

HELP = "Write a job file to begin with, every key of it explained."
EXAMPLES = """\
examples:
  coper new frame.toml
  coper new rack.toml --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    parser.add_argument("file", metavar="FILE", help="the job file to write")
    parser.add_argument("--force", action="store_true", help="replace a file that exists")
    parser.add_argument("--json", action="store_true",
                        help="print one JSON object and nothing else")


def run(arguments: Namespace, out: TextIO) -> int:
    """Write the file, and tell what comes next."""
    from coper.job.starter import starter_job
    from coper.telling.records.head import json_head

    file = read("FILE", arguments.file, lambda text: read_file(text, "frame.toml"))
    write_files(arguments, {file: starter_job().encode()})
    tell(arguments, out, lambda: {**json_head(), "wrote": str(file)},
         lambda: (f"wrote {file}: change its numbers to yours, then: coper job {file}",))
    return 0
