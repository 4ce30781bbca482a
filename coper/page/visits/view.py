"""The frame as it is seen from where one turned it: for any station, and alone for a drag."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from coper.drawing.svg import Dress
from coper.page.answers.frame_view import Marked, View, frame_view, look_from
from coper.page.visit import SVG, Address, Reply, Visit
from coper.sheets.frame_view import LOOKS, Look

OWN = "view.svg"


@dataclass(frozen=True, slots=True)
class Shown:
    """A view in a station.

    Attributes
    ----------
    view : View
    turn : str
        The address that answers it alone, turned.
    sides : tuple of (words, address)
        The views that have a name.
    """

    view: View
    turn: str
    sides: tuple[tuple[str, str], ...]


def shown(
    visit: Visit, here: str, chosen: str = "", points: bool = True,
    marked: Sequence[Marked] = (), dressed: Mapping[str, Dress] | None = None, turn: str = "",
) -> Shown:
    """The view of a visit's job from where its address says, for ``parts/frame_view.html``.

    Parameters
    ----------
    visit
        With ``round`` and ``up`` behind the question mark of its address.
    here
        The address of the page that it stands on.
    chosen, points, marked, dressed
        As :func:`coper.page.answers.frame_view.frame_view` has them.
    turn
        The address that answers this view alone; this file's own unless a station marks or
        dresses something.
    """
    view = seen(visit, chosen, points, marked, dressed)
    own = visit.address(OWN) + (f"?{urlencode({'tube': chosen})}" if chosen else "")
    return Shown(view, turn or own, side_links(here, LOOKS, "view"))


def side_links(
    here: str, looks: Iterable[tuple[str, Look]], part: str
) -> tuple[tuple[str, str], ...]:
    """Words and address of a page's links to what its ``part`` shows, seen from each side.

    The picture itself says which way is where then; a link has room for a few words on a phone.
    """
    ask = "&" if "?" in here else "?"
    return tuple((words.partition(":")[0],
                  f"{here}{ask}round={look.round:g}&up={look.up:g}#{part}")
                 for words, look in looks)


def seen(
    visit: Visit, chosen: str = "", points: bool = True, marked: Sequence[Marked] = (),
    dressed: Mapping[str, Dress] | None = None,
) -> View:
    """The view alone.

    Raises
    ------
    CoperError
        Where the address says a wrong number.
    """
    look = look_from(visit.asked("round"), visit.asked("up"))
    return frame_view(visit.text, look, lambda tube: visit.address("tubes", tube), chosen, points,
                      marked, dressed)


def alone(visit: Visit) -> Reply:
    """What a drag asks for."""
    return Reply(seen(visit, visit.asked("tube")).picture, kind=SVG)


ADDRESSES = (Address(OWN, alone),)
