"""The station Bench: the ends, and the card of each with its ticks and rounds of readings."""

from __future__ import annotations

from coper.book.place import book_path
from coper.errors import CoperError, FileError
from coper.job.named_end import JobEnd
from coper.page.answers.bench import card, cut_of
from coper.page.answers.bench_answer import Unkept, answered, unkept_answer
from coper.page.answers.bench_list import ends, parts
from coper.page.answers.bench_round import CUT
from coper.page.answers.change import every_fault
from coper.page.answers.named import end_name, seated_end
from coper.page.visit import OVERTAKEN, Address, Form, Reply, Visit
from coper.page.visits.named import end_parts

KEY = "bench"

SHOW = "show"
"""The button that shows the gaps to expect of another cut; a changed field does so by itself."""


def show(visit: Visit) -> Reply:
    """The list of ends."""
    book = visit.job.bench()
    found, wrong = ends(visit.text, book.rounds, book.ticks)
    return visit.saying(*book.notes).page(
        "bench.html", KEY, ends=found, wrong=wrong)


def look(visit: Visit) -> Reply:
    """The card of one end."""
    return _card(visit, {})


def change(visit: Visit) -> Reply:
    """A step that was ticked, another cut, or a round of readings answered."""
    form, name = visit.form, end_parts(visit)
    end = seated_end(visit.text, *name)
    if visit.overtaken:
        return _card(visit.saying(OVERTAKEN, status=409), form)
    if "step" in form:
        return _ticked(visit, end)
    if SHOW in form or form.get("first") == CUT:
        return _card(visit, form)
    return _round(visit, end)


def _ticked(visit: Visit, end: JobEnd) -> Reply:
    form = visit.form
    try:
        visit.job.tick(end_name(end), form["step"], bool(form.get("done")), visit.text)
    except FileError as error:
        return _card(visit.saying(f"Not kept: {error}", status=507), {})
    return _to_card(visit)


def _round(visit: Visit, end: JobEnd) -> Reply:
    """A round answered and kept; or answered all the same, and why it is not kept."""
    form = visit.form
    try:
        cut = form.get(CUT) or cut_of(end, None, {})
        answer = answered(end, form, str(visit.job.path), cut)
    except CoperError as error:
        return _card(visit.saying(status=422), form, wrong=every_fault(error))
    kept = answer.keep()
    assert kept is not None
    if kept.record["kept"]:
        notes = kept.record["notes"]
        return _card(visit.saying(*notes, status=201), {}) if notes else _to_card(visit)
    unkept = unkept_answer(end, answer, form, kept.lines)
    notes = [f"Not kept: {one}" for one in kept.record["notes"]]
    return _card(visit.saying(*notes, status=507), form, unkept=unkept)


def _to_card(visit: Visit) -> Reply:
    return Reply(status=303, to=visit.address(KEY, *end_parts(visit)))


def _card(
    visit: Visit, typed: Form, wrong: tuple[str, ...] = (), unkept: Unkept | None = None
) -> Reply:
    name = end_parts(visit)
    end = seated_end(visit.text, *name)
    book = visit.job.bench(end_name(end))
    shown = card(end, book.rounds, book.ticks, typed, book_path(visit.job.path).name, unkept)
    return visit.saying(*book.notes, status=visit.status).page(
        "card.html", KEY, parts=name, wrong=wrong, card=shown,
        beside=[(way, one.words, parts(one)) for way, one in (
            ("Before", shown.before), ("Next", shown.after)) if one is not None])


ADDRESSES = (Address(KEY, show), Address("bench/{tube}/{side}/{end}", look, change))
