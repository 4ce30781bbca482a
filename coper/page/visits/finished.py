"""The station Check: whether the frame is straight, and what came out."""

from __future__ import annotations

from coper.errors import CoperError, FileError
from coper.page.answers.change import every_fault
from coper.page.answers.made import FIELDS, made_answer, made_page
from coper.page.answers.tracking import NAMES, log_pdf, tracked
from coper.page.answers.words import Block, blocks
from coper.page.visit import OVERTAKEN, Address, Form, Reply, Visit

KEY = "check"
TRACKING, MADE = "tracking", "made"


def show(visit: Visit) -> Reply:
    """One of the two, with nothing read or measured yet."""
    return _tracking(visit, {}) if _what(visit) == TRACKING else _made(visit, {})


def answer(visit: Visit) -> Reply:
    """What follows from what was read or measured."""
    what = _what(visit)
    typed = {name: visit.form.get(name, "") for name in (NAMES if what == TRACKING else FIELDS)}
    if visit.overtaken:
        visit = visit.saying(OVERTAKEN, status=409)
        return _tracking(visit, typed) if what == TRACKING else _made(visit, typed)
    return _tracking(visit, typed) if what == TRACKING else _came_out(visit, typed)


def log(visit: Visit) -> Reply:
    """The log of tracking to take to the frame."""
    with visit.drawing:
        content = log_pdf(visit.text, visit.job.path.name)
    return Reply(content, kind="application/pdf", file=f"{visit.name}-tracking.pdf")


def _what(visit: Visit) -> str:
    """Which of the two; refused where it is neither."""
    what = visit.parts["what"]
    if what not in (TRACKING, MADE):
        raise FileError("there is no such check", "choose one of the three")
    return what


def _tracking(visit: Visit, typed: Form) -> Reply:
    page = tracked(visit.text, typed)
    status = 422 if typed and page.refused else visit.status
    return visit.saying(status=status).page("tracking.html", KEY, page=page, title=page.title,
                                            place=TRACKING)


def _came_out(visit: Visit, typed: Form) -> Reply:
    """The answer, kept in the book."""
    try:
        found = made_answer(visit.text, typed, str(visit.job.path))
        lines = [*found.lines()]
    except CoperError as error:
        return _made(visit.saying(status=422), typed, wrong=every_fault(error))
    kept = found.keep()
    return _made(visit, typed, blocks([*lines, *(() if kept is None else kept.lines)]))


def _made(
    visit: Visit, typed: Form, said: tuple[Block, ...] = (), wrong: tuple[str, ...] = ()
) -> Reply:
    book = visit.job.made()
    page = made_page(visit.text, book.made, typed, said, wrong)
    return visit.saying(*book.notes, status=visit.status).page(
        "made.html", KEY, page=page, title=page.title, place=MADE)


ADDRESSES = (Address("check/{what}", show, answer), Address("check/tracking/log.pdf", log))
