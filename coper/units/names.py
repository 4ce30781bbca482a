"""The units of lengths and the systems of gauges."""

from __future__ import annotations

from typing import Final

INCH_MM: Final = 25.4
"""One inch in mm, exactly, by definition."""

FOOT_MM: Final = 12 * INCH_MM
"""One foot in mm."""

UNIT_MM: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": INCH_MM, "ft": FOOT_MM}
"""Each unit of a length in mm."""

UNITS: Final = tuple(UNIT_MM)
"""The units of a length, and of a job's bare numbers."""

INCHES: Final = ("in", "ft")
"""The units of a job or an order whose lengths are written in inches first."""

GAUGE_NAMES: Final = {"bwg": "Birmingham gauge", "swg": "Standard Wire Gauge"}
"""The gauge systems of a wall in words."""

GAUGES: Final = tuple(GAUGE_NAMES)
"""The gauge systems of a wall."""

BARE_GAUGES: Final = ("ga", "gauge", "gage", "g")
"""Words for a gauge that name no system."""

LENGTH_WORDS: Final = (*UNITS, *GAUGES, *BARE_GAUGES)
"""Every word that may follow the number of a length or a wall, including those refused."""
