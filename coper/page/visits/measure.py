"""The station Measure: looked at, its fields changed, and what is tried beside them kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from coper.page.answers.change import Change, tables_in
from coper.page.answers.fields import FIELDS
from coper.page.answers.measure import changed, measuring
from coper.page.answers.points import points as points_shown
from coper.page.answers.trying import FIELDS as TRIED
from coper.page.answers.trying import kept_text, trying
from coper.page.visit import Address, Reply, Visit, changed_fields, kept
from coper.page.visits import points

KEY = "measure"


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The station as a page; what is tried stands behind the question mark of its address.

    Of a frame that is no bicycle it is all about its points.
    """
    if "bicycle" not in tables_in(visit.text):
        return points.show(visit, change)
    return _shown(visit, change)


def change(visit: Visit) -> Reply:
    """Fields that were changed, written as far as they can be."""
    typed = changed_fields(visit, FIELDS)
    return kept(visit, typed, lambda: changed(visit.text, typed, visit.form.get("first", "")), show,
                visit.address(KEY) + visit.search)


def rooms(visit: Visit) -> Reply:
    """The same, with the tyres' room measured, which takes long."""
    return _shown(visit, None, with_rooms=True)


def keep(visit: Visit) -> Reply:
    """What is tried, written into the file."""
    typed = {name: visit.form.get(name, "") for name in TRIED}

    def show_tried(visit: Visit, tried: Change | None) -> Reply:
        return _shown(replace(visit, query={}), None, tried)

    return kept(visit, typed, lambda: kept_text(visit.text, typed), show_tried, visit.address(KEY))


def _shown(
    visit: Visit, change: Change | None, tried: Change | None = None, with_rooms: bool = False
) -> Reply:
    typed: Mapping[str, str] = {name: visit.asked(name) for name in TRIED}
    if tried is not None:
        typed = tried.typed
    column = trying(visit.text, visit.job.path.name, typed,
                    () if tried is None else tried.faults, with_rooms)
    page = measuring(visit.text, change, column.after)
    return visit.page("measure.html", KEY, page=page, title=page.title, tried=column,
                      points=points_shown(visit.text))


ADDRESSES = (Address(KEY, show, change), Address("what-if/room", rooms),
             Address("what-if/keep", post=keep), *points.ADDRESSES)
