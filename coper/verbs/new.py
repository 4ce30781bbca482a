"""``coper new``: a job file to begin with.

It is a complete job: change its numbers to yours. --like says what you build: a bicycle, of which
every key is explained; a rear-end alone, new stays on a frame that stands already; a trailer; a
rack. --units says what its bare numbers are, mm or in.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from coper.errors import WordsError
from coper.job.starter import KINDS, STARTER_UNITS, Kind, Unit, starter_job
from coper.telling.lines import Line
from coper.telling.records.head import json_head
from coper.verbs.answer import Answer
from coper.verbs.options import add_output, choice

HELP = "Write a job file to begin with: a bicycle, a rear end, a trailer or a rack."
EXAMPLES = """\
examples:
  coper new frame.toml
  coper new trailer.toml --like trailer --units in
  coper new rack.toml --like rack --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    parser.add_argument("file", metavar="FILE", type=_job_name, help="the job file to write")
    parser.add_argument("--like", type=choice(*KINDS), default="bicycle", metavar="STARTER",
                        help=f"what you build: {', '.join(KINDS)} (bicycle)")
    parser.add_argument("--units", type=choice(*STARTER_UNITS), default="mm",
                        help=f"unit of its bare numbers: {' or '.join(STARTER_UNITS)} (mm)")
    add_output(parser)


def _job_name(text: str) -> Path:
    """The path of a job file to write."""
    if not text.strip():
        raise WordsError("no name", "give one, such as frame.toml")
    return Path(text)


def ask(arguments: Namespace) -> Answer[str]:
    """The answer to what the options ask."""
    return new(arguments.file, arguments.like, arguments.units)


def new(file: Path, like: Kind = "bicycle", units: Unit = "mm") -> Answer[str]:
    """The text of a job to begin with, to be written to ``file``."""
    text = starter_job(like, units)

    def record() -> dict[str, Any]:
        return {**json_head(), "wrote": str(file), "like": like, "units": units}

    def lines() -> Iterator[Line]:
        yield f"{file}: change its numbers to yours, then: coper job {file}"
        others = ", ".join(kind for kind in KINDS if kind != like)
        yield f"it is a {like} in {units}; other starters: --like {others}"

    return Answer("a job to begin with", text, record, lines, files={"file": text.encode})
