"""The station Print: paper and printer changed, the packet or its sheets as one PDF."""

from __future__ import annotations

from coper.errors import FileError
from coper.page.answers.change import Change
from coper.page.answers.printing import KEYS, packet_pdf, printing, set_up, sheets
from coper.page.visit import Address, Reply, Visit, changed_fields, kept

KEY = "print"


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The station as a page."""
    settings = printing(visit.text, change)
    return visit.page("print.html", KEY, page=settings, title=settings.title)


def change(visit: Visit) -> Reply:
    """Another paper or printer, written as far as it can be."""
    typed = changed_fields(visit, KEYS)
    return kept(visit, typed, lambda: set_up(visit.text, typed), show, visit.address(KEY))


def listed(visit: Visit) -> Reply:
    """The sheets of the packet, to be ticked."""
    with visit.drawing:
        found, wrong = sheets(visit.text, visit.job.path.name)
    return visit.page("sheets.html", KEY, title=visit.name, sheets=found, wrong=wrong)


def packet(visit: Visit) -> Reply:
    """The packet, or the sheets of it that were ticked, as one PDF."""
    chosen = visit.query.get("sheet", ())
    numbers = {int(one) for one in chosen if one.isascii() and one.isdigit() and len(one) < 6}
    if len(numbers) < len(set(chosen)):
        raise FileError("the packet has no such sheet", "tick those of its list")
    with visit.drawing:
        content = packet_pdf(visit.text, visit.job.path.name, numbers)
    return Reply(content, kind="application/pdf", file=f"{visit.name}.pdf")


ADDRESSES = (Address(KEY, show, change), Address("print/sheets", listed),
             Address("print/packet.pdf", packet))
