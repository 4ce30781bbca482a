"""Points at the station Measure: the list, one in hand, a new one; and the frame with its dots."""

from __future__ import annotations

from coper.drawing.svg import Dress
from coper.page.answers.change import Change
from coper.page.answers.frame_view import Marked
from coper.page.answers.point_changes import (
    NAME,
    NEW,
    TITLE,
    added,
    called,
    changed,
    titled,
    without,
)
from coper.page.answers.point_fields import FIELDS
from coper.page.answers.points import Points, points
from coper.page.visit import SVG, Address, Reply, Visit, changed_fields, kept
from coper.page.visits.view import dots, seen, shown

KEY = "measure"
ALONE = "points.svg"


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The points of a job with the one in hand, as a page."""
    name = visit.parts.get("point", "")
    page = points(visit.text, name, change)
    if name and page.hand is None:
        if change is None:
            return Reply(status=303, to=visit.address(KEY))  # undo took it, or its name, away
        if not page.wrong:  # its field is not there to stand beside
            visit = visit.saying(*map(str, change.faults), status=visit.status)
    here = visit.address(KEY, *visit.parts.values())
    turn = visit.address(ALONE) + visit.asking({"point": name, "round": "", "up": ""})
    view = shown(visit, here, turn, marked=_marked(page), dressed=_dressed(visit, page))
    return visit.page("points.html", KEY, title=page.title, points=page, shown=view)


def change(visit: Visit) -> Reply:
    """The fields of the point in hand, written as far as they can be."""
    form, name = visit.form, visit.parts["point"]
    return kept(visit, changed_fields(visit, FIELDS),
                lambda: changed(visit.text, name, form, form.get("first", "")), show,
                visit.address(KEY, name) + visit.search)


def rename(visit: Visit) -> Reply:
    """Another name for the point in hand, wherever it is named."""
    typed = visit.form.get(NAME, "")
    made, name = called(visit.text, visit.parts["point"], typed)
    return kept(visit, {NAME: typed}, lambda: made, show, visit.address(KEY, name))


def remove(visit: Visit) -> Reply:
    """The point in hand taken out, unless something is measured from it."""
    return kept(visit, {}, lambda: without(visit.text, visit.parts["point"]), show,
                visit.address(KEY))


def add(visit: Visit) -> Reply:
    """One more point."""
    typed = {key: words for key, words in visit.form.items() if key.startswith(NEW)}
    made, name = added(visit.text, visit.form)
    return kept(visit, typed, lambda: made, show, visit.address(KEY, name))


def retitle(visit: Visit) -> Reply:
    """Another title of the job."""
    typed = visit.form.get(TITLE, "")
    return kept(visit, {TITLE: typed}, lambda: titled(visit.text, typed), show,
                visit.address(KEY))


def alone(visit: Visit) -> Reply:
    """The frame with its dots, from where it is turned to."""
    page = points(visit.text, visit.asked("point"))
    view = seen(visit, marked=_marked(page), dressed=_dressed(visit, page))
    return Reply(view.picture, kind=SVG)


def _marked(page: Points) -> tuple[Marked, ...]:
    """A ring round the point in hand."""
    return () if page.hand is None or not page.hand.at else (Marked(page.hand.at, "", "in-hand"),)


def _dressed(visit: Visit, page: Points) -> dict[str, Dress]:
    """Every dot leads to its point, seen from where one looks now."""
    return dots(((one.name, one.where) for one in (*page.given, *page.own)),
                "" if page.hand is None else page.hand.name,
                lambda name: visit.address(KEY, name) + visit.asking({"point": ""}), "in hand")


ADDRESSES = (Address("measure/{point}", show, change),
             Address("measure/{point}/name", show, rename),
             Address("measure/{point}/remove", show, remove),
             Address("points", show, add), Address("title", show, retitle), Address(ALONE, alone))
