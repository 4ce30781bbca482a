"""``coper help``: a topic to look up.

How to write tubes, the words of the trade, the processes and their limits, every key of a job
file, papers and printers, what to take care of.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from typing import Any

from coper.telling.lines import Line
from coper.telling.records.head import json_head
from coper.telling.topics import TOPICS
from coper.verbs.answer import Answer
from coper.verbs.options import add_json, choice

HELP = "Look up a topic: tubes, words, limits, keys, paper, care."
EXAMPLES = """\
examples:
  coper help tubes
  coper help keys
"""


def add_options(parser: ArgumentParser) -> None:
    """The options of the verb."""
    parser.add_argument("topic", metavar="TOPIC", nargs="?", type=choice(*TOPICS),
                        help=", ".join(TOPICS))
    add_json(parser)


def ask(arguments: Namespace) -> Answer[str]:
    """The answer to what the options ask."""
    return read_up(arguments.topic)


def read_up(topic: str | None = None) -> Answer[str]:
    """One of ``TOPICS``; without a name, the list of topics."""

    def lines() -> Iterator[Line]:
        if topic is None:
            for name, make in TOPICS.items():
                yield f"coper help {name:<8} {make.__doc__}"
            yield "coper VERB --help has every option of a verb, and explains its answer."
        else:
            yield from TOPICS[topic]()

    def record() -> dict[str, Any]:
        return {**json_head(), "topic": topic, "topics": list(TOPICS)}

    return Answer(topic or "help", topic or "", record, lines)
