"""The station Check: the room round what moves, whether the frame is straight, what came out."""

from __future__ import annotations

from typing import Final
from urllib.parse import urlencode

from coper.page.answers.change import Change
from coper.page.answers.check import changed, checking, marked
from coper.page.answers.drive import SETTINGS
from coper.page.answers.settings import names
from coper.page.visit import SVG, Address, Reply, Visit, changed_fields, kept
from coper.page.visits import finished
from coper.page.visits.view import seen, shown

KEY = "check"

LIMIT: Final = "limit"
"""Behind the question mark: the smallest gap that is still good."""


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The room round wheels, cranks and heels."""
    limit = visit.asked(LIMIT)
    page = checking(visit.text, limit, change)
    turn = f"{visit.address(KEY, 'view.svg')}?{urlencode({LIMIT: limit})}"
    return visit.page("check.html", KEY, page=page, title=page.title, place="",
                      shown=shown(visit, visit.address(KEY), turn, points=False,
                                  marked=page.marked))


def change(visit: Visit) -> Reply:
    """Fields that were changed, written as far as they can be."""
    typed = changed_fields(visit, names(SETTINGS))
    return kept(visit, typed, lambda: changed(visit.text, typed), show,
                visit.address(KEY) + visit.search)


def alone(visit: Visit) -> Reply:
    """The picture, turned."""
    places = marked(visit.text, visit.asked(LIMIT))
    return Reply(seen(visit, points=False, marked=places).picture, kind=SVG)


ADDRESSES = (Address(KEY, show, change), Address("check/view.svg", alone), *finished.ADDRESSES)
