"""What a shop book holds: rounds of readings, ticks, what finished parts measured, versions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from coper.frame.tube import Side, Which, labelled

STEPS: Final = ("cut", "fitted", "tacked", "welded")
"""What is done to an end, in this order, and ticked."""


@dataclass(frozen=True, slots=True)
class EndName:
    """An end of a job by its name."""

    tube: str
    side: Side
    end: Which

    @property
    def words(self) -> str:
        """As it is asked for: ``chain-stay left start``."""
        return f"{labelled(self.tube, self.side)} {self.end}"


@dataclass(frozen=True, slots=True)
class Reading:
    """What a feeler gauge read: the clock in degrees, the gap in mm."""

    clock: float
    gap: float


@dataclass(frozen=True, slots=True)
class Readings:
    """A round of readings, not yet answered.

    Attributes
    ----------
    end : EndName
    gaps : tuple of Reading
    typed : str
        The readings as they were typed.
    cut : str
        How the end was cut, as ``--cut`` has it.
    limit : float or None, mm
        The gap that was still good.
    """

    end: EndName
    gaps: tuple[Reading, ...]
    typed: str
    cut: str
    limit: float | None = None

    @property
    def largest(self) -> float:
        """The largest of the gaps, mm."""
        return max(one.gap for one in self.gaps)

    def same(self, other: Readings) -> bool:
        """Whether they are the readings of ``other``, given again."""
        return (self.end, self.gaps, self.cut) == (other.end, other.gaps, other.cut)


@dataclass(frozen=True, slots=True)
class Round:
    """A round of readings that was answered, and kept.

    Attributes
    ----------
    number : int
        Of this end, from 1 on.
    at : str
        When: ISO 8601 in UTC, to the second.
    readings : Readings
    answer : dict
        What was answered: the ``regrind`` of the JSON.
    version : int
        That of the job file.
    """

    number: int
    at: str
    readings: Readings
    answer: dict[str, Any]
    version: int

    @property
    def promised(self) -> float:
        """The largest gap that was to be expected after it, mm."""
        return float(self.answer["largest_gap_after"])


@dataclass(frozen=True, slots=True)
class Tick:
    """A step that is done to an end, and when."""

    end: EndName
    step: str
    at: str


@dataclass(frozen=True, slots=True)
class MadePart:
    """What a finished part measured.

    Attributes
    ----------
    tube : str
    side : Side
    what : str
        ``length``; ``angle``, of the end that is put home first, ``angle-start`` or ``angle-end``.
    value : float
        mm, or degrees.
    typed, at : str
        As it was typed, and when.
    """

    tube: str
    side: Side
    what: str
    value: float
    typed: str
    at: str = ""


@dataclass(frozen=True, slots=True)
class Version:
    """A job file as it was when something was kept.

    Attributes
    ----------
    number : int
        From 1 on.
    at : str
    text : str
        All of the file.
    """

    number: int
    at: str
    text: str


@dataclass(frozen=True, slots=True)
class Around:
    """What undo brings back, and what redo does; ``None`` where that is nothing."""

    before: Version | None
    after: Version | None
