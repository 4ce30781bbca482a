"""Boxes for what the check bars measure, and what to type where they are off."""

from __future__ import annotations

from typing import Final

from coper.drawing.letters import text_width
from coper.drawing.marks import GAP_MM, NOTE_HEIGHT, THIN, Mark, Text
from coper.pages.boxes import box_path

HIGH_MM: Final = 6.5
"""A hand can write into a box of this height."""
LONG_MM: Final = 20.0
"""Room for ``100.25``."""


def measured_marks() -> tuple[Mark, ...]:
    """A row of two boxes, for the bar across and the bar along, from the origin to the right."""
    marks: list[Mark] = []
    x = 0.0
    for way in ("across", "along"):
        marks.append(Text((x, 0.0), way, NOTE_HEIGHT))
        x += text_width(way, NOTE_HEIGHT) + GAP_MM
        marks.append(box_path(x, (NOTE_HEIGHT - HIGH_MM) / 2, LONG_MM, HIGH_MM, THIN,
                              name=f"measured-{way}"))
        x += LONG_MM + 2 * GAP_MM
    marks.append(Text((x - GAP_MM, 0.0), "mm", NOTE_HEIGHT))
    return tuple(marks)


def cure_words(command: str) -> str:
    """What to do where a bar is not 100 mm long; ``command`` prints the pages again."""
    return (f"If one is off, type {command} with --printer ACROSS,ALONG, what both measure in mm, "
            "such as --printer 99.4,100.2, and print all pages again: they have another code.")
