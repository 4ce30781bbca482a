"""Which readings of a rear end cannot be right, or decide nothing, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bicycle.tracking.doubts import belied, disagreement, unlikely
from coper.bicycle.tracking.tracking import Tracking
from coper.units import format_short


def doubts(found: Tracking) -> tuple[str, ...]:
    """Everything that calls for another reading, gravest first."""
    return (*_disagree(found), *_belied(found), *_unlikely(found), *_close(found))


def _disagree(found: Tracking) -> Iterator[str]:
    one = disagreement(found)
    if one is not None:
        yield (f"Straight edge and string disagree by {format_short(one.apart)} on how far the "
               f"rear end is off; good readings allow {format_short(one.allowed)}. Read the "
               f"{one.side} side again: there they differ by {format_short(one.differ)}.")


def _belied(found: Tracking) -> Iterator[str]:
    width = found.readings.width or 0.0
    for name, faces in belied(found):
        yield (f"The {name}'s readings make the dropouts {format_short(faces.width)} apart, "
               f"but they measure {format_short(width)}: a reading or a measure of the frame is "
               f"wrong, and off may be wrong by {format_short(abs(faces.width - width) / 2)}.")


def _unlikely(found: Tracking) -> Iterator[str]:
    for name, faces in unlikely(found):
        yield (f"By the {name} the dropouts would be {format_short(faces.width)} apart, for a hub "
               f"of {format_short(found.rear.hub)}: measure between them, and read again.")


def _close(found: Tracking) -> Iterator[str]:
    for check in found.checks:
        if check.close:
            yield (f"{check.name.capitalize()} is too near the limit for these readings to tell: "
                   f"they are good to {format_short(check.uncertainty)}.")
