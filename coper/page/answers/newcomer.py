"""What somebody who measures a first bicycle has to know: which numbers are needed for what."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.bicycle.measured import Measured
from coper.bicycle.wanting import Wanting, Way, wanting
from coper.job.read import job_tables
from coper.job.schema import TomlTable
from coper.job.starter import KINDS, STARTER_UNITS, starter_job
from coper.page.answers.change import table_of
from coper.page.answers.fields import NAMES

TABLE: Final = "bicycle"

MOST_KEYS: Final = 2
"""Of a way that needs more keys than this nothing is said: whoever measured so finds its field."""


@dataclass(frozen=True, slots=True)
class Need:
    """What numbers are for: its name, and what it still needs; empty where it is there."""

    name: str
    words: str


def needs(measured: Measured) -> tuple[Need, ...]:
    """What the numbers give and which are still needed; nothing where all are there."""
    found = wanting(measured)
    if all(one.reached for one in found):
        return ()
    return tuple(Need(one.aim.name, _words(one)) for one in found)


def _words(one: Wanting) -> str:
    own = "; ".join(", or ".join(_way(way) for way in ways if len(way) <= MOST_KEYS)
                    for ways in one.ways)
    before = f"the {' and the '.join(one.after)} first" if one.after else ""
    return "; ".join(filter(None, (before, own)))


def _way(way: Way) -> str:
    return " and ".join(NAMES[key] for key in way)


def examples(text: str) -> tuple[str, ...]:
    """The names of the numbers that a new job has from its example; none once half are others."""
    table = table_of(text, TABLE)
    for example in _begun(text):
        same = [key for key, value in example.items() if table.get(key) == value and key in NAMES]
        if 2 * len(same) > len(example):
            return tuple(NAMES[key] for key in same)
    return ()


def _begun(text: str) -> tuple[TomlTable, ...]:
    """The numbers of the examples that the text may have begun as; it has their first line then."""
    first = text.partition("\n")[0]
    return tuple(table for line, table in _starters() if line == first and table)


@lru_cache(maxsize=1)
def _starters() -> tuple[tuple[str, TomlTable], ...]:
    found = []
    for kind in KINDS:
        for unit in STARTER_UNITS:
            text = starter_job(kind, unit)
            table = job_tables(text).get(TABLE)
            found.append((text.partition("\n")[0], table if isinstance(table, dict) else {}))
    return tuple(found)
