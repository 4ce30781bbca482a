"""The room that a page has left for a block."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from coper.drawing.bounds import Bounds

GAP_MM = 6.0
"""Between blocks: room for the scissors."""

SLACK_MM = 1e-6
"""A block this much too large still fits: rounding of a sum of coordinates."""


@dataclass(slots=True)
class Room:
    """What is taken of a page.

    Attributes
    ----------
    content : Bounds, mm
        What the page has for blocks.
    taken : list of Bounds
        Where blocks stand.
    refused : list of (width, height), mm
        Sizes there was no room for; there will be none later.
    """

    content: Bounds
    taken: list[Bounds] = field(default_factory=list)
    refused: list[tuple[float, float]] = field(default_factory=list)

    def take(self, width: float, height: float, below: float = np.inf) -> Bounds | None:
        """The highest room of a size, of several the leftmost; ``None`` where there is none.

        It begins no higher than ``below``.
        """
        if any(width >= wide and height >= high for wide, high in self.refused):
            return None
        content = self.content
        lefts = sorted({content.left, *(one.right + GAP_MM for one in self.taken)})
        tops = sorted({content.top, *(one.bottom - GAP_MM for one in self.taken)}, reverse=True)
        places = (Bounds(left, top - height, left + width, top)
                  for top in tops if top <= below for left in lefts)
        place = next((place for place in places if self._is_free(place)), None)
        if place is None and below >= content.top:
            self.refused.append((width, height))
        elif place is not None:
            self.taken.append(place)
        return place

    def _is_free(self, place: Bounds) -> bool:
        content, near = self.content, GAP_MM - SLACK_MM
        return (
            place.right <= content.right + SLACK_MM
            and place.bottom >= content.bottom - SLACK_MM
            and all(
                place.left >= one.right + near or place.right <= one.left - near
                or place.bottom >= one.top + near or place.top <= one.bottom - near
                for one in self.taken
            )
        )
