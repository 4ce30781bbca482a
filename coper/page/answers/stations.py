"""The stations in the order of work, each with an address of its own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Station:
    """A station.

    Attributes
    ----------
    name : str
        Its name on the page.
    what : str
        What is there, for whoever goes on to it.
    """

    name: str
    what: str

    @property
    def key(self) -> str:
        """The last part of its address."""
        return self.name.lower()


STATIONS: Final = (
    Station("Measure", "the frame's numbers and points"),
    Station("Tubes", "every tube, and what its ends seat on"),
    Station("Ends", "how each end is cut, and the gap to expect"),
    Station("Table", "the frame laid out on the table"),
    Station("Check", "what fouls, and whether it is straight"),
    Station("Print", "the packet to take to the bench"),
    Station("Bench", "each end step by step, from the cut to the weld"),
)

KEYS: Final = tuple(station.key for station in STATIONS)


def after(station: Station) -> Station | None:
    """The station that follows in the order of work."""
    at = STATIONS.index(station) + 1
    return STATIONS[at] if at < len(STATIONS) else None
