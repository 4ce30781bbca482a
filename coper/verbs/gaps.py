"""Gap readings as they are typed: ``CLOCK=MM,CLOCK=MM,…``."""

from __future__ import annotations

from dataclasses import dataclass

from coper.errors import CoperError, WordsError
from coper.units import parse_angle
from coper.verbs.options import length


@dataclass(frozen=True, slots=True)
class TypedGaps:
    """Readings as they were typed: pairs of clock in degrees and gap in mm, in that order."""

    typed: str
    pairs: tuple[tuple[float, float], ...]


def typed_gaps(text: str) -> TypedGaps:
    """``CLOCK=MM,CLOCK=MM,…``."""
    return TypedGaps(text, tuple(_reading(part.strip()) for part in text.split(",")
                                 if part.strip()))


def _reading(text: str) -> tuple[float, float]:
    clock, sign, gap = text.partition("=")
    if not sign:
        raise WordsError(f"{text!r} is not a reading",
                         "write CLOCK=MM with a decimal point, such as 45=0.3")
    try:
        return parse_angle(clock), length(gap)
    except CoperError as error:
        raise error.at(repr(text)) from error
