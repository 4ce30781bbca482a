"""What of the readings cannot be right, or cannot be told, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from coper.bicycle.tracking.rear_end import Faces
from coper.bicycle.tracking.tracking import Tracking, misread
from coper.units import format_mm

UNLIKELY_MM = 12.0
"""Dropouts this far from the hub's width are more likely misread than built so.

The common hubs of a road and of a geared bicycle are 120 to 135 mm over the lock nuts (common
practice, no source): a frame may be one step off, hardly two.
"""


def doubts(found: Tracking) -> tuple[str, ...]:
    """Everything that calls for another reading, gravest first."""
    return (*misreadings(found), *_close(found))


def misreadings(found: Tracking) -> tuple[str, ...]:
    """What of the readings cannot be right."""
    return (*_disagree(found), *_misread(found), *_unlikely(found))


def good(found: Tracking) -> bool:
    """Whether all that was read is within the limit, and can be right."""
    return found.within and not misreadings(found)


def _disagree(found: Tracking) -> Iterator[str]:
    """Straight edge against string."""
    one, other = found.edge, found.string
    if one is None or other is None:
        return
    apart, allowed = abs(one.off - other.off), one.doubt + other.doubt
    if apart <= allowed:
        return
    left = abs(one.stand.left - other.stand.left)
    right = abs(one.stand.right - other.stand.right)
    side = "left" if left > right else "right"
    yield (f"Straight edge and string disagree by {format_mm(apart)} on how far the rear end is "
           f"off; good readings allow {format_mm(allowed)}. Read the {side} side again: there "
           f"they differ by {format_mm(max(left, right))}.")


def _misread(found: Tracking) -> Iterator[str]:
    """Both ways of reading against the measured width."""
    width = found.readings.width
    if width is None:
        return
    for name, faces in _ways(found):
        if misread(faces, width):
            over = faces.width - width
            yield (f"The {name}'s readings make the dropouts {format_mm(faces.width)} apart, "
                   f"measured are {format_mm(width)}: a reading or a measure of the frame is "
                   f"wrong, and off may be wrong by {format_mm(abs(over) / 2)}.")


def _unlikely(found: Tracking) -> Iterator[str]:
    """Both ways of reading against the hub, where the width was not measured."""
    if found.readings.width is not None:
        return
    for name, faces in _ways(found):
        if abs(faces.width - found.rear.hub) > UNLIKELY_MM:
            yield (f"By the {name} the dropouts would be {format_mm(faces.width)} apart, for a hub "
                   f"of {format_mm(found.rear.hub)}: measure between them, and read again.")


def _close(found: Tracking) -> Iterator[str]:
    for check in found.checks:
        if check.close:
            yield (f"{check.name.capitalize()} is too near the limit for these readings to tell: "
                   f"they are good to {format_mm(check.doubt)}.")


def _ways(found: Tracking) -> Iterator[tuple[str, Faces]]:
    for name, faces in (("straight edge", found.edge), ("string", found.string)):
        if faces is not None:
            yield name, faces
