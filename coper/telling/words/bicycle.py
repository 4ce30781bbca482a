"""What a bicycle measures, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict

from coper.bicycle.measures import Measures
from coper.units import format_angle, format_length

ROWS = (
    ("head_angle", "head angle on the ground"),
    ("seat_angle", "seat angle on the ground"),
    ("bracket_height", "bottom bracket height"),
    ("trail", "trail"),
    ("wheelbase", "wheelbase"),
    ("standover", "standover"),
    ("drop", "drop in the frame's axes"),
    ("tilt", "frame tipped, front up"),
)
"""Every measure and what it is called, most asked for first."""

ANGLES = ("head_angle", "seat_angle", "tilt")


def measure_words(measures: Measures) -> Iterator[tuple[str, str]]:
    """What is known, as (what it is called, how much)."""
    told = asdict(measures)
    for name, words in ROWS:
        if told[name] is not None:
            yield words, (format_angle if name in ANGLES else format_length)(told[name])
