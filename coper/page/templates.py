"""Values set into the page's templates; whatever they hold stays text."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from coper.page.answers.stations import STATIONS

PARTS: Final = Path(__file__).parent / "parts"


@cache
def _environment() -> Environment:
    made = Environment(loader=FileSystemLoader(PARTS), autoescape=True, undefined=StrictUndefined,
                       trim_blocks=True, lstrip_blocks=True)
    made.globals["stations"] = STATIONS
    return made


def rendered(part: str, **values: object) -> str:
    """The template ``part`` with these values."""
    return _environment().get_template(part).render(values)
