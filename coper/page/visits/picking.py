"""The frame at the station Tubes: a click on a dot picks its point for the tube in hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from coper.drawing.svg import Dress
from coper.frame.tube import ENDS
from coper.page.answers.change import Change
from coper.page.answers.frame_view import Marked, View
from coper.page.answers.picking import Picked, picked_for, picked_new, spots
from coper.page.visit import SVG, Address, Reply, Visit
from coper.page.visits.view import Shown, dots, seen, shown

KEY = "tubes"
ALONE = "view.svg"

POINT: Final = "point"
"""Behind the question mark: the point that is picked."""

TUBE: Final = "tube"
"""The same of the picture alone: the tube in hand."""

PICKS: Final = tuple(f"{which}.pick" for which in ENDS)
"""The same of a tube that is not there yet: the points that are chosen for its ends."""


@dataclass(frozen=True, slots=True)
class Picking:
    """What the station has of the point that is picked, for ``parts/picked.html``.

    Attributes
    ----------
    picked : Picked or None
        ``None`` where none is.
    can : bool
        Whether there is a dot to click.
    links : tuple of str
        For a new tube, the address of each use: the same page with the point chosen.
    """

    picked: Picked | None
    can: bool
    links: tuple[str, ...] = ()


def chosen(visit: Visit) -> dict[str, str]:
    """The points that are chosen for a new tube."""
    return {key: visit.asked(key) for key in PICKS}


def picking(visit: Visit, tube: str = "", change: Change | None = None) -> Picking:
    """The point that is picked for a tube, or for a new one."""
    can, name = bool(spots(visit.text)), visit.asked(POINT)
    if tube:
        return Picking(picked_for(visit.text, name, tube, change), can)
    picked = picked_new(visit.text, name, chosen(visit))
    uses = () if picked is None else picked.uses
    return Picking(picked, can, tuple(visit.address(KEY) + visit.asking(
        {box.name: box.typed for box in one.fields}) for one in uses))


def frame(visit: Visit, tube: str = "") -> Shown:
    """The frame with its dots, a tube in hand where one is named."""
    marked, dressed = _marked(visit), _dots(visit, tube)
    turn = visit.address(ALONE) + visit.asking({TUBE: tube, "round": "", "up": ""})
    return shown(visit, visit.address(KEY, *filter(None, (tube,))), turn, tube, marked=marked,
                 dressed=dressed)


def alone(visit: Visit) -> Reply:
    """What a drag asks for."""
    tube = visit.asked(TUBE)
    view: View = seen(visit, tube, marked=_marked(visit), dressed=_dots(visit, tube))
    return Reply(view.picture, kind=SVG)


def _marked(visit: Visit) -> tuple[Marked, ...]:
    """A ring round the point that is picked."""
    spot = spots(visit.text).get(visit.asked(POINT))
    return () if spot is None else (Marked((spot.at,), "", "in-hand"),)


def _dots(visit: Visit, tube: str) -> dict[str, Dress]:
    """Every dot leads to the page that it is on, its point picked."""
    here = visit.address(KEY, *filter(None, (tube,)))
    return dots(((spot.name, spot.where) for spot in spots(visit.text).values()),
                visit.asked(POINT), lambda name: here + visit.asking({POINT: name, TUBE: ""}),
                "picked")


ADDRESSES = (Address(ALONE, alone),)
