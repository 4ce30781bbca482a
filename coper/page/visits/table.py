"""The station Table: looked at, its fields changed, and the layout at full size."""

from __future__ import annotations

from coper.page.answers.change import Change
from coper.page.answers.settings import names
from coper.page.answers.table import SETTINGS, changed, full_size, full_size_pdf, on_table
from coper.page.visit import Address, Reply, Visit, changed_fields, kept

KEY = "table"


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The station as a page."""
    page = on_table(visit.text, visit.address("tubes"), change)
    return visit.page("table.html", KEY, page=page, title=page.title)


def change(visit: Visit) -> Reply:
    """Fields that were changed, written as far as they can be."""
    typed = changed_fields(visit, names(SETTINGS))
    return kept(visit, typed, lambda: changed(visit.text, typed), show, visit.address(KEY))


def counted(visit: Visit) -> Reply:
    """What the layout at full size takes."""
    with visit.drawing:
        found = full_size(visit.text, visit.asked("paper"))
    return visit.saying(status=422 if found.wrong else 200).page(
        "full_size.html", KEY, page=found, title=found.title)


def sheets(visit: Visit) -> Reply:
    """The layout at full size as one PDF."""
    with visit.drawing:
        content = full_size_pdf(visit.text, visit.asked("paper"))
    return Reply(content, kind="application/pdf", file=f"{visit.name}-table.pdf")


ADDRESSES = (Address(KEY, show, change), Address("table/full-size", counted),
             Address("table/full-size.pdf", sheets))
