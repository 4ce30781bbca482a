"""The largest gap that a process bridges: published, or common practice and called so."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from coper.errors import JointError, nearest_known
from coper.units import INCH_MM, format_short, format_size, shown

NO_SOURCE = "common practice, no source"
OF_JOB = "as given in the job"
MOST_MM = 25.0
"""No process bridges more: a larger limit is a slip of the decimal point."""


@dataclass(frozen=True, slots=True)
class Limit:
    """The largest gap in mm that is still good, what for, and who says so."""

    mm: float
    process: str
    source: str

    def words(self) -> str:
        """The limit, what for and who says so."""
        return f"{format_short(self.mm)} ({', '.join(filter(None, (self.process, self.source)))})"


PROCESSES = {
    limit.process: limit
    for limit in (
        Limit(0.005 * INCH_MM, "silver-braze",
              ".002 to .005 in: Machinery's Handbook 31, table 1a, after AWS A5.8"),
        Limit(INCH_MM / 16, "structural-fillet",
              "1/16 in as it is, the leg grows by more: AWS D1.1, fillet welds"),
        Limit(0.3, "tig", NO_SOURCE),
        Limit(1.0, "mig", NO_SOURCE),
        Limit(1.6, "stick", NO_SOURCE),
        Limit(0.5, "fillet-braze", NO_SOURCE),
    )
}
"""The known processes by name."""


def process_word(name: str) -> str:
    """A process's name as the table has it: small letters, a hyphen between words."""
    return "-".join(name.lower().split())


def process_limit(name: str, own: Mapping[str, float] | None = None) -> Limit:
    """The limit of a process, its name in any case.

    ``own`` limits in mm, by their :func:`process_word`, go before those of ``PROCESSES``.
    """
    word, job = process_word(name), own or {}
    if word in job:
        return Limit(job[word], word, OF_JOB)
    if word not in PROCESSES:
        raise JointError(f"{shown(name)!r} is no process that is known",
                         nearest_known(word, {*PROCESSES, *job}))
    return PROCESSES[word]


def own_limit(mm: float) -> Limit:
    """A limit of the person's own, mm."""
    if not (math.isfinite(mm) and 0 < mm <= MOST_MM):
        raise JointError(f"a gap of {format_size(mm)} is no limit",
                         f"give one above 0 and up to {format_size(MOST_MM)}")
    return Limit(mm, "", "as given")
