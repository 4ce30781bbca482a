"""What of the readings cannot be right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from coper.bicycle.tracking.rear_end import Faces
from coper.bicycle.tracking.tracking import Tracking, misread

UNLIKELY_MM = 12.0
"""Dropouts this far from the hub's width are more likely misread than built so.

The common hubs of a road and of a geared bicycle are 120 to 135 mm over the lock nuts (common
practice, no source): a frame may be one step off, hardly two.
"""

Method = Literal["straight edge", "string"]


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Straight edge and string further apart than good readings allow.

    Attributes
    ----------
    apart, allowed : float, mm
        On how far the rear end is off.
    side : ``left`` or ``right``
        Where they differ more.
    differ : float, mm
        By how much, on that side.
    """

    apart: float
    allowed: float
    side: Literal["left", "right"]
    differ: float


def disagreement(found: Tracking) -> Disagreement | None:
    """Straight edge against string; ``None`` where both may be right."""
    one, other = found.edge, found.string
    if one is None or other is None:
        return None
    apart, allowed = abs(one.off - other.off), one.uncertainty + other.uncertainty
    if apart <= allowed:
        return None
    left = abs(one.stand.left - other.stand.left)
    right = abs(one.stand.right - other.stand.right)
    return Disagreement(apart, allowed, "left" if left > right else "right", max(left, right))


def belied(found: Tracking) -> tuple[tuple[Method, Faces], ...]:
    """The ways of reading that the measured width, mm, says are wrong."""
    width = found.readings.width
    if width is None:
        return ()
    return tuple((name, faces) for name, faces in _ways(found) if misread(faces, width))


def unlikely(found: Tracking) -> tuple[tuple[Method, Faces], ...]:
    """The ways of reading that stray too far from the hub, where the width was not measured."""
    if found.readings.width is not None:
        return ()
    return tuple((name, faces) for name, faces in _ways(found)
                 if abs(faces.width - found.rear.hub) > UNLIKELY_MM)


def plausible(found: Tracking) -> bool:
    """Whether all the readings can be right."""
    return disagreement(found) is None and not belied(found) and not unlikely(found)


def good(found: Tracking) -> bool:
    """Whether all that was read is within the limit, and can be right."""
    return found.within and plausible(found)


def _ways(found: Tracking) -> Iterator[tuple[Method, Faces]]:
    if found.edge is not None:
        yield "straight edge", found.edge
    if found.string is not None:
        yield "string", found.string
