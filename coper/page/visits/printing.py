"""The station Print: paper and printer changed, the packet or its sheets made as one PDF."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from coper.errors import FileError
from coper.page.answers.change import Change
from coper.page.answers.printing import (
    SETTINGS,
    Wanted,
    is_laid_out,
    laid_out,
    packet_pdf,
    printing,
    set_up,
    sheets,
)
from coper.page.answers.settings import names
from coper.page.making import Make, Making, Say
from coper.page.visit import Address, Reply, Visit, changed_fields, kept

KEY = "print"
PDF = "application/pdf"

TICK = "sheet."
"""What the name of a sheet's box begins with; its number follows."""

OTHER = ("Other sheets of this job are being made, for another window: wait for them, or cancel "
         "them.")

CHANGED = ("Another window or program changed the file since the sheets were listed: these "
           "are those of the file now.")


def show(visit: Visit, change: Change | None = None) -> Reply:
    """The station as a page, its sheets where they are known."""
    text, file = visit.text, visit.job.path.name
    settings = printing(text, change)
    return visit.page(
        "print.html", KEY, page=settings, title=settings.title,
        sheets=sheets(text, file) if is_laid_out(text, file) else (),
        making=_making(visit), ticked=visit.asked("tick") != "none")


def change(visit: Visit) -> Reply:
    """Another paper or printer, written as far as it can be."""
    typed = changed_fields(visit, names(SETTINGS))
    return kept(visit, typed, lambda: set_up(visit.text, typed), show, visit.address(KEY))


def make(visit: Visit) -> Reply:
    """Begin to make what was ticked, or all of the packet."""
    text, file = visit.text, visit.job.path.name
    ticked = _numbers(name.removeprefix(TICK) for name in visit.form if name.startswith(TICK))
    if "listed" in visit.form and visit.overtaken:
        return show(visit.saying(CHANGED, status=409))
    if "listed" in visit.form and not ticked:
        return show(visit.saying("No sheet is ticked: tick one.", status=422))
    return _begun(visit, Wanted(text, ticked), partial(packet_pdf, text, file, ticked))


def lay(visit: Visit) -> Reply:
    """Begin to lay out the sheets, so that they can be ticked."""
    text, file = visit.text, visit.job.path.name

    def laid(say: Say) -> bytes:
        laid_out(text, file, say)
        return b""

    return _begun(visit, Wanted(text, frozenset(), drawn=False), laid)


def _begun(visit: Visit, wanted: Wanted, make: Make) -> Reply:
    """Begin to make something; not where something else is, for another window."""
    now = visit.makings.of(visit.job.path)
    if now is not None and not now.ended and now.wanted != wanted and _is_current(visit, now):
        return show(visit.saying(OTHER, status=409))
    visit.makings.begin(visit.job.path, wanted, make)
    return Reply(status=303, to=visit.address(KEY) + visit.search)


def making(visit: Visit) -> Reply:
    """How far it is."""
    return visit.page("making.html", KEY, making=_making(visit))


def stop(visit: Visit) -> Reply:
    """Make no more of it."""
    visit.makings.stop(visit.job.path)
    return Reply(status=303, to=visit.address(KEY) + visit.search)


def made(visit: Visit) -> Reply:
    """What was made."""
    found = _making(visit)
    if found is None or not found.made:
        raise FileError("no packet of the job as it is now is ready", "make it first")
    return _file(visit, found.made)


def packet(visit: Visit) -> Reply:
    """The packet, or some sheets of it, as one PDF at once."""
    numbers = _numbers(visit.query.get("sheet", ()))
    with visit.drawing:
        content = packet_pdf(visit.text, visit.job.path.name, numbers)
    return _file(visit, content)


def _making(visit: Visit) -> Making | None:
    """What is being made or was, of the job as it is now."""
    found = visit.makings.of(visit.job.path)
    return found if found is not None and _is_current(visit, found) else None


def _is_current(visit: Visit, making: Making) -> bool:
    return isinstance(making.wanted, Wanted) and making.wanted.text == visit.text


def _numbers(typed: Iterable[str]) -> frozenset[int]:
    """The numbers of sheets."""
    words = set(typed)
    numbers = {int(one) for one in words if one.isascii() and one.isdigit() and len(one) < 6}
    if len(numbers) < len(words):
        raise FileError("the packet has no such sheet", "tick those of its list")
    return frozenset(numbers)


def _file(visit: Visit, content: bytes) -> Reply:
    return Reply(content, kind=PDF, file=f"{visit.name}.pdf")


ADDRESSES = (Address(KEY, show, change), Address("print/make", post=make),
             Address("print/lay", post=lay),
             Address("print/making", making), Address("print/stop", post=stop),
             Address("print/made.pdf", made), Address("print/packet.pdf", packet))
