"""The stations in the order of work, each with an address of its own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Station:
    """A station: the last part of its address, and its name on the page."""

    key: str
    name: str


STATIONS: Final = tuple(Station(name.lower(), name) for name in (
    "Measure", "Tubes", "Ends", "Table", "Check", "Print", "Bench"))

KEYS: Final = tuple(station.key for station in STATIONS)
