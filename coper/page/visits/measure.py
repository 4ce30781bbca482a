"""The station Measure: looked at, and its fields changed."""

from __future__ import annotations

from coper.page.answers.change import Change
from coper.page.answers.fields import FIELDS
from coper.page.answers.measure import changed, measuring
from coper.page.visit import Address, Reply, Visit, changed_fields, kept

KEY = "measure"


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The station as a page."""
    page = measuring(visit.text, change)
    return visit.page("measure.html", KEY, page=page, title=page.title)


def change(visit: Visit) -> Reply:
    """Fields that were changed, written as far as they can be."""
    typed = changed_fields(visit, FIELDS)
    return kept(visit, typed, lambda: changed(visit.text, typed, visit.form.get("first", "")), show,
                visit.address(KEY))


ADDRESSES = (Address(KEY, show, change),)
