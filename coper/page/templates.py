"""Values set into the page's templates; whatever they hold stays text."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Final
from urllib.parse import quote

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context

from coper.page.answers.page_words import page_words
from coper.page.answers.stations import STATIONS, after

PARTS: Final = Path(__file__).parent / "parts"

UNIT_NAMES: Final = {"in": "inches", "ft": "feet"}
"""What a unit is called in a sentence, where that is not how it is written."""


@cache
def _environment() -> Environment:
    made = Environment(loader=FileSystemLoader(PARTS), autoescape=True, undefined=StrictUndefined,
                       trim_blocks=True, lstrip_blocks=True)
    made.globals.update(stations=STATIONS, after=after)
    made.filters.update(unit=lambda unit: UNIT_NAMES.get(unit, unit), here=_here,
                        urlencode=_part)  # its own leaves / as it is
    return made


@pass_context
def _here(context: Context, said: object) -> str:
    """A sentence of coper in the page's words; on a job's page with the ways to its places."""
    name = context.get("name")
    pieces = [(one.words, address(name, *one.to) + (f"#{one.at}" if one.at else "")
               if name and one.to else "") for one in page_words(str(said))]
    words: str = vars(_environment().get_template("here.html").module)["pieces"](pieces)
    return words


def address(*parts: str) -> str:
    """The address of a place, each part with whatever letters it has."""
    return "/".join(("", *map(_part, parts)))


def _part(part: str) -> str:
    return quote(part, safe="")


def rendered(part: str, **values: object) -> str:
    """The template ``part`` with these values."""
    return _environment().get_template(part).render(values)
