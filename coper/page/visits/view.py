"""The frame as it is seen from where one turned it, for any station."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from coper.drawing.svg import Dress
from coper.page.answers.frame_view import Marked, View, frame_view, look_from
from coper.page.visit import Visit
from coper.sheets.frame_view import LOOKS, Look


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
    visit: Visit, here: str, turn: str, chosen: str = "", points: bool = True,
    marked: Sequence[Marked] = (), dressed: Mapping[str, Dress] | None = None,
) -> Shown:
    """The view of a visit's job from where its address says, for ``parts/frame_view.html``.

    Parameters
    ----------
    visit
        With ``round`` and ``up`` behind the question mark of its address.
    here
        The address of the page that it stands on.
    turn
        The address that answers this view alone.
    chosen, points, marked, dressed
        As :func:`coper.page.answers.frame_view.frame_view` has them.
    """
    view = seen(visit, chosen, points, marked, dressed)
    return Shown(view, turn, side_links(visit, here, LOOKS, "view"))


def dots(
    points: Iterable[tuple[str, str]], chosen: str, to: Callable[[str], str], how: str
) -> dict[str, Dress]:
    """Each point, by its name and where it is, as a link; the ``chosen`` one is in hand.

    ``how`` is what a reader of screens says of that one.
    """
    return {f"point-{name}": Dress("in-hand" if name == chosen else "", to(name),
                                   f"{name}, {f'{how}, ' if name == chosen else ''}{where}")
            for name, where in points}


def side_links(
    visit: Visit, here: str, looks: Iterable[tuple[str, Look]], part: str
) -> tuple[tuple[str, str], ...]:
    """Words and address of a page's links to what its ``part`` shows, seen from each side.

    The picture itself says which way is where then; a link has room for a few words on a phone.
    """
    return tuple((words.partition(":")[0], here + visit.asking(
        {"round": f"{look.round:g}", "up": f"{look.up:g}"}) + f"#{part}")
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
                      marked, dressed, visit.narrow)

