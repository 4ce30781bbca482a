"""The station Bench: the ends, and the card of each with its ticks and rounds of readings."""

from __future__ import annotations

from coper.errors import CoperError
from coper.page.answers.bench import answered, card, ends
from coper.page.answers.change import every_fault
from coper.page.answers.named import end_name, seated_end
from coper.page.answers.words import Block, blocks
from coper.page.visit import OVERTAKEN, Address, Form, Reply, Visit
from coper.page.visits.named import end_parts

KEY = "bench"


def show(visit: Visit) -> Reply:
    """The list of ends."""
    book = visit.job.bench()
    found, wrong = ends(visit.text, book.rounds, book.ticks)
    return visit.page("bench.html", KEY, title=visit.name, ends=found, wrong=wrong)


def look(visit: Visit) -> Reply:
    """The card of one end."""
    return _card(visit, {})


def change(visit: Visit) -> Reply:
    """A step that was ticked, or a round of readings answered."""
    form, name = visit.form, end_parts(visit)
    end = seated_end(visit.text, *name)
    if visit.overtaken:
        return _card(visit.saying(OVERTAKEN, status=409), form)
    if "step" in form:
        visit.job.tick(end_name(end), form["step"], bool(form.get("done")), visit.text)
        return Reply(status=303, to=visit.address(KEY, *name))
    try:
        answer = answered(end, form, str(visit.job.path))
    except CoperError as error:
        return _card(visit.saying(status=422), form, wrong=every_fault(error))
    kept = answer.keep()
    lines = [*answer.lines(), *(() if kept is None else kept.lines)]
    return _card(visit, form, said=blocks(lines))


def _card(
    visit: Visit, typed: Form, wrong: tuple[str, ...] = (), said: tuple[Block, ...] = ()
) -> Reply:
    parts = end_parts(visit)
    end = seated_end(visit.text, *parts)
    book = visit.job.bench(end_name(end))
    return visit.saying(*book.notes, status=visit.status).page(
        "card.html", KEY, title=visit.name, parts=parts, wrong=wrong, blocks=said,
        card=card(end, book.rounds, book.ticks, typed))


ADDRESSES = (Address(KEY, show), Address("bench/{tube}/{side}/{end}", look, change))
