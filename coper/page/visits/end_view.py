"""A shaped end as it is seen from where one turned it: for any station, and alone for a drag."""

from __future__ import annotations

from dataclasses import dataclass

from coper.job.named_end import JobEnd
from coper.page.answers.end_view import EndView, end_view
from coper.page.answers.frame_view import look_from
from coper.page.answers.named import end_name, end_of
from coper.page.visit import SVG, Address, Reply, Visit
from coper.page.visits.named import end_parts
from coper.page.visits.view import side_links
from coper.sheets.end_view import FIRST

OWN = "end.svg"


@dataclass(frozen=True, slots=True)
class EndShown:
    """An end's view in a station.

    Attributes
    ----------
    name : str
        Of the end.
    view : EndView
    turn : str
        The address that answers it alone, turned.
    sides : tuple of (words, address)
        The views that have a name.
    """

    name: str
    view: EndView
    turn: str
    sides: tuple[tuple[str, str], ...]


def end_shown(visit: Visit, end: JobEnd, here: str) -> EndShown:
    """The view of an end from where the address says, for ``parts/end_view.html``.

    ``here`` is the address of the page that it stands on.
    """
    view, name = _seen(visit, end), end_name(end)
    return EndShown(
        name.words, view, visit.address(OWN, name.tube, name.side, name.end),
        side_links(visit, here, view.sides, "end-view"))


def _seen(visit: Visit, end: JobEnd) -> EndView:
    """As it is looked at first where the address does not say."""
    first = "" if visit.asked("round") or visit.asked("up") else f"{FIRST.up:g}"
    return end_view(end, look_from(visit.asked("round"), visit.asked("up") or first))


def alone(visit: Visit) -> Reply:
    """What a drag asks for."""
    return Reply(_seen(visit, end_of(visit.text, *end_parts(visit))).picture, kind=SVG)


ADDRESSES = (Address("end.svg/{tube}/{side}/{end}", alone),)
