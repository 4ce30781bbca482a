"""What a person types to ask of a job: its file, and an end of it by name."""

from __future__ import annotations

import re

from coper.frame.end import TubeEnd
from coper.frame.tube import Tube

BARE = re.compile(r"[\w./:-]+")
QUOTED = re.compile(r'[\\"$`]')
"""Words that no shell parts, and what it would read something into between quotes."""

UNKNOWN_FILE = "FILE"
"""Stands where the job's file has no name that can be typed: it came through a pipe."""


def typed_file(file: str) -> str:
    """A job's file; ``file`` is empty where it is not known."""
    return typed_word(file or UNKNOWN_FILE)


def typed_tube(tube: Tube) -> str:
    """A tube as a command names it: ``chain-stay left``."""
    side = () if tube.side == "centre" else (tube.side,)
    return " ".join((typed_word(tube.name), *side))


def typed_end(tube: Tube, end: TubeEnd) -> str:
    """An end as a command names it: ``chain-stay left start``."""
    return f"{typed_tube(tube)} {end.which}"


def typed_word(word: str) -> str:
    """A word as any shell takes it for one; quotes are put where it needs them."""
    return word if BARE.fullmatch(word) else '"' + QUOTED.sub(r"\\\g<0>", word) + '"'
