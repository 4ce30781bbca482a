"""A shaped end as it is cut, seen from where one turned it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from coper.drawing.svg import Dress, svg_element
from coper.job.named_end import JobEnd
from coper.sheets.end_view import EndStage, end_stage, end_view_page
from coper.sheets.frame_view import Look

REMEMBERED: Final = 32


@dataclass(frozen=True, slots=True)
class EndView:
    """The picture, and the sides that have a name.

    Attributes
    ----------
    picture : str
        An element of SVG.
    look : Look
    sides : tuple of (words, Look)
    """

    picture: str
    look: Look
    sides: tuple[tuple[str, Look], ...]


def end_view(end: JobEnd, look: Look) -> EndView:
    """The end as it is seen from somewhere; what is open of it is asked about."""
    stage = _stage(end)
    dressed = {f"open-{number}": Dress("asked") for number in range(1, len(stage.open) + 1)}
    return EndView(svg_element(end_view_page(stage, look), dressed), look, stage.looks())


@lru_cache(maxsize=REMEMBERED)
def _stage(end: JobEnd) -> EndStage:
    return end_stage(end.piece, end.end, end.joint, end.mains)
