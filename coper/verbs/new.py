"""``coper new``: a job file to begin with, every key of it explained.

It is a complete job like the demo: change its numbers to yours.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from coper.errors import WordsError
from coper.job.starter import starter_job
from coper.telling.lines import Line
from coper.telling.records.head import json_head
from coper.verbs.answer import Answer
from coper.verbs.options import add_output

HELP = "Write a job file to begin with, every key of it explained."
EXAMPLES = """\
examples:
  coper new frame.toml
  coper new rack.toml --json
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    parser.add_argument("file", metavar="FILE", type=_job_name, help="the job file to write")
    add_output(parser)


def _job_name(text: str) -> Path:
    """The path of a job file to write."""
    if not text.strip():
        raise WordsError("no name", "give one, such as frame.toml")
    return Path(text)


def ask(arguments: Namespace) -> Answer[str]:
    """The answer to what the options ask."""
    return new(arguments.file)


def new(file: Path) -> Answer[str]:
    """The text of a job to begin with, to be written to ``file``."""
    text = starter_job()

    def record() -> dict[str, Any]:
        return {**json_head(), "wrote": str(file)}

    def lines() -> Iterator[Line]:
        yield f"{file}: change its numbers to yours, then: coper job {file}"

    return Answer("a job to begin with", text, record, lines, files={"file": text.encode})
