"""Pages of a roll: as wide as it or as their widest block, as long as they need, up to a length."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from coper.drawing.bounds import Bounds
from coper.errors import CoperError
from coper.pages.furniture import least_size, strip_below, strip_left, strip_right
from coper.pages.paper import LONGEST_MM, MARGIN_MM, content_of
from coper.pages.room import GAP_MM, SLACK_MM, Room
from coper.units import format_far


def short_parts(boxes: Sequence[Bounds], area: Bounds | None) -> list[slice]:
    """Blocks of these boxes, in their order, parted so that no page is longer than it may be.

    One block that is too long by itself is a part of its own. ``area`` is the printable part of
    the longest page of a roll that has a width.
    """
    longest = (LONGEST_MM - 2 * MARGIN_MM - strip_below() if area is None
               else content_of(area).height)
    if sum(box.height + GAP_MM for box in boxes) <= longest:
        return [slice(0, len(boxes))]
    width = _content_width(boxes, area)
    content = Bounds(0.0, -longest, width, 0.0)
    room, starts = Room(content), [0]
    for index, box in enumerate(boxes):
        if room.take(box.width, box.height) is None and index > starts[-1]:
            room = Room(content)
            room.take(box.width, box.height)
            starts.append(index)
    return [slice(start, end)
            for start, end in zip(starts, [*starts[1:], len(boxes)], strict=True)]


def _content_width(boxes: Sequence[Bounds], area: Bounds | None) -> float:
    """What a page has for blocks across, mm."""
    return max((box.width for box in boxes), default=0.0) if area is None else (
        content_of(area).width)


def roll_places(
    boxes: Sequence[Bounds], continued: Sequence[bool], printer: tuple[float, float],
    longest: Bounds | None = None,
) -> tuple[Bounds, list[Bounds]]:
    """The printable part of a page that just holds blocks, and where each stands, from 0 down.

    ``longest`` is the printable part of the longest page of a roll that has a width: the page is
    as wide.

    Raises
    ------
    CoperError
        No roll is so wide or so long.
    """
    width = _content_width(boxes, longest)
    room, places = Room(Bounds(0.0, -np.inf, width, 0.0)), list[Bounds]()
    for box, goes_on in zip(boxes, continued, strict=True):
        below = places[-1].top if goes_on and places else np.inf
        place = room.take(box.width, box.height, below)
        assert place is not None  # this room has no end
        places.append(place)
    height = -min((place.bottom for place in places), default=0.0)
    side, end = MARGIN_MM * printer[0] / 100, MARGIN_MM * printer[1] / 100
    wide = max(strip_left() + width + strip_right(), least_size())
    left, right = (side, side + wide) if longest is None else (longest.left, longest.right)
    area = Bounds(left, end, right,
                  end + max(strip_below() + height, strip_below() + least_size()))
    if max(area.left + area.right if longest is None else 0.0,
           area.bottom + area.top) > LONGEST_MM + SLACK_MM:
        raise CoperError(
            f"it needs a sheet of {format_far(width, height)}",
            f"a roll may be {format_far(LONGEST_MM)} wide and long: check the sizes and angles, or "
            "print it on sheets", "paper")
    return area, places
